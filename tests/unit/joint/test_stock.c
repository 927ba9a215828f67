#include "support/close.h"

#include "joint/stock.h"

static const double inch_m = 0.0254;
static const double mm_m = 1e-3;

static double
next_in(double least_in)
{
    return stock_next_m(least_in * inch_m, UNITS_INCH) / inch_m;
}

static double
next_mm(double least_mm)
{
    return stock_next_m(least_mm * mm_m, UNITS_METRIC) / mm_m;
}

/* 1.250 in finished and 0.060 in over it: 1 5/16 in of a ladder of sixteenths
 * (derived). */
static void
inch_bar_comes_in_sixteenths(void **state)
{
    (void)state;
    assert_close(next_in(1.25 + 0.06), 1.3125, 1e-12);
    assert_close(next_in(1.3125 + 1e-6), 1.375, 1e-12);
    assert_close(next_in(0.01), 0.0625, 1e-12);
}

/* Sizes of bright bar, from memory. */
static void
metric_bar_comes_in_the_sizes_of_bright_bar(void **state)
{
    (void)state;
    assert_close(next_mm(35.0 + 1.5), 38.0, 1e-12);
    assert_close(next_mm(45.5), 48.0, 1e-12);
    assert_close(next_mm(60.1), 63.0, 1e-12);
    assert_close(next_mm(2.0), 3.0, 1e-12);
}

static void
a_bar_of_just_the_size_serves(void **state)
{
    (void)state;
    for (int sixteenths = 1; sixteenths <= 48; sixteenths++) {
        assert_close(next_in(sixteenths / 16.0), sixteenths / 16.0, 1e-12);
    }
    assert_close(next_mm(38.0), 38.0, 1e-12);
}

/* Eighths and quarters of an inch, fives and tens of millimeters (from
 * memory). */
static void
thick_bar_comes_in_coarser_steps(void **state)
{
    (void)state;
    assert_close(next_in(3.01), 3.125, 1e-12);
    assert_close(next_in(6.01), 6.25, 1e-12);
    assert_close(next_mm(80.5), 85.0, 1e-12);
    assert_close(next_mm(101.0), 110.0, 1e-12);
}

static double
below_in(double most_in)
{
    return stock_below_m(most_in * inch_m, UNITS_INCH) / inch_m;
}

static double
below_mm(double most_mm)
{
    return stock_below_m(most_mm * mm_m, UNITS_METRIC) / mm_m;
}

/* The same ladders downward (sixteenths, eighths and quarters; bright bar; from
 * memory). */
static void
the_size_below_is_of_the_same_ladder(void **state)
{
    (void)state;
    assert_close(below_in(1.30), 1.25, 1e-12);
    assert_close(below_in(3.1), 3.0, 1e-12);
    assert_close(below_in(6.2), 6.0, 1e-12);
    assert_close(below_in(6.3), 6.25, 1e-12);
    assert_close(below_mm(33.1), 32.0, 1e-12);
    assert_close(below_mm(84.9), 80.0, 1e-12);
    assert_close(below_mm(109.0), 100.0, 1e-12);
    assert_true(below_mm(2.9) <= 0.0 && below_in(0.06) <= 0.0);
}

/* Up and down are each other's inverse: what the one names, the other keeps,
 * and between the two there is no further size. */
static void
the_sizes_above_and_below_are_neighbors(void **state)
{
    (void)state;
    for (int metric = 0; metric <= 1; metric++) {
        const enum unit_system units = metric ? UNITS_METRIC : UNITS_INCH;
        for (double size_m = 0.0035; size_m < 1.2; size_m *= 1.003) {
            const double above_m = stock_next_m(size_m, units), below_m = stock_below_m(size_m, units);
            assert_true(below_m > 0.0 && below_m <= size_m * (1.0 + 1e-8));
            assert_close(stock_below_m(above_m, units), above_m, 1e-12);
            assert_close(stock_next_m(below_m, units), below_m, 1e-12);
            if (above_m > below_m * (1.0 + 1e-6)) {
                assert_close(stock_below_m(above_m * (1.0 - 1e-6), units), below_m, 1e-12);
            }
        }
    }
}

static void
the_next_size_is_never_less_and_never_falls(void **state)
{
    (void)state;
    for (int metric = 0; metric <= 1; metric++) {
        double before_m = 0.0;
        for (double least_m = 0.0005; least_m < 1.2; least_m *= 1.003) {
            const double size_m = stock_next_m(least_m, metric ? UNITS_METRIC : UNITS_INCH);
            assert_true(size_m >= least_m * (1.0 - 1e-8) && size_m >= before_m);
            assert_true(size_m < least_m * 1.35 + 0.003); /* not far beyond it either */
            before_m = size_m;
        }
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(inch_bar_comes_in_sixteenths),
        cmocka_unit_test(metric_bar_comes_in_the_sizes_of_bright_bar),
        cmocka_unit_test(a_bar_of_just_the_size_serves),
        cmocka_unit_test(thick_bar_comes_in_coarser_steps),
        cmocka_unit_test(the_size_below_is_of_the_same_ladder),
        cmocka_unit_test(the_sizes_above_and_below_are_neighbors),
        cmocka_unit_test(the_next_size_is_never_less_and_never_falls),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
