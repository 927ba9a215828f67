#include "base/digits.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Powers of ten that a double holds exactly. */
static const double powers[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
enum { POWER_MAX = sizeof powers / sizeof powers[0] - 1 };

/* Integers of seven digits. */
static const double least = 1e6, beyond = 1e7;

/* A number as an integer of seven digits times ten to a power. */
struct decimal {
    uint32_t digits;
    int exponent; /* of the first digit */
};

static double
scale(double value, int exponent)
{
    const int shift = DIGITS - 1 - exponent;
    return shift >= 0 ? value * powers[shift] : value / powers[-shift];
}

/*
 * One multiplication or division by an exact power is off by half a unit in
 * its last place, 1e-9 of the last digit kept; so near to a tie, and for powers
 * that are not exact, we do not decide. For `value` > 0.
 */
static bool
round_off(double value, struct decimal *decimal)
{
    static const double doubt = 1e-8;
    int binary = 0;
    frexp(value, &binary);
    int exponent = (int)floor((binary - 1) * 0.30102999566398120);
    if (exponent > POWER_MAX - 1 || exponent < DIGITS - POWER_MAX) {
        return false;
    }
    double scaled = scale(value, exponent);
    if (scaled >= beyond) {
        scaled = scale(value, ++exponent);
    }
    decimal->digits = (uint32_t)scaled;
    const double rest = scaled - decimal->digits;
    if (scaled < least || fabs(rest - 0.5) < doubt) {
        return false;
    }
    decimal->digits += rest > 0.5 ? 1 : 0;
    decimal->exponent = exponent;
    if (decimal->digits >= (uint32_t)beyond) {
        decimal->digits = (uint32_t)least;
        ++decimal->exponent;
    }
    return true;
}

/* The digits as characters, without zeros at the end: how many. */
static int
spell(uint32_t digits, char spelled[DIGITS])
{
    int count = DIGITS;
    for (int i = DIGITS; i-- > 0; digits /= 10) {
        spelled[i] = (char)('0' + digits % 10);
    }
    while (count > 1 && spelled[count - 1] == '0') {
        --count;
    }
    return count;
}

static char *
add(char *at, const char *bytes, int count)
{
    memcpy(at, bytes, (size_t)count);
    return at + count;
}

static char *
add_zeros(char *at, int count)
{
    memset(at, '0', (size_t)count);
    return at + count;
}

/* As "%g" writes what needs no exponent. */
static char *
add_plain(char *at, const char *spelled, int count, int exponent)
{
    if (exponent < 0) {
        at = add(at, "0.", 2);
        at = add_zeros(at, -1 - exponent);
        return add(at, spelled, count);
    }
    const int whole = exponent + 1;
    if (count <= whole) {
        at = add(at, spelled, count);
        return add_zeros(at, whole - count);
    }
    at = add(at, spelled, whole);
    *at++ = '.';
    return add(at, spelled + whole, count - whole);
}

size_t
digits_write(char text[DIGITS_SIZE], double value)
{
    enum { PLAIN_MIN = -4 }; /* smallest power of ten without an exponent, C11 7.21.6.1 */
    struct decimal decimal;
    char spelled[DIGITS];
    char *at = text;
    if (value == 0.0 || !round_off(fabs(value), &decimal) || decimal.exponent < PLAIN_MIN || decimal.exponent >= DIGITS) {
        return (size_t)snprintf(text, DIGITS_SIZE, "%.*g", DIGITS, value);
    }
    if (value < 0.0) {
        *at++ = '-';
    }
    at = add_plain(at, spelled, spell(decimal.digits, spelled), decimal.exponent);
    *at = '\0';
    return (size_t)(at - text);
}
