#include "support/close.h"

#include <string.h>

#include "joint/machining.h"
#include "joint/turn_formula.h"

#define PI 3.14159265358979323846

static const double inch_m = 0.0254;
static const double ft_min_m_s = 0.3048 / 60.0;
static const double rpm_rad_s = 2.0 * PI / 60.0;

/* Speed in ft/min of a steel of the table; 0 where there is none. */
static double
speed_ft_min(const char *id, enum choice_tool tool, double depth_in)
{
    struct machining machining = {0};
    bool by_grade;
    const struct steel *steel = steel_find(id, &by_grade);

    assert_non_null(steel);
    return machining_find(steel, tool, depth_in * inch_m, &machining) ? machining.speed_m_s / ft_min_m_s : 0.0;
}

/* A steel by figures of the client's own; HB 0: by its tensile strength. */
static struct steel
own_steel(double tensile_MPa, double hardness_HB)
{
    struct steel own = {.id = "certificate", .grade = "certificate", .condition = "", .basis = BASIS_CERTIFICATE};

    own.tensile = (struct figure){.given = true, .si = tensile_MPa * 1e6, .si_high = tensile_MPa * 1e6};
    own.hardness_hb = (struct figure){.given = hardness_HB > 0.0, .si = hardness_HB, .si_high = hardness_HB};
    return own;
}

/* Ferrous Metals Data Book, tables 9-1 to 9-6, read: ft/min at 0.040 in, in
 * high-speed steel and coated carbide. */
static void
speeds_are_those_printed(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double hss, carbide;
    } printed[] = {
        {"1018-cd", 150, 950},    {"1018-hr", 150, 950},     {"1020-cd", 150, 950},  {"1045-cd", 130, 785},
        {"1045-hr", 140, 925},    {"1117-cd", 210, 1225},    {"1137-cd", 170, 1000}, {"1141-cd", 170, 1000},
        {"1144-cd", 170, 1000},   {"1215-cd", 300, 1350},    {"4130-ann", 135, 650}, {"4140-ann", 135, 650},
        {"4140-bb", 115, 600},    {"4140-bc", 90, 575},      {"4340-ann", 135, 650}, {"8620-norm", 135, 725},
        {"4130-qt1000", 90, 575}, {"1144-a311b", 170, 1000},
    };

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        assert_close(speed_ft_min(printed[i].id, CHOICE_tool_HSS, 0.040), printed[i].hss, 1e-9);
        assert_close(speed_ft_min(printed[i].id, CHOICE_tool_CARBIDE, 0.040), printed[i].carbide, 1e-9);
    }
}

/* Small-lathe table and military technical order, read, low ends of ranges;
 * 17-4PH and 52100 of a general handbook, from memory. */
static void
steels_outside_the_data_book_have_speeds_of_their_own(void **state)
{
    (void)state;
    assert_close(speed_ft_min("o1-ann", CHOICE_tool_HSS, 0.030), 125.0, 1e-9);
    assert_close(speed_ft_min("416-ann", CHOICE_tool_HSS, 0.030), 75.0, 1e-9);
    assert_close(speed_ft_min("416-ann", CHOICE_tool_HSS, 0.100), 30.0, 1e-9);
    assert_close(speed_ft_min("17-4-h1025", CHOICE_tool_HSS, 0.030), 50.0, 1e-9);
    assert_close(speed_ft_min("52100-ann", CHOICE_tool_CARBIDE, 0.030), 350.0, 1e-9);
}

/* Data book, table 9-1, 1144 of 175 to 225 HB: 170 ft/min; 1.25 in bar then
 * turns 519.48 rev/min (n = 12 V/pi D). */
static void
speed_of_1144_turns_the_bar_at_519_rpm(void **state)
{
    (void)state;
    const double speed_m_s = speed_ft_min("1144-cd", CHOICE_tool_HSS, 0.040) * ft_min_m_s;

    assert_close(turn_spindle_rad_s(speed_m_s, 1.25 * inch_m) / rpm_rad_s, 519.4817, 1e-6);
}

