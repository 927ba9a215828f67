#include "support/close.h"

#include "joint/material.h"
#include "joint/thread.h"

/* Seating torque, lbf.in: a fastener supplier's and a collar maker's charts,
 * read; holding power, lbf: Shigley table 7-4, from memory; #10 and 1/4 in
 * also read as 2.4 and 4.4 kN. */
static void
gives_the_published_holding_power(void **state)
{
    (void)state;
    static const struct {
        const char *size;
        double inch, torque, force;
    } published[] = {
        {"#10", 0.190, 36, 540},   {"1/4", 0.250, 87, 1000},   {"5/16", 0.3125, 165, 1500}, {"3/8", 0.375, 290, 2000},
        {"1/2", 0.500, 620, 3000}, {"3/4", 0.750, 2400, 5000}, {"1", 1.000, 7200, 7000},
    };
    const double lbf_N = 4.4482216152605;

    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
        const struct screw_hold *row = screw_hold_find(published[i].inch * 0.0254);

        assert_non_null(row);
        assert_string_equal(row->size, published[i].size);
        assert_close(row->seating_torque_Nm, published[i].torque * lbf_N * 0.0254, 1e-12);
        assert_close(row->axial_N, published[i].force * lbf_N, 1e-12);
    }
    assert_close(screw_hold_find(0.190 * 0.0254)->axial_N, 2.4e3, 0.02);
    assert_close(screw_hold_find(0.250 * 0.0254)->axial_N, 4.4e3, 0.02);
}

static void
takes_the_next_smaller_screw_for_sizes_between(void **state)
{
    (void)state;
    assert_string_equal(screw_hold_find(0.006)->size, "#10"); /* M6 is under 1/4 in */
    assert_string_equal(screw_hold_find(0.008)->size, "5/16");
    assert_string_equal(screw_hold_find(0.050)->size, "1");
    assert_null(screw_hold_find(0.001));
    assert_null(screw_hold_find(nan("")));
}

static void
holding_power_rises_with_the_size(void **state)
{
    (void)state;
    size_t count;
    const struct screw_hold *table = screw_hold_table(&count);

    assert_true(count >= 10);
    for (size_t i = 0; i < count; i++) {
        assert_non_null(source_find(table[i].source));
        if (i > 0) {
            assert_true(table[i].diameter_m > table[i - 1].diameter_m);
            assert_true(table[i].axial_N > table[i - 1].axial_N);
            assert_true(table[i].seating_torque_Nm >= table[i - 1].seating_torque_Nm);
        }
    }
}

/* A socket screw maker's application page, read: 1.07 cone, 0.92 flat or dog. */
static void
weighs_the_kinds_of_point(void **state)
{
    (void)state;
    size_t count;
    const struct screw_point *table = screw_point_table(&count);

    assert_close(screw_point_factor("cup"), 1.0, 1e-12);
    assert_close(screw_point_factor("cone"), 1.07, 1e-12);
    assert_close(screw_point_factor("flat"), 0.92, 1e-12);
    assert_close(screw_point_factor("dog"), 0.92, 1e-12);
    assert_true(screw_point_factor("oval tin") == 0.0);
    assert_int_equal(count, 4);
    for (size_t i = 0; i < count; i++) {
        assert_non_null(source_find(table[i].source));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_the_published_holding_power),
        cmocka_unit_test(takes_the_next_smaller_screw_for_sizes_between),
        cmocka_unit_test(holding_power_rises_with_the_size),
        cmocka_unit_test(weighs_the_kinds_of_point),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
