#include "support/close.h"

#include "joint/lame.h"

static const double inch_m = 0.0254;
static const double psi_Pa = 6894.757293168361;

static struct lame_press
press_of(const struct lame_rings *rings, double interference_m)
{
    struct lame_press press;
    assert_true(lame_press(rings, interference_m, &press));
    return press;
}

/* Bronze bushing 2.000 x 2.500 in, steel 3.500 in. */
static struct lame_rings
bronze_in_steel(void)
{
    const struct lame_rings rings = {
        .bore_m = 2.0 * inch_m,
        .interface_m = 2.5 * inch_m,
        .outside_m = 3.5 * inch_m,
        .bushing_modulus_Pa = 17.0e6 * psi_Pa,
        .bushing_poisson_ratio = 0.27,
        .housing_modulus_Pa = 30.0e6 * psi_Pa,
        .housing_poisson_ratio = 0.27,
    };
    return rings;
}

/* C93200 bushing 38 x 46 mm in a grey iron eye of 75 mm. */
static struct lame_rings
bronze_in_iron(void)
{
    const struct lame_rings rings = {
        .bore_m = 0.038,
        .interface_m = 0.046,
        .outside_m = 0.075,
        .bushing_modulus_Pa = 100.0e9,
        .bushing_poisson_ratio = 0.34,
        .housing_modulus_Pa = 100.0e9,
        .housing_poisson_ratio = 0.26,
    };
    return rings;
}

/* Mott, Machine Elements, example on force fits: 3,518, 10,846 and -16,025 psi
 * printed (from memory of the print, five and four digits). */
static void
agrees_with_the_textbook_force_fit(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_steel();
    const struct lame_press press = press_of(&rings, 0.0032 * inch_m);
    assert_close(press.pressure_Pa / psi_Pa, 3518.0, 1.5e-4);
    assert_close(press.housing_bore_hoop_Pa / psi_Pa, 10846.0, 5e-5);
    assert_close(press.bushing_interface_hoop_Pa / psi_Pa, -16025.0, 5e-5);
}

/* The same case, solved a second time from the ring equations (derived). */
static void
agrees_with_an_independent_solution_of_the_rings(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_steel();
    const struct lame_press press = press_of(&rings, 0.0032 * inch_m);
    assert_close(press.housing_growth_m / inch_m, 0.000983014800977152, 1e-9);
    assert_close(press.bushing_shrink_m / inch_m, 0.0022169851990228484, 1e-9);
    assert_close(press.bushing_bore_hoop_Pa / psi_Pa, -19543.037792786323, 1e-6);
    assert_close(press.bore_closure_m / inch_m, 0.0022991809167983907, 1e-6);
}

/* Lame equations, derived: 0.040 mm in the iron eye. */
static void
closes_a_bushing_in_an_iron_eye_by_seventy_percent(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_iron();
    const struct lame_press press = press_of(&rings, 40.0e-6);
    assert_close(press.pressure_Pa, 11.713428964666365e6, 1e-9);
    assert_close(press.housing_bore_hoop_Pa, 25.84031166015455e6, 1e-9);
    assert_close(press.bushing_bore_hoop_Pa, -73.76671336081556e6, 1e-9);
    assert_close(press.bore_closure_m, 28.03135107710991e-6, 1e-9);
}

/* Lame equations, derived: C93200, 1.25 x 1.50 in, steel rod of 2.50 in, 0.002 in. */
static void
brings_a_thin_bronze_bushing_in_steel_to_its_yield(void **state)
{
    (void)state;
    const struct lame_rings rings = {1.25 * inch_m, 1.5 * inch_m,    2.5 * inch_m, 14.5e6 * psi_Pa,
                                     0.34,          30.0e6 * psi_Pa, 0.29};
    const struct lame_press press = press_of(&rings, 0.002 * inch_m);
    assert_close(press.pressure_Pa / psi_Pa, 3033.7721128344483, 1e-9);
    assert_close(press.bushing_bore_hoop_Pa / psi_Pa, -19857.417465825478, 1e-9);
    assert_close(press.bore_closure_m / inch_m, 0.001711846333260817, 1e-9);
}

