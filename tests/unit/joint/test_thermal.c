#include "support/close.h"

#include "joint/thermal.h"

/* Steel 1020: 11.7 um/m/K, 6.5 uin/in/degF [Callister Table B.6, read]. */
static const double steel_per_K = 11.7e-6;

/* d = d20 (1 + alpha (T - 20)), derived: 38 mm at 35 degC grows by 6.669 um. */
static void
grows_a_pin_by_its_expansion(void **state)
{
    (void)state;
    assert_close(thermal_size_m(0.038, steel_per_K, 35.0), 0.038006669, 1e-10);
    assert_close(thermal_size_m(0.038, steel_per_K, 35.0) - 0.038, 6.669e-6, 1e-9);
}

/* 1.25 in from 68 to 100 degF at 6.5 uin/in/degF: 0.00026 in (derived). */
static void
grows_an_inch_pin_from_sixty_eight_degrees(void **state)
{
    (void)state;
    const double expansion_per_K = 6.5e-6 * 1.8, hot_degC = (100.0 - 32.0) / 1.8;
    assert_close(thermal_size_m(1.25, expansion_per_K, hot_degC) - 1.25, 0.00026, 1e-9);
}

static void
leaves_the_size_alone_at_the_reference_temperature(void **state)
{
    (void)state;
    assert_close(thermal_size_m(0.038, steel_per_K, 20.0), 0.038, 0.0);
}

static void
shrinks_a_part_that_is_colder_than_the_reference(void **state)
{
    (void)state;
    assert_true(thermal_size_m(0.038, steel_per_K, 5.0) < 0.038);
}

/* Reading 38.000 mm on a part at 40 degC, micrometer at 20 degC (derived). */
static void
corrects_a_reading_of_a_warm_part(void **state)
{
    (void)state;
    assert_close(thermal_size_from_reading_m(0.038, steel_per_K, 40.0, steel_per_K, 20.0), 0.03799111008024122, 1e-12);
}

/* Part and instrument of one metal at one temperature grow alike. */
static void
needs_no_correction_where_part_and_instrument_are_alike(void **state)
{
    (void)state;
    assert_close(thermal_size_from_reading_m(0.038, steel_per_K, 33.0, steel_per_K, 33.0), 0.038, 1e-15);
}

/* A warm instrument alone reads small, so the size is larger than read. */
static void
corrects_upward_for_a_warm_instrument(void **state)
{
    (void)state;
    assert_close(thermal_size_from_reading_m(0.038, steel_per_K, 20.0, steel_per_K, 35.0), 0.038006669, 1e-10);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grows_a_pin_by_its_expansion),
        cmocka_unit_test(grows_an_inch_pin_from_sixty_eight_degrees),
        cmocka_unit_test(leaves_the_size_alone_at_the_reference_temperature),
        cmocka_unit_test(shrinks_a_part_that_is_colder_than_the_reference),
        cmocka_unit_test(corrects_a_reading_of_a_warm_part),
        cmocka_unit_test(needs_no_correction_where_part_and_instrument_are_alike),
        cmocka_unit_test(corrects_upward_for_a_warm_instrument),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
