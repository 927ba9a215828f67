#include "support/close.h"

#include "joint/clamp.h"

static void
preload_of_the_torque_table(void **state)
{
    (void)state;
    /* SAE J429 torque table, 1/2-13 grade 2, K 0.20: 48.8 lbf.ft, 5,853 lbf */
    assert_close(clamp_preload_N(48.8 * 12.0, 0.2, 0.5), 5853.0, 2e-3);
}

static void
grip_by_hinge_and_by_band(void **state)
{
    struct clamp_grip grip;

    (void)state;
    /* statics: 12 kN, mu 0.12, lb 15.5, lh 20, R 12.7 mm */
    clamp_grip_of(12000, 0.12, 0.0155, 0.020, 0.0127, &grip);
    assert_close(grip.axial_N, 5112.0, 1e-9);
    assert_close(grip.torque_Nm, 64.9224, 1e-9);
    assert_close(grip.axial_high_N, 9047.786842, 1e-9);
    assert_close(grip.torque_high_Nm, 114.9068929, 1e-8);
}

static void
bolt_as_key(void **state)
{
    struct clamp_key key;

    (void)state;
    /* 8 kN on a 9.525 mm bolt: 112.27 MPa in one plane, 56.14 in two; segment
     * 26.371 mm2 of a 12.7 mm radius at 2.54 mm: 303.36 MPa */
    clamp_key_of(0.00254, 0.0127, 0.009525, 2.0, 56.13582909e6 / SHEAR_YIELD_RATIO, 303.3624638e6, &key);
    assert_close(key.shear_axial_N, 8000.0, 1e-8);
    assert_close(key.segment_area_m2, 26.37109384e-6, 1e-8);
    clamp_key_of(0.00254, 0.0127, 0.009525, 1.0, 112.2716582e6 / SHEAR_YIELD_RATIO, 1.0e9, &key);
    assert_close(key.shear_axial_N, 8000.0, 1e-8);
    clamp_key_of(0.00254, 0.0127, 0.009525, 1.0, 1.0e9, 303.3624638e6, &key);
    assert_close(key.flank_axial_N, 8000.0, 1e-8);
    /* half chord sqrt(h (2R - h)): 7.6200 mm at h 2.54, R 12.7 */
    assert_close(key.half_chord_m, 7.62e-3, 1e-9);
}

static void
bolt_that_misses_holds_nothing(void **state)
{
    struct clamp_key key;

    (void)state;
    clamp_key_of(-0.001, 0.0127, 0.009525, 2.0, 4.0e8, 4.0e8, &key);
    assert_true(key.shear_axial_N == 0.0 && key.flank_axial_N == 0.0 && key.shear_torque_Nm == 0.0);
}

static void
factor_is_bounded_and_no_demand_is_met(void **state)
{
    (void)state;
    assert_close(clamp_factor(10.0, 4.0), 2.5, 1e-12);
    assert_close(clamp_factor(0.0, 4.0), 0.0, 1e-12);
    assert_close(clamp_factor(10.0, 0.0), CLAMP_FACTOR_MAX, 1e-12);
    assert_close(clamp_factor(0.0, 0.0), CLAMP_FACTOR_MAX, 1e-12);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(preload_of_the_torque_table),
        cmocka_unit_test(grip_by_hinge_and_by_band),
        cmocka_unit_test(bolt_as_key),
        cmocka_unit_test(bolt_that_misses_holds_nothing),
        cmocka_unit_test(factor_is_bounded_and_no_demand_is_met),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