static void
shares_the_interference_between_both_rings(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_iron();
    const struct lame_press press = press_of(&rings, 40.0e-6);
    assert_close(press.bushing_shrink_m + press.housing_growth_m, 40.0e-6, 1e-12);
}

static void
makes_no_pressure_without_interference(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_iron();
    const struct lame_press none = press_of(&rings, 0.0), loose = press_of(&rings, -30.0e-6);
    assert_close_or(none.pressure_Pa, 0.0, 0.0, 0.0);
    assert_close_or(none.bore_closure_m, 0.0, 0.0, 0.0);
    assert_close_or(loose.pressure_Pa, 0.0, 0.0, 0.0);
    assert_close_or(loose.bushing_bore_hoop_Pa, 0.0, 0.0, 0.0);
}

static void
is_linear_in_the_interference(void **state)
{
    (void)state;
    const struct lame_rings rings = bronze_in_iron();
    const struct lame_press one = press_of(&rings, 10.0e-6), three = press_of(&rings, 30.0e-6);
    assert_close(three.pressure_Pa, 3.0 * one.pressure_Pa, 1e-12);
    assert_close(three.bore_closure_m, 3.0 * one.bore_closure_m, 1e-12);
}

/* Limit: a thin shell in a rigid housing is squeezed by the whole interference,
 * and its stress is that of a shell, E delta / d (derived; what is left out is
 * of the order of the wall over the radius, 0.4 %). */
static void
squeezes_a_thin_shell_in_a_rigid_housing_by_all_of_it(void **state)
{
    (void)state;
    struct lame_rings rings = bronze_in_iron();
    rings.bore_m = 0.046 - 0.0002;
    rings.housing_modulus_Pa = 1.0e18;
    const struct lame_press press = press_of(&rings, 20.0e-6);
    assert_close(press.bore_closure_m, 20.0e-6, 0.01);
    assert_close(press.bushing_bore_hoop_Pa, -100.0e9 * 20.0e-6 / 0.046, 0.01);
}

static void
a_thicker_housing_presses_harder_and_closes_the_bore_more(void **state)
{
    (void)state;
    struct lame_rings rings = bronze_in_iron();
    struct lame_press before = press_of(&rings, 40.0e-6);
    for (int step = 1; step <= 10; step++) {
        rings.outside_m = 0.075 + 0.005 * step;
        const struct lame_press after = press_of(&rings, 40.0e-6);
        assert_true(after.pressure_Pa > before.pressure_Pa);
        assert_true(after.bore_closure_m > before.bore_closure_m);
        before = after;
    }
}

static void
refuses_rings_that_are_none(void **state)
{
    (void)state;
    struct lame_rings rings = bronze_in_iron();
    struct lame_press press = {.pressure_Pa = 1.0};
    rings.outside_m = rings.interface_m;
    assert_false(lame_press(&rings, 1e-6, &press));
    rings = bronze_in_iron();
    rings.bore_m = rings.interface_m;
    assert_false(lame_press(&rings, 1e-6, &press));
    rings = bronze_in_iron();
    rings.bore_m = 0.0;
    assert_false(lame_press(&rings, 1e-6, &press));
    rings = bronze_in_iron();
    rings.bushing_modulus_Pa = 0.0;
    assert_false(lame_press(&rings, 1e-6, &press));
    rings = bronze_in_iron();
    rings.housing_poisson_ratio = 0.6;
    assert_false(lame_press(&rings, 1e-6, &press));
    assert_close(press.pressure_Pa, 1.0, 0.0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_the_textbook_force_fit),
        cmocka_unit_test(agrees_with_an_independent_solution_of_the_rings),
        cmocka_unit_test(closes_a_bushing_in_an_iron_eye_by_seventy_percent),
        cmocka_unit_test(brings_a_thin_bronze_bushing_in_steel_to_its_yield),
        cmocka_unit_test(shares_the_interference_between_both_rings),
        cmocka_unit_test(makes_no_pressure_without_interference),
        cmocka_unit_test(is_linear_in_the_interference),
        cmocka_unit_test(squeezes_a_thin_shell_in_a_rigid_housing_by_all_of_it),
        cmocka_unit_test(a_thicker_housing_presses_harder_and_closes_the_bore_more),
        cmocka_unit_test(refuses_rings_that_are_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
