#include "support/close.h"

#include "joint/fatigue.h"

#define MPa 1.0e6

static void
marin_factors_of_the_textbook_bar(void **state)
{
    (void)state;
    /* Shigley, 8th to 10th ed., ch. 6: 690 MPa machined, 32 mm (from memory):
     * ka 0.798, kb 0.858 turning, 0.954 not turning, Se 236 MPa */
    assert_close(fatigue_surface_factor(SURFACE_MACHINED, 690 * MPa), 0.7977770394, 1e-9);
    assert_close(fatigue_size_factor(fatigue_equivalent_diameter_m(0.032, 1)), 0.8576658822, 3e-3);
    assert_close(fatigue_size_factor(fatigue_equivalent_diameter_m(0.032, 0)), 0.9539388799, 3e-3);
    assert_close(fatigue_endurance_Pa(SURFACE_MACHINED, 690 * MPa, fatigue_size_factor(0.032)), 236.0580212 * MPa, 3e-3);
}

static void
ground_beats_machined_and_neither_exceeds_one(void **state)
{
    (void)state;
    /* the fits cross near 320 MPa, below any pin steel */
    for (double tensile = 400; tensile < 2000; tensile += 50) {
        assert_true(fatigue_surface_factor(SURFACE_GROUND, tensile * MPa) >= fatigue_surface_factor(SURFACE_MACHINED, tensile * MPa));
        assert_true(fatigue_surface_factor(SURFACE_MACHINED, tensile * MPa) <= 1.0);
    }
}

static void
endurance_stops_growing_at_1400_MPa(void **state)
{
    (void)state;
    /* Se' = 0.5 Sut up to 1400 MPa, 700 MPa beyond (Shigley eq. 6-8) */
    assert_close(fatigue_endurance_Pa(SURFACE_GROUND, 2000 * MPa, 0.9),
                 700 * MPa * fatigue_surface_factor(SURFACE_GROUND, 2000 * MPa) * 0.9, 1e-12);
}

static void
notch_sensitivity_of_the_textbook_shaft(void **state)
{
    (void)state;
    /* Shigley ch. 6: 690 MPa, r 3 mm, Kt 1.65: q 0.847, Kf 1.55 */
    const double q = fatigue_notch_sensitivity(690 * MPa, 0.003);

    assert_close(q, 0.8466774819, 2e-3);
    assert_close(fatigue_notch_factor(q, 1.65), 1.550340363, 2e-3);
}

static void
goodman_of_the_textbook_example(void **state)
{
    (void)state;
    /* Bhandari ex. 5.17: 40 to 100 MPa, Se 270, Sut 600: 4.390244 */
    assert_close(fatigue_goodman(30 * MPa, 70 * MPa, 270 * MPa, 600 * MPa), 4.390244, 1e-6);
    /* a negative mean counts as zero */
    assert_close(fatigue_goodman(30 * MPa, -70 * MPa, 270 * MPa, 600 * MPa), 9.0, 1e-12);
    assert_close(fatigue_goodman(0, 0, 270 * MPa, 600 * MPa), FATIGUE_FACTOR_MAX, 1e-12);
}

static void
size_factor_is_held_below_its_range_and_falls_above(void **state)
{
    (void)state;
    assert_close(fatigue_size_factor(0.001), fatigue_size_factor(0.00279), 1e-12);
    assert_true(fatigue_size_factor(0.4) < fatigue_size_factor(0.254));
    /* the two branches meet at 51 mm within 1 % (Shigley eq. 6-20) */
    assert_close(fatigue_size_factor(0.0510001), fatigue_size_factor(0.051), 0.01);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marin_factors_of_the_textbook_bar),
        cmocka_unit_test(ground_beats_machined_and_neither_exceeds_one),
        cmocka_unit_test(endurance_stops_growing_at_1400_MPa),
        cmocka_unit_test(notch_sensitivity_of_the_textbook_shaft),
        cmocka_unit_test(goodman_of_the_textbook_example),
        cmocka_unit_test(size_factor_is_held_below_its_range_and_falls_above),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
