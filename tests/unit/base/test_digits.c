/* digits_write against the C library's own printf, which C11 7.21.6.1 defines. */
#include "base/digits.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/close.h"

static void
want_as_printf(double value)
{
    char wanted[64], written[DIGITS_SIZE];
    snprintf(wanted, sizeof wanted, "%.7g", value);
    const size_t length = digits_write(written, value);
    assert_string_equal(written, wanted);
    assert_int_equal(length, strlen(wanted));
}

/* Knuth's linear congruential generator (MMIX), from memory. */
static uint64_t
next(uint64_t *state)
{
    return *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
}

static void
writes_any_double_as_printf_does(void **state)
{
    (void)state;
    uint64_t seed = 1;
    for (int i = 0; i < 300000; i++) {
        double value;
        const uint64_t bits = next(&seed);
        memcpy(&value, &bits, sizeof value);
        if (isfinite(value)) {
            want_as_printf(value);
        }
    }
}

/* The numbers of answers: few decimals, any size, halves of the last digit. */
static void
writes_round_numbers_and_ties_as_printf_does(void **state)
{
    (void)state;
    uint64_t seed = 2;
    for (int i = 0; i < 300000; i++) {
        const double whole = (double)(next(&seed) >> 34);
        const double sign = i % 2 == 0 ? 1.0 : -1.0;
        const double power = pow(10.0, (double)(int)(next(&seed) >> 59) - 16.0);
        want_as_printf(sign * whole * power);
        want_as_printf(sign * whole / 64.0);
        want_as_printf(sign * (whole + 0.5) / 1024.0);
    }
}

static void
writes_the_edges_as_printf_does(void **state)
{
    (void)state;
    static const double edges[] = {0.0,       -0.0,       1.0,        9.9999995,  99999995.0, 9999999.5,  9999999.4999999,
                                   999999.95, 0.0001,     0.00009999, 0.00001,    0.000099999995, 1e7,    1e15,
                                   1e16,      1e22,       1e23,       1e-15,      1e-16,      1e-300,     5e-324,
                                   1.7976931348623157e308, 0.5,       0.25,       1234567.5,  2345678.5,  123456.75,
                                   1.0000005, 1.00000050000000001, 1e6, 1000000.5, 2.5e-4};
    for (size_t i = 0; i < sizeof edges / sizeof edges[0]; i++) {
        want_as_printf(edges[i]);
        want_as_printf(-edges[i]);
        want_as_printf(nextafter(edges[i], 1e308));
        want_as_printf(nextafter(edges[i], -1e308));
    }
}

/* "%.*e" rounds; read back, "%.9f" shows what it rounded to, and its zeros go. */
static void
want_figures(double value, int figures)
{
    char rounded[64], wanted[64], written[DIGITS_SIZE];
    const size_t length = digits_write_figures(written, value, figures);
    snprintf(rounded, sizeof rounded, "%.*e", figures - 1, value);
    if (length == 0) {
        return;
    }
    snprintf(wanted, sizeof wanted, "%.*f", figures + 3, strtod(rounded, NULL));
    size_t end = strlen(wanted);
    while (wanted[end - 1] == '0') {
        end--;
    }
    wanted[end - (wanted[end - 1] == '.')] = '\0';
    assert_string_equal(written, wanted);
    assert_int_equal(length, strlen(wanted));
}

static void
want_fixed(double value, int decimals)
{
    char wanted[400], written[DIGITS_SIZE];
    const size_t length = digits_write_fixed(written, value, decimals);
    snprintf(wanted, sizeof wanted, "%.*f", decimals, value);
    if (length > 0) {
        assert_string_equal(written, wanted);
        assert_int_equal(length, strlen(wanted));
    }
}

static void
rounds_for_people_as_printf_does(void **state)
{
    (void)state;
    uint64_t seed = 3;
    for (int i = 0; i < 300000; i++) {
        const double whole = (double)(next(&seed) >> 34) * (i % 2 == 0 ? 1.0 : -1.0);
        const double value = whole * pow(10.0, (double)(int)(next(&seed) >> 59) - 24.0);
        want_figures(value, 1 + i % DIGITS);
        want_figures(whole / 64.0, 1 + i % DIGITS);
        want_fixed(value, i % (DIGITS + 1));
        want_fixed(whole / 1048576.0, i % (DIGITS + 1));
    }
    static const double edges[] = {0.0, -0.0, 0.5, 1.5, 0.00005, 0.05, 9.9995, 999.95, 99995.0, 9999999.0, 9999999.6, 1e7, 1e300};
    for (size_t i = 0; i < sizeof edges / sizeof edges[0]; i++) {
        for (int count = 0; count <= DIGITS; count++) {
            want_figures(edges[i], count > 0 ? count : 1);
            want_fixed(edges[i], count);
            want_fixed(-edges[i], count);
        }
    }
}

/* Only the few that the header names are left to printf. */
static void
rounds_what_people_read_without_printf(void **state)
{
    (void)state;
    char written[DIGITS_SIZE];
    assert_int_equal(digits_write_figures(written, 18231.0, 4), 5);
    assert_string_equal(written, "18230");
    assert_int_equal(digits_write_figures(written, -0.0123456, 3), 7);
    assert_string_equal(written, "-0.0123");
    assert_int_equal(digits_write_figures(written, 99.996, 4), 3);
    assert_string_equal(written, "100");
    assert_int_equal(digits_write_fixed(written, 1.375, 4), 6);
    assert_string_equal(written, "1.3750");
    assert_int_equal(digits_write_fixed(written, -0.0001, 2), 5);
    assert_string_equal(written, "-0.00");
    assert_int_equal(digits_write_fixed(written, 41.7, 0), 2);
    assert_string_equal(written, "42");
    assert_int_equal(digits_write_fixed(written, 0.125, 2), 0); /* a tie */
    assert_int_equal(digits_write_fixed(written, 1e7, 0), 0);
    assert_int_equal(digits_write_figures(written, 1e7, 4), 0);
    assert_int_equal(digits_write_figures(written, 1e-5, 4), 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_any_double_as_printf_does),
        cmocka_unit_test(writes_round_numbers_and_ties_as_printf_does),
        cmocka_unit_test(writes_the_edges_as_printf_does),
        cmocka_unit_test(rounds_for_people_as_printf_does),
        cmocka_unit_test(rounds_what_people_read_without_printf),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
