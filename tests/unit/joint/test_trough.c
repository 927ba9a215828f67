#include "support/close.h"

#include "joint/trough.h"

#define PI 3.14159265358979323846

/* Exact geometry derived for this project; sampled solids agree to 0.3 %. */

static void
concentric_trough_of_the_example(void **state)
{
    double play;

    (void)state;
    /* R 0.5, bolt 3/8, cutter 13/32, offset 0.5875 in */
    assert_close(trough_intrusion_m(0.5, 0.1875, 0.5875), 0.1, 1e-12);
    assert_true(trough_axial_play_m(0.5, 0.1875, 0.5875, 0.203125, 0.115625, &play));
    assert_close(play, 0.01748137768, 1e-8);
    assert_close(trough_rotational_play_rad(0.5, 0.115625, 0.1), 2.888330091 * PI / 180.0, 1e-8);
    assert_close(trough_mouth_m(0.5, 0.203125, 0.115625), 0.3666252344, 1e-8);
}

static void
trough_cut_deeper_than_the_bolt_needs(void **state)
{
    double play;

    (void)state;
    assert_true(trough_axial_play_m(0.5, 0.1875, 0.56, 0.22, 0.145, &play));
    assert_close(play, 0.02883140649, 1e-8);
    assert_close(trough_rotational_play_rad(0.5, 0.145, trough_intrusion_m(0.5, 0.1875, 0.56)), 2.9241836 * PI / 180.0, 1e-7);
}

/* The least of trough half width less bolt half width, height by height. */
static double
play_by_scan(double pin, double bolt, double offset, double cutter, double depth)
{
    const double axis = pin + cutter - depth;
    const double low = fmax(axis - cutter, offset - bolt), high = fmin(pin, offset + bolt);
    double least = HUGE_VAL;

    for (int i = 0; i <= 20000; i++) {
        const double y = low + (high - low) * i / 20000.0;
        const double wall = y >= axis ? cutter : sqrt(fmax(0.0, cutter * cutter - (y - axis) * (y - axis)));

        least = fmin(least, wall - sqrt(fmax(0.0, bolt * bolt - (y - offset) * (y - offset))));
    }
    return least;
}

static void
play_is_the_least_over_every_height(void **state)
{
    (void)state;
    for (int i = 0; i < 200; i++) {
        const double bolt = 0.06 + 0.02 * (i % 11), cutter = bolt * (1.02 + 0.06 * (i % 7));
        const double intrusion = 0.01 + 0.04 * (i % 9), depth = intrusion + 0.002 + 0.015 * (i % 5);
        const double offset = 0.5 - intrusion + bolt;
        double play;

        if (trough_axial_play_m(0.5, bolt, offset, cutter, depth, &play)) {
            assert_close_or(play, play_by_scan(0.5, bolt, offset, cutter, depth), 0.0, 2e-6);
        } else {
            assert_true(play_by_scan(0.5, bolt, offset, cutter, depth) < 2e-6);
        }
    }
}

static void
no_play_is_told_where_they_cannot_meet_or_overlap(void **state)
{
    double play = -1.0;

    (void)state;
    assert_false(trough_axial_play_m(0.5, 0.1, 0.61, 0.12, 0.1, &play));  /* bolt misses the pin */
    assert_false(trough_axial_play_m(0.5, 0.1, 0.5, 0.12, 0.05, &play));  /* bolt in the floor */
    assert_false(trough_axial_play_m(0.5, 0.1, 0.55, 0.1, 0.1, &play));   /* cutter no wider than bolt */
    assert_true(play == -1.0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(concentric_trough_of_the_example),
        cmocka_unit_test(trough_cut_deeper_than_the_bolt_needs),
        cmocka_unit_test(play_is_the_least_over_every_height),
        cmocka_unit_test(no_play_is_told_where_they_cannot_meet_or_overlap),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
