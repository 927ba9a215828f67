#include "support/close.h"

#include "joint/notch.h"

/* 3-D finite elements of a round bar with a milled trough in the tension side,
 * two independent studies made for this project; D = 1. */

static void
factor_matches_the_finite_elements(void **state)
{
    /* h/D, r/D, Kt on M/Z to the floor */
    static const double elements[][3] = {
        {0.100, 0.10, 2.421}, {0.150, 0.10, 2.526}, {0.250, 0.10, 2.501}, {0.050, 0.15, 1.889}, {0.150, 0.15, 2.169},
        {0.250, 0.15, 2.138}, {0.050, 0.20, 1.742}, {0.100, 0.20, 1.909}, {0.200, 0.20, 1.959}, {0.100, 0.25, 1.782},
        {0.200, 0.25, 1.817}, {0.250, 0.25, 1.785}, {0.050, 0.30, 1.573}, {0.100, 0.30, 1.691}, {0.150, 0.30, 1.721},
        {0.250, 0.30, 1.682}, {0.080, 0.1875, 1.8992},
    };

    (void)state;
    for (size_t i = 0; i < sizeof elements / sizeof elements[0]; i++) {
        assert_true(notch_in_range(elements[i][0], elements[i][1], 1.0));
        /* the fit is 2.8 % off its own study at worst, and the two studies
         * differ by 0.5 % */
        assert_close(notch_bending_factor(elements[i][0], elements[i][1], 1.0), elements[i][2], 0.033);
    }
}

static void
published_factor_is_the_flat_bar_of_the_handbook(void **state)
{
    (void)state;
    /* Roark table 17.1 case 3b (coefficients from memory): h/r 1, h/D 0.1 */
    assert_close(notch_published_factor(0.1, 0.1, 1.0), 2.4825, 5e-4);
    /* the chain example: h 2.94, r 5.16, D 25.4 mm: 2.032792 */
    assert_close(notch_published_factor(2.94, 5.16, 25.4), 2.032792318, 1e-8);
    /* below h/r 0.5 the smaller of it and 1 + 2 sqrt(h/r) */
    assert_true(notch_published_factor(0.02, 0.3, 1.0) <= 1.0 + 2.0 * sqrt(0.02 / 0.3));
}

static void
factors_tend_to_one_without_a_slot(void **state)
{
    (void)state;
    assert_close(notch_bending_factor(1e-9, 0.2, 1.0), 1.0, 1e-4);
    assert_close(notch_side_factor(1e-9, 0.2, 1.0), 1.0, 1e-4);
}

static void
sharper_slots_are_worse(void **state)
{
    (void)state;
    for (double r = 0.08; r < 0.5; r += 0.02) {
        assert_true(notch_bending_factor(0.1, r, 1.0) > notch_bending_factor(0.1, r + 0.02, 1.0));
        assert_true(notch_side_factor(0.1, r, 1.0) > notch_side_factor(0.1, r + 0.02, 1.0));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(factor_matches_the_finite_elements),
        cmocka_unit_test(published_factor_is_the_flat_bar_of_the_handbook),
        cmocka_unit_test(factors_tend_to_one_without_a_slot),
        cmocka_unit_test(sharper_slots_are_worse),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
