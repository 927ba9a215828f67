/* digits_write against the C library's own printf, which C11 7.21.6.1 defines. */
#include "base/digits.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
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

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_any_double_as_printf_does),
        cmocka_unit_test(writes_round_numbers_and_ties_as_printf_does),
        cmocka_unit_test(writes_the_edges_as_printf_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
