#include "support/close.h"

#include <string.h>

#include "joint/fit.h"
#include "joint/material.h"

/* The tables of fits are held against the rules of their standards. */

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

/* IT5 to IT11 for the nine steps of ISO 286-1: two copies agree. */
static const struct {
    double over_mm;
    double it_um[7];
} standard_tolerance[] = {
    {0, {4, 6, 10, 14, 25, 40, 60}},      {3, {5, 8, 12, 18, 30, 48, 75}},      {6, {6, 9, 15, 22, 36, 58, 90}},
    {10, {8, 11, 18, 27, 43, 70, 110}},   {18, {9, 13, 21, 33, 52, 84, 130}},   {30, {11, 16, 25, 39, 62, 100, 160}},
    {50, {13, 19, 30, 46, 74, 120, 190}}, {80, {15, 22, 35, 54, 87, 140, 220}}, {120, {18, 25, 40, 63, 100, 160, 250}},
};

static double
tolerance_um(double over_m, int grade)
{
    size_t row = 0;

    while (row + 1 < sizeof standard_tolerance / sizeof standard_tolerance[0] &&
           standard_tolerance[row + 1].over_mm <= over_m * 1e3 + 1e-6) {
        row++;
    }
    return standard_tolerance[row].it_um[grade - 5];
}

static bool
is_iso(const struct fit_class *row)
{
    return strcmp(row->system, "ISO 286") == 0;
}

static int
grade_of(const char *id)
{
    int grade = 0;

    for (id += strcspn(id, "0123456789"); *id != '\0'; id++) {
        grade = grade * 10 + (*id - '0');
    }
    return grade;
}

static void
every_iso_row_is_as_wide_as_its_grade(void **state)
{
    (void)state;
    size_t count, tried = 0;
    const struct fit_class *table = fit_class_table(&count);

    for (size_t i = 0; i < count; i++) {
        struct fit_step step;

        for (size_t k = 0; is_iso(&table[i]) && fit_class_step(&table[i], k, &step); k++, tried++) {
            const double width_um =
                1e6 * (step.has_hole ? step.hole_upper_m - step.hole_lower_m : step.shaft_upper_m - step.shaft_lower_m);

            assert_true(step.has_hole == (table[i].side == FIT_SIDE_HOLE));
            assert_true(step.has_shaft == (table[i].side == FIT_SIDE_SHAFT));
            assert_close_or(width_um, tolerance_um(step.over_m, grade_of(table[i].id)), 0.0, 1e-6);
        }
    }
    assert_int_equal(tried, 73 * 16); /* 38 shafts and 35 holes at 16 steps */
}

static void
step_of(const char *id, size_t index, struct fit_step *step)
{
    size_t count;
    const struct fit_class *table = fit_class_table(&count);

    for (size_t i = 0; i < count; i++) {
        if (strcmp(table[i].id, id) == 0) {
            assert_true(fit_class_step(&table[i], index, step));
            return;
        }
    }
    fail_msg("no class %s", id);
}

/* ISO 286-1, Machine Drawing tables 15.3 and 15.4: holes A to H mirror the
 * shafts, EI = -es. */
static void
loose_holes_mirror_their_shafts(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {{"D9", "d9"}, {"E8", "e8"}, {"F7", "f7"},
                                           {"G7", "g7"}, {"H7", "h7"}, {"JS7", "js7"}};

    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        for (size_t k = 0; k < 16; k++) {
            struct fit_step hole, shaft;

            step_of(pairs[i][0], k, &hole);
            step_of(pairs[i][1], k, &shaft);
            assert_close_or(hole.hole_lower_m, -shaft.shaft_upper_m, 0.0, ROUNDING_m);
        }
    }
}

/*
 * ISO 286-1, Machine Drawing table 15.3 notes: K, M, N to grade 8 and P, R, S
 * to grade 7 have ES = -ei + delta, delta = ITn - IT(n-1), over 3 mm; above
 * those grades N has ES = 0 and P has ES = -ei. Up to 3 mm delta is 0.
 */
