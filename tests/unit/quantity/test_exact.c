/* What is written reads back to the same bits: checked by reading it back. */

#include "quantity/exact.h"

#include <string.h>

#include "support/close.h"

static struct exact
find(double si, enum dimension dimension, enum unit_system system, bool own_unit)
{
    struct exact exact = {0};
    assert_true(exact_find(0.0, si, dimension, system, own_unit, &exact));
    assert_true(unit_to_si(exact.unit, exact.number) == si);
    return exact;
}

static void
writes_what_was_written(void **state)
{
    (void)state;
    static const struct {
        double number;
        enum dimension dimension;
        enum unit_system system;
    } rows[] = {
        {1.375, DIMENSION_LENGTH, UNITS_INCH},      {34.925, DIMENSION_LENGTH, UNITS_METRIC},
        {285.0, DIMENSION_PRESSURE, UNITS_INCH},    {380.0, DIMENSION_ROTATION, UNITS_METRIC},
        {200.0, DIMENSION_TEMPERATURE, UNITS_INCH}, {28.0, DIMENSION_TORQUE, UNITS_INCH},
        {0.0, DIMENSION_LENGTH, UNITS_INCH},        {-0.0005, DIMENSION_LENGTH, UNITS_INCH},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct unit *unit = unit_of(rows[i].dimension, rows[i].system);
        const struct exact exact =
            find(unit_to_si(unit, rows[i].number), rows[i].dimension, rows[i].system, false);
        assert_ptr_equal(exact.unit, unit);
        assert_true(exact.number == rows[i].number);
    }
}

static void
takes_the_unit_that_tells_it_in_few_digits(void **state)
{
    (void)state;
    /* 19 bar: 275.57... psi have no end, 1.9 MPa do. */
    const struct exact exact = find(19.0e5, DIMENSION_PRESSURE, UNITS_INCH, false);
    assert_string_equal(exact.unit->symbol, "MPa");
    assert_true(exact.number == 1.9);
}

static void
stays_in_the_documents_unit_where_asked(void **state)
{
    (void)state;
    /* A third of an inch is 8.466... mm. */
    const struct unit *inch = unit_of(DIMENSION_LENGTH, UNITS_INCH);
    const double third_m = unit_to_si(inch, 1.0 / 3.0);
    assert_string_equal(find(third_m, DIMENSION_LENGTH, UNITS_INCH, true).unit->symbol, "in");
    /* 50 mm in an inch document that somebody converted by machine. */
    const double fifty_m = unit_to_si(inch, 50.0 / 25.4);
    assert_string_equal(find(fifty_m, DIMENSION_LENGTH, UNITS_INCH, true).unit->symbol, "in");
}

/* 2,000 values of each dimension and sign, of a generator that every machine has
 * alike (the 64-bit linear congruential one of Knuth's MMIX). */
static void
reads_back_every_value_of_every_dimension(void **state)
{
    (void)state;
    static const enum dimension dimensions[] = {
        DIMENSION_RATIO,    DIMENSION_ANGLE,       DIMENSION_LENGTH, DIMENSION_FORCE,     DIMENSION_PRESSURE, DIMENSION_MASS,
        DIMENSION_ROTATION, DIMENSION_TEMPERATURE, DIMENSION_TORQUE, DIMENSION_ROUGHNESS, DIMENSION_PV,       DIMENSION_EXPANSION,
    };
    uint64_t seed = 1;
    for (size_t i = 0; i < sizeof dimensions / sizeof dimensions[0]; i++) {
        for (int n = 0; n < 2000; n++) {
            seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
            const double share = (double)(seed >> 11) / 9007199254740992.0; /* 2^53 */
            const double si = ldexp(1.0 + share, (int)(seed & 31) - 20);
            find(si, dimensions[i], UNITS_INCH, false);
            find(-si, dimensions[i], UNITS_METRIC, true);
        }
    }
}

static void
writes_a_deviation_from_a_nominal_size(void **state)
{
    (void)state;
    const struct unit *inch = unit_of(DIMENSION_LENGTH, UNITS_INCH);
    const double nominal_m = unit_to_si(inch, 1.25);
    const double lower_m = nominal_m + unit_to_si(inch, -0.0005);
    struct exact exact;
    assert_true(exact_find(nominal_m, lower_m, DIMENSION_LENGTH, UNITS_INCH, false, &exact));
    assert_true(nominal_m + unit_to_si(exact.unit, exact.number) == lower_m);
    assert_true(exact.number == -0.0005);
    assert_true(exact_find(nominal_m, nominal_m, DIMENSION_LENGTH, UNITS_INCH, false, &exact));
    assert_true(exact.number == 0.0);
}

static void
finds_nothing_for_what_is_not_finite(void **state)
{
    (void)state;
    struct exact exact;
    assert_false(exact_find(0.0, HUGE_VAL, DIMENSION_LENGTH, UNITS_INCH, false, &exact));
    assert_false(exact_find(0.0, (double)NAN, DIMENSION_LENGTH, UNITS_INCH, true, &exact));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_what_was_written),
        cmocka_unit_test(takes_the_unit_that_tells_it_in_few_digits),
        cmocka_unit_test(stays_in_the_documents_unit_where_asked),
        cmocka_unit_test(reads_back_every_value_of_every_dimension),
        cmocka_unit_test(writes_a_deviation_from_a_nominal_size),
        cmocka_unit_test(finds_nothing_for_what_is_not_finite),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
