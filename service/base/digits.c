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

/* The numbers below a hundred, two characters each. */
static const char pairs[] = "00010203040506070809101112131415161718192021222324252627282930313233343536373839"
                            "40414243444546474849505152535455565758596061626364656667686970717273747576777879"
                            "8081828384858687888990919293949596979899";
_Static_assert(DIGITS % 2 == 1, "one digit stands before the pairs");

/* A number as an integer of so many digits times ten to a power. */
struct decimal {
    uint32_t digits;
    int exponent; /* of the first digit */
};

/* The power of two of a number that is neither zero nor subnormal. */
static int
binary_exponent(double value)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return (int)(bits >> 52 & 0x7FF) - 1023;
}

static double
scale(double value, int shift)
{
    return shift >= 0 ? value * powers[shift] : value / powers[-shift];
}

/*
 * The nearest integer of a number of at most DIGITS digits that one
 * multiplication or division by an exact power gave. It is off by half a unit in
 * its last place, 1e-9; so near to a tie we do not decide.
 */
static bool
round_scaled(double scaled, uint32_t *digits)
{
    static const double doubt = 1e-8;
    const uint32_t below = (uint32_t)scaled;
    const double rest = scaled - below;
    *digits = below + (rest > 0.5 ? 1 : 0);
    return fabs(rest - 0.5) >= doubt;
}

/* The first `figures` digits of `value` >= 0, rounded; false where it would take
 * a power that is not exact, and as above. */
static bool
round_off(double value, int figures, struct decimal *decimal)
{
    const double least = powers[figures - 1], beyond = powers[figures];
    if (value == 0.0) {
        *decimal = (struct decimal){0, 0};
        return true;
    }
    /* 1233 / 4096 is the logarithm of two: this is the exponent or one less, below 1 perhaps one more. */
    int exponent = binary_exponent(value) * 1233 / 4096;
    if (exponent > POWER_MAX - 1 || exponent <= DIGITS - POWER_MAX) {
        return false;
    }
    double scaled = scale(value, figures - 1 - exponent);
    if (scaled >= beyond) {
        scaled = scale(value, figures - 1 - ++exponent);
    } else if (scaled < least) {
        scaled = scale(value, figures - 1 - --exponent);
    }
    if (scaled < least || scaled >= beyond || !round_scaled(scaled, &decimal->digits)) {
        return false;
    }
    decimal->exponent = exponent;
    if (decimal->digits >= (uint32_t)beyond) {
        decimal->digits = (uint32_t)least;
        ++decimal->exponent;
    }
    return true;
}

/* As "%g" writes it, of DIGITS digits. Copies of a fixed length, some of them
 * longer than what counts, are quicker than ones of the length that is due. */
static char *
add_plain(char *at, const struct decimal *decimal)
{
    char spelled[2 * DIGITS] = {0};
    uint32_t digits = decimal->digits;
    for (int i = DIGITS - 2; i > 0; i -= 2, digits /= 100) {
        memcpy(spelled + i, pairs + (size_t)2 * (digits % 100), 2);
    }
    spelled[0] = (char)('0' + digits);
    int count = DIGITS; /* without the zeros at the end */
    while (count > 1 && spelled[count - 1] == '0') {
        --count;
    }
    if (decimal->exponent < 0) {
        memcpy(at, "0.000", sizeof "0.000");
        at += 1 - decimal->exponent;
        memcpy(at, spelled, DIGITS);
        return at + count;
    }
    const int whole = decimal->exponent + 1;
    memcpy(at, spelled, DIGITS);
    if (count <= whole) {
        return at + whole;
    }
    at[whole] = '.';
    memcpy(at + whole + 1, spelled + whole, DIGITS);
    return at + count + 1;
}

size_t
digits_write_figures(char text[DIGITS_SIZE], double value, int figures)
{
    enum { PLAIN_MIN = -4 }; /* smallest power of ten without an exponent, C11 7.21.6.1 */
    struct decimal decimal;
    char *at = text;
    if (!round_off(fabs(value), figures, &decimal) || decimal.exponent < PLAIN_MIN || decimal.exponent >= DIGITS) {
        return 0;
    }
    decimal.digits *= (uint32_t)powers[DIGITS - figures];
    if (signbit(value)) {
        *at++ = '-';
    }
    at = add_plain(at, &decimal);
    *at = '\0';
    return (size_t)(at - text);
}

size_t
digits_write(char text[DIGITS_SIZE], double value)
{
    const size_t length = digits_write_figures(text, value, DIGITS);
    return length > 0 ? length : (size_t)snprintf(text, DIGITS_SIZE, "%.*g", DIGITS, value);
}

/* So many tenths, hundredths and so on, spelled from their end. */
static size_t
write_decimals(char text[DIGITS_SIZE], uint32_t digits, int decimals, bool negative)
{
    char spelled[DIGITS_SIZE];
    char *const end = spelled + sizeof spelled;
    char *at = end;
    *--at = '\0';
    for (int i = 0; i < decimals; i++, digits /= 10) {
        *--at = (char)('0' + digits % 10);
    }
    if (decimals > 0) {
        *--at = '.';
    }
    do {
        *--at = (char)('0' + digits % 10);
        digits /= 10;
    } while (digits > 0);
    if (negative) {
        *--at = '-';
    }
    memcpy(text, at, (size_t)(end - at));
    return (size_t)(end - at) - 1;
}

size_t
digits_write_fixed(char text[DIGITS_SIZE], double value, int decimals)
{
    const double scaled = fabs(value) * powers[decimals];
    uint32_t digits = 0;
    if (!(scaled < powers[DIGITS]) || !round_scaled(scaled, &digits)) {
        return 0;
    }
    return write_decimals(text, digits, decimals, signbit(value));
}