static void
tight_holes_follow_the_delta_rule(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        {"K6", "k5"}, {"K7", "k6"}, {"K8", "k7"}, {"M6", "m5"}, {"M7", "m6"}, {"M8", "m7"}, {"N6", "n5"}, {"N7", "n6"},
        {"N8", "n7"}, {"P6", "p5"}, {"P7", "p6"}, {"R7", "r6"}, {"S7", "s6"}, {"P8", "p7"}, {"P9", "p7"},
    };

    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        const int grade = grade_of(pairs[i][0]);
        const bool plain = pairs[i][0][0] == 'P' && grade > 7;

        for (size_t k = 0; k < 16; k++) {
            struct fit_step hole, shaft;
            double delta_um;

            step_of(pairs[i][0], k, &hole);
            step_of(pairs[i][1], k, &shaft);
            delta_um = k == 0 || plain ? 0.0 : tolerance_um(hole.over_m, grade) - tolerance_um(hole.over_m, grade - 1);
            assert_close_or(hole.hole_upper_m, -shaft.shaft_lower_m + delta_um * 1e-6, 0.0, ROUNDING_m);
        }
    }
    for (size_t k = 0; k < 16; k++) {
        struct fit_step hole;

        step_of("N9", k, &hole);
        assert_close_or(hole.hole_upper_m, k == 0 ? -4e-6 : 0.0, 0.0, ROUNDING_m);
    }
}

/* Machine Drawing table 15.4: g = -2.5 D^0.34, f = -5.5 D^0.41, n = 5 D^0.34,
 * D the geometric mean of the step in mm; the table departs by 1 um at most
 * (over 3 mm), so a slip of the pen shows. */
static void
deviations_lie_on_the_formulas_of_the_standard(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double factor, power, slack_um;
    } formulas[] = {{"f7", -5.5, 0.41, 0.6}, {"g6", -2.5, 0.34, 0.6}, {"n6", 5.0, 0.34, 0.8}};
    static const double main_step_mm[][2] = {{3, 6},   {6, 10},  {10, 18},  {18, 30},
                                             {30, 50}, {50, 80}, {80, 120}, {120, 180}};

    for (size_t i = 0; i < sizeof formulas / sizeof formulas[0]; i++) {
        for (size_t k = 0; k < sizeof main_step_mm / sizeof main_step_mm[0]; k++) {
            const double low = main_step_mm[k][0], high = main_step_mm[k][1];
            const struct limits limits = limits_of(high * 1e-3, formulas[i].id, FIT_SIDE_SHAFT);
            const double computed_um = formulas[i].factor * pow(sqrt(low * high), formulas[i].power);
            const double nearest_m = formulas[i].factor < 0.0 ? limits.max_m : limits.min_m;

            assert_close_or((nearest_m - high * 1e-3) * 1e6, computed_um, 0.0, formulas[i].slack_um);
        }
    }
}

static void
iso_steps_cover_zero_to_180_mm_without_gap(void **state)
{
    (void)state;
    struct fit_step step, next;

    step_of("H7", 0, &step);
    assert_true(step.over_m == 0.0);
    for (size_t k = 1; k < 16; k++) {
        step_of("H7", k, &next);
        assert_true(next.over_m == step.to_m);
        step = next;
    }
    assert_close(step.to_m, 0.180, 1e-15);
}

static const struct {
    char table;
    double over_mm, to_mm;
} iso_steps[] = {
#define ISO_TOLERANCE(over, to, ...) {'t', over, to},
#define ISO_SHAFT(over, to, ...) {'s', over, to},
#define ISO_HOLE(over, to, ...) {'h', over, to},
#define ISO_CLASS(class, side, limit, column, grade, key, description)
#include "joint/iso286.def"
};

static void
the_three_iso_tables_have_the_same_steps(void **state)
{
    (void)state;
    assert_int_equal(sizeof iso_steps / sizeof iso_steps[0], 3 * 16);
    for (size_t i = 0; i < 16; i++) {
        assert_true(iso_steps[i].table == 't' && iso_steps[16 + i].table == 's' && iso_steps[32 + i].table == 'h');
        for (size_t k = 16; k <= 32; k += 16) {
            assert_true(iso_steps[k + i].over_mm == iso_steps[i].over_mm);
            assert_true(iso_steps[k + i].to_mm == iso_steps[i].to_mm);
        }
    }
}

/* Holes M to S above 65 mm were worked out from the shafts, and say so. */
static void
says_which_rows_are_derived(void **state)
{
    (void)state;
    struct fit_step step;

    step_of("P7", 9, &step); /* over 50 to 65 mm */
    assert_string_equal(step.provenance, "read");
    step_of("P7", 10, &step); /* over 65 to 80 mm */
    assert_string_equal(step.provenance, "derived");
    step_of("K7", 10, &step);
    assert_string_equal(step.provenance, "read");
    step_of("LC2", 0, &step);
    assert_string_equal(step.provenance, "from memory");
    step_of("RC4", 0, &step);
    assert_string_equal(step.provenance, "read");
}

