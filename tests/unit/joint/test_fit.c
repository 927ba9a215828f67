#include "support/close.h"

#include <string.h>

#include "joint/fit.h"

/* Deviations are whole or half micrometres: they must come back exactly but
 * for the rounding of a size in m. */
static const double ROUNDING_m = 1e-12;

static struct limits
limits_of(double nominal_m, const char *class_name, enum fit_side side)
{
    struct limits limits = {0};

    if (fit_limits(nominal_m, class_name, side, &limits) != FIT_OK) {
        fail_msg("%s at %g mm is not found", class_name, nominal_m * 1e3);
    }
    return limits;
}

static void
has_deviations_um(double nominal_mm, const char *class_name, enum fit_side side, double lower_um, double upper_um)
{
    const struct limits limits = limits_of(nominal_mm * 1e-3, class_name, side);

    assert_close_or((limits.min_m - nominal_mm * 1e-3) * 1e6, lower_um, 0.0, 1e-6);
    assert_close_or((limits.max_m - nominal_mm * 1e-3) * 1e6, upper_um, 0.0, 1e-6);
}

/* ---- ISO 286 ---- */

/* JIS B 0401 / ISO 286-2 tables in copy, and Machine Drawing table
 * 15.2 for 60 mm s6; exact as printed. */
static void
gives_the_classic_iso_fits(void **state)
{
    (void)state;
    static const struct {
        double nominal_mm;
        const char *hole, *shaft;
        double hole_um[2], shaft_um[2], clearance_um[2];
    } printed[] = {
        {38, "H7", "g6", {0, 25}, {-25, -9}, {9, 50}},
        {38, "H7", "h6", {0, 25}, {-16, 0}, {0, 41}},
        {38, "F7", "h6", {25, 50}, {-16, 0}, {25, 66}},
        {38, "H7", "p6", {0, 25}, {26, 42}, {-42, -1}},
        {38, "K7", "h6", {-18, 7}, {-16, 0}, {-18, 23}},
        {38, "N7", "h6", {-33, -8}, {-16, 0}, {-33, 8}},
        {38, "P7", "h6", {-42, -17}, {-16, 0}, {-42, -1}},
        {25, "H7", "r6", {0, 21}, {28, 41}, {-41, -7}},
        {60, "H7", "s6", {0, 30}, {53, 72}, {-72, -23}},
        {46, "H7", "r6", {0, 25}, {34, 50}, {-50, -9}},
        {25, "P7", "h6", {-35, -14}, {-13, 0}, {-35, -1}}, /* the note's own example: delta 8, ES -14 */
        {38, "JS7", "h6", {-12.5, 12.5}, {-16, 0}, {-12.5, 28.5}},
    };

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const double nominal_m = printed[i].nominal_mm * 1e-3;
        const struct limits hole = limits_of(nominal_m, printed[i].hole, FIT_SIDE_HOLE);
        const struct limits shaft = limits_of(nominal_m, printed[i].shaft, FIT_SIDE_SHAFT);

        assert_close_or(hole.min_m, nominal_m + printed[i].hole_um[0] * 1e-6, 0.0, ROUNDING_m);
        assert_close_or(hole.max_m, nominal_m + printed[i].hole_um[1] * 1e-6, 0.0, ROUNDING_m);
        assert_close_or(shaft.min_m, nominal_m + printed[i].shaft_um[0] * 1e-6, 0.0, ROUNDING_m);
        assert_close_or(shaft.max_m, nominal_m + printed[i].shaft_um[1] * 1e-6, 0.0, ROUNDING_m);
        assert_close_or(hole.min_m - shaft.max_m, printed[i].clearance_um[0] * 1e-6, 0.0, ROUNDING_m);
        assert_close_or(hole.max_m - shaft.min_m, printed[i].clearance_um[1] * 1e-6, 0.0, ROUNDING_m);
        assert_close(hole.nominal_m, nominal_m, 1e-15);
        assert_string_equal(hole.class_name, printed[i].hole);
    }
}

/* A copy gives -8 um for g at 6 to 10 mm; JIS and the handbook agree
 * on -5. Another swaps K7 with its delta: it is +7/-18 at 38 mm. */
static void
is_free_of_known_misprints(void **state)
{
    (void)state;
    has_deviations_um(8, "g6", FIT_SIDE_SHAFT, -14, -5);
    has_deviations_um(38, "K7", FIT_SIDE_HOLE, -18, 7);
}