/* Data book, table 9-3, 1045 of 175 to 225 HB: 130, 100, 85 ft/min. */
static void
deeper_cuts_take_the_next_deeper_column(void **state)
{
    (void)state;
    assert_close(speed_ft_min("1045-cd", CHOICE_tool_HSS, 0.001), 130.0, 1e-9);
    assert_close(speed_ft_min("1045-cd", CHOICE_tool_HSS, 0.041), 100.0, 1e-9);
    assert_close(speed_ft_min("1045-cd", CHOICE_tool_HSS, 0.150), 100.0, 1e-9);
    assert_close(speed_ft_min("1045-cd", CHOICE_tool_HSS, 0.151), 85.0, 1e-9);
    assert_close(speed_ft_min("1045-cd", CHOICE_tool_HSS, 0.700), 85.0, 1e-9);
}

/* Rejected and absent cells: O1 is printed at 0.040 in only. */
static void
an_empty_cell_gives_way_to_one_that_is_printed(void **state)
{
    (void)state;
    assert_close(speed_ft_min("o1-ann", CHOICE_tool_HSS, 0.200), 125.0, 1e-9);
    assert_close(speed_ft_min("416-ann", CHOICE_tool_CARBIDE, 0.300), 225.0, 1e-9);
}

static void
deeper_never_means_faster(void **state)
{
    (void)state;
    size_t count;
    const struct steel *steels = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        double before = 1e9;
        for (double depth_in = 0.01; depth_in < 0.5; depth_in += 0.01) {
            const double speed = speed_ft_min(steels[i].id, CHOICE_tool_HSS, depth_in);
            assert_true(speed <= before);
            before = speed;
        }
    }
}

static void
every_steel_of_the_table_has_a_speed_with_either_tool(void **state)
{
    (void)state;
    size_t count;
    const struct steel *steels = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        const double hss = speed_ft_min(steels[i].id, CHOICE_tool_HSS, 0.030);
        const double carbide = speed_ft_min(steels[i].id, CHOICE_tool_CARBIDE, 0.030);

        if (hss < 30.0 || hss > 300.0 || carbide < 3.0 * hss || carbide > 10.0 * hss) {
            fail_msg("%s: %g and %g ft/min", steels[i].id, hss, carbide);
        }
    }
}

/* Every grade has a family of its own in machining.def: none of the table falls
 * back on alloy steel, which is for steels that are not in it. */
static void
only_alloy_grades_are_taken_as_alloy_steel(void **state)
{
    (void)state;
    size_t count;
    const struct steel *steels = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        struct machining machining = {0};
        const bool alloy = strcmp(steels[i].grade, "4130") == 0 || strcmp(steels[i].grade, "4140") == 0 ||
                           strcmp(steels[i].grade, "4340") == 0;

        assert_true(machining_find(&steels[i], CHOICE_tool_HSS, 0.0, &machining));
        assert_int_equal(machining.row->family == MACHINING_ALLOY, alloy);
    }
}

/* Case hardened and through hardened pins are turned before: 8620 as the soft
 * bar of table 9-5, O1 as annealed. */
static void
hardened_steel_is_turned_soft(void **state)
{
    (void)state;
    static const char *const hard[] = {"8620-carb", "1018-carb", "1117-carb", "o1-hard", "w1-hard", "52100-hard"};
    static const double soft_ft_min[] = {135.0, 150.0, 210.0, 125.0, 120.0, 70.0};

    for (size_t i = 0; i < sizeof hard / sizeof hard[0]; i++) {
        struct machining machining = {0};
        bool by_grade;

        assert_true(machining_find(steel_find(hard[i], &by_grade), CHOICE_tool_HSS, 0.0, &machining));
        assert_true(machining.before_hardening);
        assert_close(machining.speed_m_s / ft_min_m_s, soft_ft_min[i], 1e-9);
    }
}

static void
quenched_and_tempered_bar_is_turned_as_it_is(void **state)
{
    (void)state;
    struct machining machining = {0};
    bool by_grade;

    assert_true(machining_find(steel_find("4140-bd", &by_grade), CHOICE_tool_HSS, 0.0, &machining));
    assert_false(machining.before_hardening);
    assert_true(machining.speed_m_s < 90.0 * ft_min_m_s); /* slower than the hardest band printed */
}