static const struct {
    const char *id;
    double over_in, to_in, least_thou, greatest_thou;
} printed_clearances[] = {
#define B41_CLASS(class, how, key, description)
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest) {#class, over, to, least, greatest},
#include "joint/b41.def"
};

/* The standard prints the clearances beside the limits that make them. */
static void
b41_limits_give_the_clearances_printed(void **state)
{
    (void)state;
    const size_t count = sizeof printed_clearances / sizeof printed_clearances[0];
    size_t index = 0;

    assert_int_equal(count, 143);
    for (size_t i = 0; i < count; i++) {
        struct fit_step step;

        index = i > 0 && strcmp(printed_clearances[i].id, printed_clearances[i - 1].id) == 0 ? index + 1 : 0;
        step_of(printed_clearances[i].id, index, &step);
        assert_true(step.has_hole && step.has_shaft && step.shaft_lower_m < step.shaft_upper_m);
        assert_true(index == 0 || printed_clearances[i].over_in == printed_clearances[i - 1].to_in);
        assert_close(step.over_m, printed_clearances[i].over_in * 0.0254, 1e-12);
        assert_close(step.to_m, printed_clearances[i].to_in * 0.0254, 1e-12);
        if (i + 1 == count || strcmp(printed_clearances[i].id, printed_clearances[i + 1].id) != 0) {
            const double end_in = printed_clearances[i].to_in; /* as far as a class was read, on a common boundary */

            assert_true(end_in == 4.73 || end_in == 3.15 || end_in == 1.97);
        }
        assert_close_or((step.hole_lower_m - step.shaft_upper_m) / 0.0254e-3, printed_clearances[i].least_thou, 0.0,
                        1e-9);
        assert_close_or((step.hole_upper_m - step.shaft_lower_m) / 0.0254e-3, printed_clearances[i].greatest_thou, 0.0,
                        1e-9);
    }
}

/* The tolerances within B4.1 hang together: H7 is one column whatever the
 * class, and so is each other hole. */
static void
b41_classes_on_one_hole_share_its_limits(void **state)
{
    (void)state;
    static const char *const groups[][6] = {
        {"RC2", "LC1", "LN1"},               /* H6 */
        {"RC3", "LC2", "LC5", "LN2", "LN3"}, /* H7 */
        {"RC4", "RC5", "LC3"},               /* H8 */
        {"RC6", "RC7"},                      /* H9 */
        {"RC8", "LC4"},                      /* H10 */
    };

    for (size_t i = 0; i < sizeof groups / sizeof groups[0]; i++) {
        for (size_t k = 1; groups[i][k] != NULL; k++) {
            for (size_t step = 0; step < 5; step++) {
                struct fit_step a, b;

                step_of(groups[i][0], step, &a);
                step_of(groups[i][k], step, &b);
                assert_close(a.hole_upper_m, b.hole_upper_m, 1e-12);
            }
        }
    }
}

static void
every_class_is_described_and_unique(void **state)
{
    (void)state;
    size_t count, iso = 0;
    const struct fit_class *table = fit_class_table(&count);

    for (size_t i = 0; i < count; i++) {
        struct fit_step step;

        iso += is_iso(&table[i]);
        assert_non_null(source_find(table[i].source));
        assert_true(strlen(table[i].id) < FIT_CLASS_SIZE && table[i].description[0] != '\0');
        assert_true(fit_class_step(&table[i], 0, &step));
        assert_false(fit_class_step(&table[i], 16, &step));
        for (size_t k = 0; k < i; k++) {
            assert_string_not_equal(table[i].id, table[k].id);
        }
    }
    assert_int_equal(iso, 73);
    assert_int_equal(count - iso, 29); /* RC1-9, LC1-6, LT1-6, LN1-3, FN1-5 */
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_iso_row_is_as_wide_as_its_grade),
        cmocka_unit_test(loose_holes_mirror_their_shafts),
        cmocka_unit_test(tight_holes_follow_the_delta_rule),
        cmocka_unit_test(deviations_lie_on_the_formulas_of_the_standard),
        cmocka_unit_test(iso_steps_cover_zero_to_180_mm_without_gap),
        cmocka_unit_test(the_three_iso_tables_have_the_same_steps),
        cmocka_unit_test(says_which_rows_are_derived),
        cmocka_unit_test(b41_limits_give_the_clearances_printed),
        cmocka_unit_test(b41_classes_on_one_hole_share_its_limits),
        cmocka_unit_test(every_class_is_described_and_unique),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