/* 30 mm is in over 18 to 30 (ISO 286-1, from memory): IT7 21, not 25. */
static void
puts_a_boundary_size_into_the_lower_step(void **state)
{
    (void)state;
    has_deviations_um(30, "H7", FIT_SIDE_HOLE, 0, 21);
    has_deviations_um(30.001, "H7", FIT_SIDE_HOLE, 0, 25);
    has_deviations_um(65, "s6", FIT_SIDE_SHAFT, 53, 72);
    has_deviations_um(65.001, "s6", FIT_SIDE_SHAFT, 59, 78);
    has_deviations_um(180, "H7", FIT_SIDE_HOLE, 0, 40);
    /* 30 mm typed in inches and rounded in the last place is still 30 mm. */
    assert_close_or(limits_of(30.0 / 25.4 * 0.0254, "H7", FIT_SIDE_HOLE).max_m, 0.030021, 0.0, ROUNDING_m);
}

/* ---- ANSI B4.1 ---- */

/* Machinery's Handbook, 31st ed., tables 8a, 8b, 12 (RC1 at 2 in is its worked
 * example); LC3 from memory; FN: 27th ed., p. 663, FN3 at 2.5 in also a
 * textbook's example. Thousandths of an inch, exact as printed. */
static void
gives_the_fits_of_b41(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double nominal_in, hole_upper, shaft_upper, shaft_lower, least, greatest;
    } printed[] = {
        {"RC1", 2.00, 0.5, -0.4, -0.7, 0.4, 1.2}, {"RC2", 1.25, 0.6, -0.4, -0.8, 0.4, 1.4},
        {"RC3", 1.25, 1.0, -1.0, -1.6, 1.0, 2.6}, {"RC6", 2.25, 3.0, -2.5, -4.3, 2.5, 7.3},
        {"LC3", 1.75, 1.6, 0.0, -1.0, 0.0, 2.6},  {"LN1", 1.00, 0.5, 1.0, 0.5, -1.0, 0.0},
        {"LN2", 1.75, 1.0, 1.6, 1.0, -1.6, 0.0},  {"FN1", 1.50, 0.6, 1.3, 0.9, -1.3, -0.3},
        {"FN3", 2.50, 1.2, 3.2, 2.5, -3.2, -1.3},
    };
    const double thou_m = 0.0254e-3;

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        const double nominal_m = printed[i].nominal_in * 0.0254;
        const struct limits hole = limits_of(nominal_m, printed[i].id, FIT_SIDE_HOLE);
        const struct limits shaft = limits_of(nominal_m, printed[i].id, FIT_SIDE_SHAFT);

        assert_close_or(hole.min_m, nominal_m, 0.0, ROUNDING_m);
        assert_close_or(hole.max_m, nominal_m + printed[i].hole_upper * thou_m, 0.0, ROUNDING_m);
        assert_close_or(shaft.max_m, nominal_m + printed[i].shaft_upper * thou_m, 0.0, ROUNDING_m);
        assert_close_or(shaft.min_m, nominal_m + printed[i].shaft_lower * thou_m, 0.0, ROUNDING_m);
        assert_close_or(hole.min_m - shaft.max_m, printed[i].least * thou_m, 0.0, ROUNDING_m);
        assert_close_or(hole.max_m - shaft.min_m, printed[i].greatest * thou_m, 0.0, ROUNDING_m);
    }
}

/* ---- refusals ---- */

static void
refuses_unknown_classes(void **state)
{
    (void)state;
    static const char *const unknown[] = {"",
                                          "H",
                                          "7",
                                          "G4",
                                          "h12",
                                          "H7/g6",
                                          "RC10",
                                          "RC0",
                                          "zz9",
                                          "H07",
                                          " H7",
                                          "RC",
                                          "a class whose name is far too long for any table"};
    struct limits limits = {.min_m = 42.0};

    for (size_t i = 0; i < sizeof unknown / sizeof unknown[0]; i++) {
        assert_int_equal(fit_limits(0.038, unknown[i], FIT_SIDE_HOLE, &limits), FIT_UNKNOWN_CLASS);
    }
    assert_true(limits.min_m == 42.0);
}

static void
refuses_the_wrong_side(void **state)
{
    (void)state;
    struct limits limits = {.min_m = 42.0};

    assert_int_equal(fit_limits(0.038, "g6", FIT_SIDE_HOLE, &limits), FIT_WRONG_SIDE);
    assert_int_equal(fit_limits(0.038, "H7", FIT_SIDE_SHAFT, &limits), FIT_WRONG_SIDE);
    /* The case of the letter decides: h7 is a shaft. */
    assert_int_equal(fit_limits(0.038, "h7", FIT_SIDE_HOLE, &limits), FIT_WRONG_SIDE);
    /* A B4.1 class names both columns: without a side neither is meant. */
    assert_int_equal(fit_limits(0.038, "RC4", FIT_SIDE_NONE, &limits), FIT_WRONG_SIDE);
    assert_true(limits.min_m == 42.0);
    assert_int_equal(fit_limits(0.038, "H7", FIT_SIDE_NONE, &limits), FIT_OK);
    assert_int_equal(fit_limits(0.038, "rc4", FIT_SIDE_SHAFT, &limits), FIT_OK);
    assert_string_equal(limits.class_name, "RC4");
}

