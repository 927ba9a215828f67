#include "support/close.h"

#include <float.h>

#include "base/numeric.h"

/* A function under test, and a place to count its evaluations in. */
struct probe {
    double (*f)(double x);
    unsigned *calls;
};

static double
probed(double x, const void *context)
{
    const struct probe *const probe = context;
    ++*probe->calls;
    return probe->f(x);
}

static bool
root(double (*f)(double x), double low, double high, double tolerance, double *found)
{
    unsigned calls = 0;
    const struct probe probe = {f, &calls};
    const bool success = numeric_root(probed, &probe, low, high, tolerance, found);
    assert_true(calls <= NUMERIC_EVALUATIONS_MAX);
    return success;
}

static double
dottie(double x)
{
    return cos(x) - x;
}

static double
wallis(double x)
{
    return x * x * x - 2.0 * x - 5.0;
}

static double
falling(double x)
{
    return 2.0 - x;
}

static double
flat_root(double x)
{
    return pow(x - 1.0 / 3.0, 9.0);
}

static double
step(double x)
{
    return x < 0.7 ? -1.0 : 1.0;
}

static double
tiny_slope(double x)
{
    return 1e-300 * (x - 0.25);
}

static double
parabola(double x)
{
    return x * x + 1.0;
}

static double
log_of(double x)
{
    return x > 0.0 ? log(x) : -HUGE_VAL;
}

static double
broken_inside(double x)
{
    return x > 0.2 && x < 0.9 ? (double)NAN : x - 0.5;
}

static void
finds_roots(void **state)
{
    (void)state;
    double x = 0.0;

    /* Root of cos x = x: OEIS A003957, from memory. */
    assert_true(root(dottie, 0.0, 1.0, 1e-14, &x));
    assert_close_or(x, 0.73908513321516064, 0.0, 1e-14);
    /* Wallis's equation, the classic example of Newton's method: 2.0945514815423265, from memory. */
    assert_true(root(wallis, 2.0, 3.0, 1e-14, &x));
    assert_close_or(x, 2.0945514815423265, 0.0, 2e-14);
    /* By hand. */
    assert_true(root(falling, -1e6, 1e6, 1e-9, &x));
    assert_close_or(x, 2.0, 0.0, 1e-9);
}

static void
finds_roots_that_defeat_interpolation(void **state)
{
    (void)state;
    double x = 0.0;

    /* By construction of the functions above. */
    assert_true(root(flat_root, -1.0, 10.0, 1e-10, &x));
    assert_close_or(x, 1.0 / 3.0, 0.0, 1e-10);
    assert_true(root(step, 0.0, 1.0, 1e-12, &x));
    assert_close_or(x, 0.7, 0.0, 1e-12);
    assert_true(root(tiny_slope, 0.0, 1.0, 1e-12, &x));
    assert_close_or(x, 0.25, 0.0, 1e-12);
    assert_true(root(log_of, 1e-300, 1e300, 1e-3, &x));
    assert_true(x > 0.0);
}

static void
takes_a_root_at_an_end(void **state)
{
    (void)state;
    double x = 0.0;

    assert_true(root(falling, 2.0, 3.0, 1e-9, &x));
    assert_close(x, 2.0, 0.0);
    assert_true(root(falling, 1.0, 2.0, 1e-9, &x));
    assert_close(x, 2.0, 0.0);
}

static void
bounds_its_work_at_any_tolerance(void **state)
{
    (void)state;
    static const double tolerances[] = {0.0, -1.0, 1e-320, 1e-17};
    double x = 0.0;

    for (size_t i = 0; i < sizeof tolerances / sizeof tolerances[0]; i++) {
        assert_true(root(dottie, 0.0, 1.0, tolerances[i], &x));
        /* As in finds_roots, to what doubles near 1 resolve. */
        assert_close_or(x, 0.73908513321516064, 0.0, 8.0 * DBL_EPSILON);
    }
    assert_true(root(dottie, 0.0, 1.0, (double)NAN, &x));
    assert_true(root(dottie, 0.0, 1.0, 10.0, &x));
    assert_true(x >= 0.0 && x <= 1.0);
    assert_true(root(dottie, -1e300, 1e300, 1e-12, &x));
}

static void
refuses_what_brackets_no_root(void **state)
{
    (void)state;
    double x = 7.0;

    assert_false(root(parabola, -1.0, 1.0, 1e-9, &x));
    assert_false(root(falling, 3.0, 1.0, 1e-9, &x));
    assert_false(root(falling, 2.0, 2.0, 1e-9, &x));
    assert_false(root(falling, (double)NAN, 3.0, 1e-9, &x));
    assert_false(root(falling, 0.0, HUGE_VAL, 1e-9, &x));
    assert_false(root(falling, -DBL_MAX, DBL_MAX, 1e-9, &x));
    assert_close(x, 7.0, 0.0);
}

static void
refuses_roots_of_functions_that_are_not_finite(void **state)
{
    (void)state;
    double x = 7.0;

    assert_false(root(log_of, 0.0, 2.0, 1e-9, &x));
    assert_false(root(broken_inside, 0.0, 1.0, 1e-9, &x));
    assert_close(x, 7.0, 0.0);
}

static void
tells_finite_numbers(void **state)
{
    (void)state;
    assert_true(numeric_is_finite(0.0));
    assert_true(numeric_is_finite(-DBL_MAX));
    assert_true(numeric_is_finite(DBL_MIN / 4.0));
    assert_false(numeric_is_finite(HUGE_VAL));
    assert_false(numeric_is_finite(-HUGE_VAL));
    assert_false(numeric_is_finite((double)NAN));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_roots),
        cmocka_unit_test(finds_roots_that_defeat_interpolation),
        cmocka_unit_test(takes_a_root_at_an_end),
        cmocka_unit_test(bounds_its_work_at_any_tolerance),
        cmocka_unit_test(refuses_what_brackets_no_root),
        cmocka_unit_test(refuses_roots_of_functions_that_are_not_finite),
        cmocka_unit_test(tells_finite_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
