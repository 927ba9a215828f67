#include "support/close.h"

#include "joint/section.h"

/* Section of a round cut by a chord; table and quadrature derived for this
 * project (quadrature agrees to 1e-7). */

#define PI 3.14159265358979323846

static void
cut_round_matches_the_table(void **state)
{
    /* h/D, A/D2, shift/D, I/D4, Z floor/D3, Z far/D3, I side/D4 */
    static const double table[][7] = {
        {0.020, 0.781650, 0.002340, 0.048190, 0.099909, 0.096834, 0.049073},
        {0.050, 0.770717, 0.008955, 0.045779, 0.099746, 0.093227, 0.048946},
        {0.100, 0.744523, 0.024177, 0.040698, 0.095945, 0.085531, 0.048333},
        {0.150, 0.711523, 0.042656, 0.035208, 0.089667, 0.076985, 0.047126},
        {0.300, 0.587230, 0.109252, 0.020069, 0.064896, 0.051361, 0.039910},
    };

    (void)state;
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        struct cut_section section;

        cut_section_of(1.0, 0.0, table[i][0], &section);
        assert_close_or(section.area_m2, table[i][1], 0.0, 6e-7);
        assert_close_or(section.shift_m, table[i][2], 0.0, 6e-7);
        assert_close_or(section.second_moment_m4, table[i][3], 0.0, 6e-7);
        assert_close_or(section.modulus_floor_m3, table[i][4], 0.0, 6e-7);
        assert_close_or(section.modulus_far_m3, table[i][5], 0.0, 6e-7);
        assert_close_or(section.second_moment_side_m4, table[i][6], 0.0, 6e-7);
    }
}

/* The same by brute force: thin strips across the section. */
static void
by_strips(double outside, double inside, double depth, double out[4])
{
    const double radius = outside / 2.0, bore = inside / 2.0, floor = radius - depth;
    const int strips = 400000;
    double area = 0.0, first = 0.0, second = 0.0, side = 0.0;

    for (int i = 0; i < strips; i++) {
        const double y = -radius + (floor + radius) * (i + 0.5) / strips, dy = (floor + radius) / strips;
        const double x = sqrt(radius * radius - y * y), hole = fabs(y) < bore ? sqrt(bore * bore - y * y) : 0.0;

        area += 2.0 * (x - hole) * dy;
        first += 2.0 * (x - hole) * y * dy;
        second += 2.0 * (x - hole) * y * y * dy;
        side += 2.0 / 3.0 * (x * x * x - hole * hole * hole) * dy;
    }
    out[0] = area;
    out[1] = -first / area;
    out[2] = second - first * first / area;
    out[3] = side;
}

static void
cut_hollow_round_matches_strips(void **state)
{
    static const double cases[][3] = {{1.0, 0.5, 0.12}, {1.0, 0.67, 0.10}, {1.25, 0.3, 0.4}, {1.0, 0.6, 0.35}, {1.0, 0.0, 0.7}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct cut_section section;
        double strips[4];

        cut_section_of(cases[i][0], cases[i][1], cases[i][2], &section);
        by_strips(cases[i][0], cases[i][1], cases[i][2], strips);
        assert_close(section.area_m2, strips[0], 1e-6);
        assert_close(section.shift_m, strips[1], 1e-5);
        assert_close(section.second_moment_m4, strips[2], 1e-5);
        assert_close(section.second_moment_side_m4, strips[3], 1e-6);
    }
}

static void
no_slot_leaves_the_whole_round(void **state)
{
    struct cut_section section;

    (void)state;
    cut_section_of(2.0, 1.0, 0.0, &section);
    assert_close(section.area_m2, round_area_m2(2.0, 1.0), 1e-12);
    assert_close(section.second_moment_m4, round_second_moment_m4(2.0, 1.0), 1e-12);
    assert_close_or(section.shift_m, 0.0, 0.0, 1e-12);
    assert_close(section.modulus_floor_m3, round_modulus_m3(2.0, 1.0), 1e-12);
}

static void
round_sections_are_the_handbook_ones(void **state)
{
    (void)state;
    assert_close(round_area_m2(1.0, 0.0), PI / 4.0, 1e-14);
    assert_close(round_modulus_m3(1.0, 0.0), PI / 32.0, 1e-14);
    /* Khurmi and Gupta sec. 32.13: 35/21 mm pin, Z = 3663.725 mm3 */
    assert_close(round_modulus_m3(35.0, 21.0), 3663.725353, 1e-9);
}

static void
segments_and_chords(void **state)
{
    (void)state;
    /* circle geometry: D 1.25, depth 0.1875: chord 0.89267855, area 0.11542923 */
    assert_close(segment_area_m2(0.625, 0.1875), 0.11542923444771253, 1e-12);
    assert_close(2.0 * segment_half_chord_m(0.625, 0.1875), 0.8926785535678563, 1e-12);
    assert_close(segment_area_m2(1.0, 1.0), PI / 2.0, 1e-12);
    assert_close(segment_area_m2(1.0, 3.0), PI, 1e-12);
    assert_true(segment_area_m2(1.0, -0.1) == 0.0);
    assert_true(segment_half_chord_m(1.0, 2.5) == 0.0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cut_round_matches_the_table),
        cmocka_unit_test(cut_hollow_round_matches_strips),
        cmocka_unit_test(no_slot_leaves_the_whole_round),
        cmocka_unit_test(round_sections_are_the_handbook_ones),
        cmocka_unit_test(segments_and_chords),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