static void
refuses_sizes_beyond_the_tables(void **state)
{
    (void)state;
    static const double beyond_iso_m[] = {0.0, -0.01, 0.180001, 1.0};
    struct limits limits = {.min_m = 42.0};

    for (size_t i = 0; i < sizeof beyond_iso_m / sizeof beyond_iso_m[0]; i++) {
        assert_int_equal(fit_limits(beyond_iso_m[i], "H7", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    }
    assert_int_equal(fit_limits(nan(""), "H7", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    assert_int_equal(fit_limits(0.40 * 0.0254, "RC4", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    assert_int_equal(fit_limits(4.74 * 0.0254, "RC4", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    assert_int_equal(fit_limits(0.50 * 0.0254, "LT1", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    assert_int_equal(fit_limits(0.90 * 0.0254, "FN3", FIT_SIDE_HOLE, &limits), FIT_OUT_OF_RANGE);
    assert_true(limits.min_m == 42.0);
    assert_int_equal(fit_limits(4.73 * 0.0254, "RC4", FIT_SIDE_HOLE, &limits), FIT_OK);
}

/* ---- the nearest fits ---- */

static void
finds_the_very_fit_sought(void **state)
{
    (void)state;
    struct fit_match match[3];

    assert_int_equal(fit_nearest(0.038, 9e-6, 50e-6, match, 3), 3);
    assert_string_equal(match[0].designation, "H7/g6");
    assert_close_or(match[0].distance_m, 0.0, 0.0, ROUNDING_m);
    assert_close_or(match[0].clearance_min_m, 9e-6, 0.0, ROUNDING_m);
    assert_close_or(match[0].clearance_max_m, 50e-6, 0.0, ROUNDING_m);

    /* Machinery's Handbook table 8a: RC4 at 1.25 in is 0.0010 to 0.0036 in. */
    assert_int_equal(fit_nearest(1.25 * 0.0254, 1.0 * 0.0254e-3, 3.6 * 0.0254e-3, match, 3), 3);
    assert_string_equal(match[0].designation, "RC4");
}

static void
orders_the_matches_and_keeps_to_the_room_given(void **state)
{
    (void)state;
    struct fit_match all[80], few[4];
    const size_t count = fit_nearest(0.030, 20e-6, 60e-6, all, 80);

    assert_true(count > 40 && count < 80);
    for (size_t i = 0; i < count; i++) {
        const double distance_m = fabs(all[i].clearance_min_m - 20e-6) + fabs(all[i].clearance_max_m - 60e-6);

        assert_close_or(all[i].distance_m, distance_m, 0.0, 1e-15);
        assert_true(i == 0 || all[i].distance_m >= all[i - 1].distance_m - 1e-9);
    }
    assert_int_equal(fit_nearest(0.030, 20e-6, 60e-6, few, 4), 4);
    for (size_t i = 0; i < 4; i++) {
        assert_string_equal(few[i].designation, all[i].designation);
    }
    assert_int_equal(fit_nearest(0.030, 20e-6, 60e-6, NULL, 0), 0);
}

/* H7/h6 and H8/h7 and their like are in both systems; over 4.73 in only ISO is
 * left, under 0.40 in likewise, beyond 180 mm nothing. */
static void
offers_only_fits_that_reach_the_size(void **state)
{
    (void)state;
    struct fit_match match[80];
    size_t count = fit_nearest(0.150, 0.0, 1e-4, match, 80);

    assert_int_equal(count, 21);
    for (size_t i = 0; i < count; i++) {
        assert_non_null(strchr(match[i].designation, '/'));
    }
    assert_int_equal(fit_nearest(0.009, 0.0, 1e-4, match, 80), 21);
    assert_int_equal(fit_nearest(0.200, 0.0, 1e-4, match, 80), 0);
    assert_int_equal(fit_nearest(nan(""), 0.0, 1e-4, match, 80), 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_the_classic_iso_fits),
        cmocka_unit_test(is_free_of_known_misprints),
        cmocka_unit_test(puts_a_boundary_size_into_the_lower_step),
        cmocka_unit_test(gives_the_fits_of_b41),
        cmocka_unit_test(refuses_unknown_classes),
        cmocka_unit_test(refuses_the_wrong_side),
        cmocka_unit_test(refuses_sizes_beyond_the_tables),
        cmocka_unit_test(finds_the_very_fit_sought),
        cmocka_unit_test(orders_the_matches_and_keeps_to_the_room_given),
        cmocka_unit_test(offers_only_fits_that_reach_the_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