/* Data book, table 9-6, alloy steel: 135, 115, 90 ft/min for bands from 175
 * HB; below, the softest band. */
static void
own_steel_is_taken_as_alloy_of_its_hardness(void **state)
{
    (void)state;
    static const double hardness_HB[] = {120.0, 200.0, 225.0, 226.0, 300.0, 325.0};
    static const double expected[] = {135.0, 135.0, 135.0, 115.0, 90.0, 90.0};

    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        const struct steel own = own_steel(700.0, hardness_HB[i]);
        struct machining machining = {0};

        assert_true(machining_find(&own, CHOICE_tool_HSS, 0.0, &machining));
        assert_close(machining.speed_m_s / ft_min_m_s, expected[i], 1e-9);
    }
}

/* HB = tensile / 3.45 MPa: 850 MPa is 246 HB, the band of 115 ft/min. */
static void
own_steel_without_hardness_goes_by_its_strength(void **state)
{
    (void)state;
    const struct steel own = own_steel(850.0, 0.0);
    struct machining machining = {0};

    assert_true(machining_find(&own, CHOICE_tool_HSS, 0.0, &machining));
    assert_close(machining.speed_m_s / ft_min_m_s, 115.0, 1e-9);
}

static void
nothing_to_go_by_gives_no_speed(void **state)
{
    (void)state;
    struct steel own = own_steel(850.0, 0.0);
    struct machining machining;

    own.tensile.given = false;
    assert_false(machining_find(&own, CHOICE_tool_HSS, 0.0, &machining));
}

static void
rows_are_in_order_and_their_figures_plausible(void **state)
{
    (void)state;
    size_t count;
    const struct machining_row *rows = machining_table(&count);
    bool family[MACHINING_FAMILY_COUNT] = {false};

    for (size_t i = 0; i < count; i++) {
        const struct machining_row *row = &rows[i];

        assert_true(row->from_HB > 100.0 && row->from_HB < row->to_HB && row->to_HB <= MACHINING_HARDEST_HB);
        assert_true(row->hss_m_s[0] > 0.0 && row->carbide_m_s[0] > 2.0 * row->hss_m_s[0]);
        assert_non_null(source_find(row->source));
        if (row->provenance == PROVENANCE_READ) {
            assert_int_equal(source_find(row->source)->provenance, PROVENANCE_READ);
        }
        if (i > 0 && rows[i - 1].family == row->family) {
            assert_true(row->from_HB >= rows[i - 1].to_HB);
            assert_true(row->hss_m_s[0] < rows[i - 1].hss_m_s[0]);
            assert_true(row->carbide_m_s[0] < rows[i - 1].carbide_m_s[0]);
        } else {
            assert_false(family[row->family]); /* rows of a family stand together */
            family[row->family] = true;
        }
    }
    for (int i = 0; i < MACHINING_FAMILY_COUNT; i++) {
        assert_true(family[i]);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(speeds_are_those_printed),
        cmocka_unit_test(steels_outside_the_data_book_have_speeds_of_their_own),
        cmocka_unit_test(speed_of_1144_turns_the_bar_at_519_rpm),
        cmocka_unit_test(deeper_cuts_take_the_next_deeper_column),
        cmocka_unit_test(an_empty_cell_gives_way_to_one_that_is_printed),
        cmocka_unit_test(deeper_never_means_faster),
        cmocka_unit_test(every_steel_of_the_table_has_a_speed_with_either_tool),
        cmocka_unit_test(only_alloy_grades_are_taken_as_alloy_steel),
        cmocka_unit_test(hardened_steel_is_turned_soft),
        cmocka_unit_test(quenched_and_tempered_bar_is_turned_as_it_is),
        cmocka_unit_test(own_steel_is_taken_as_alloy_of_its_hardness),
        cmocka_unit_test(own_steel_without_hardness_goes_by_its_strength),
        cmocka_unit_test(nothing_to_go_by_gives_no_speed),
        cmocka_unit_test(rows_are_in_order_and_their_figures_plausible),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
