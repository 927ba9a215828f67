#include "quantity/number.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

/* Longest decimal read; plain text is shorter. */
enum { DECIMAL_SIZE = 256 };

static bool
is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t
count_digits(const char *p)
{
    size_t count = 0;
    while (is_digit(p[count])) {
        count++;
    }
    return count;
}

/* Bytes of the decimal at `p`, 0 if there is none. */
static size_t
decimal_length(const char *p)
{
    const size_t whole = count_digits(p);
    size_t length = whole;

    if (p[length] == '.') {
        const size_t part = count_digits(p + length + 1);
        if (whole + part == 0) {
            return 0;
        }
        length += 1 + part;
    }
    if (length > 0 && (p[length] == 'e' || p[length] == 'E')) {
        const size_t sign = p[length + 1] == '+' || p[length + 1] == '-';
        const size_t exponent = count_digits(p + length + 1 + sign);
        if (exponent > 0) {
            length += 1 + sign + exponent;
        }
    }
    return length;
}

/*
 * The value of a decimal without exponent that has 15 digits at most: they and
 * the power of ten are exact, so that the quotient, rounded once, is what
 * strtod() gives (Clinger 1990). False for any other decimal.
 */
static bool
short_value(const char *p, size_t length, double *value)
{
    static const double powers[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                    1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    uint64_t digits = 0;
    size_t count = 0, decimals = 0;
    bool behind_point = false;

    for (size_t i = 0; i < length; i++) {
        if (is_digit(p[i])) {
            digits = 10 * digits + (uint64_t)(p[i] - '0');
            count++;
            decimals += behind_point;
        } else if (p[i] == '.') {
            behind_point = true;
        } else {
            return false;
        }
        if (count >= sizeof powers / sizeof powers[0]) {
            return false;
        }
    }
    *value = (double)digits / powers[decimals];
    return true;
}

/* The value of `length` bytes that decimal_length() accepted. strtod() sees
 * only those, and the C locale is in force: nothing of ours sets another. */
static double
decimal_value(const char *p, size_t length)
{
    char copy[DECIMAL_SIZE];
    double value = 0.0;

    if (short_value(p, length, &value)) {
        return value;
    }
    if (length >= sizeof copy) {
        return HUGE_VAL;
    }
    memcpy(copy, p, length);
    copy[length] = '\0';
    return strtod(copy, NULL);
}

/* Whether a digit other than 0 stands before the exponent. */
static bool
is_zero_written(const char *p, size_t length)
{
    const size_t zeros = strspn(p, "0.");
    return zeros >= length || p[zeros] == 'e' || p[zeros] == 'E';
}

/* Read "digits/digits" at `p`; its length, or 0 if none stands there. */
static size_t
fraction_length(const char *p)
{
    const size_t above = count_digits(p);
    const size_t below = above > 0 && p[above] == '/' ? count_digits(p + above + 1) : 0;
    return below > 0 ? above + 1 + below : 0;
}

/* The value of a fraction of `length` bytes; false if it has none. */
static bool
fraction_value(const char *p, size_t length, double *value, struct text *why)
{
    const size_t above = count_digits(p);
    const double divisor = decimal_value(p + above + 1, length - above - 1);

    if (divisor == 0.0) {
        text_add(why, "The denominator of a fraction must not be zero.");
        return false;
    }
    *value = decimal_value(p, above) / divisor;
    return true;
}

/* Where the fraction of a mixed number starts after its `whole` digits, if one
 * is there: past spaces, or past one hyphen. */
static const char *
mixed_part(const char *p, size_t whole)
{
    const char *part = p + whole;
    const size_t spaces = strspn(part, " ");

    part += spaces > 0 ? spaces : (size_t)(*part == '-');
    return whole > 0 && part > p + whole && fraction_length(part) > 0 ? part : NULL;
}

/* Read what stands at `p` after the sign; bytes used, or 0 with `why`. */
static size_t
read_magnitude(const char *p, double *value, struct text *why)
{
    const size_t fraction = fraction_length(p);
    if (fraction > 0) {
        return fraction_value(p, fraction, value, why) ? fraction : 0;
    }
    const size_t whole = count_digits(p);
    const char *const part = mixed_part(p, whole);
    if (part != NULL) {
        const size_t length = fraction_length(part);
        if (!fraction_value(part, length, value, why)) {
            return 0;
        }
        if (*value >= 1.0) {
            text_add(why, "The fraction of a mixed number must be less than one, as in 5 1/4.");
            return 0;
        }
        *value += decimal_value(p, whole);
        return (size_t)(part - p) + length;
    }
    const size_t decimal = decimal_length(p);
    *value = decimal_value(p, decimal);
    if (!(*value <= DBL_MAX)) {
        text_add(why, "The number is too large.");
        return 0;
    }
    if (*value < DBL_MIN && !is_zero_written(p, decimal)) {
        text_add(why, "The number is too small to be told from zero.");
        return 0;
    }
    return decimal;
}

/* Say how to write a number that has a comma after its first `whole` digits. */
static void
explain_comma(const char *p, size_t whole, struct text *why)
{
    const size_t part = count_digits(p + whole + 1);
    const char after = p[whole + 1 + part];

    text_add(why, "A comma is not read, neither as the decimal sign nor between thousands: ");
    if (whole == 0 || part == 0 || after == ',' || after == '.') {
        text_add(why, "write a point for the decimal sign and nothing between thousands, 1234.5 for example.");
        return;
    }
    text_format(why, "write %.*s.%.*s", (int)whole, p, (int)part, p + whole + 1);
    if (part == 3) {
        text_format(why, ", or %.*s%.*s if thousands were meant", (int)whole, p, (int)part, p + whole + 1);
    }
    text_add(why, ".");
}

/* What can be seen wrong before reading; true if there is nothing. */
static bool
can_begin(const char *p, struct text *why)
{
    if (*p == '\0') {
        text_add(why, "The text is empty where a number belongs.");
        return false;
    }
    if (*p == ',' && is_digit(p[1])) {
        explain_comma(p, 0, why);
        return false;
    }
    if (p[0] == '0' && (p[1] == 'x' || p[1] == 'X')) {
        text_add(why, "Hexadecimal numbers are not read.");
        return false;
    }
    if (decimal_length(p) == 0) {
        text_add(why, "A quantity begins with a number: 5 1/4 in, 1.3745 or 0.8 thou for example.");
        return false;
    }
    return true;
}

/* What must not stand behind a number, at `rest`; true if nothing does. */
static bool
can_end(const char *p, const char *rest, struct text *why)
{
    const char *const next = rest + strspn(rest, " ");

    if (*next == ',') {
        const size_t whole = count_digits(p);
        explain_comma(p, p + whole == next ? whole : 0, why);
        return false;
    }
    if (*next == '/' && is_digit(next[1 + strspn(next + 1, " +-")])) {
        text_add(why, "A fraction is one whole number over another, without signs or spaces: 5/8.");
        return false;
    }
    if (*rest == '.' && is_digit(rest[1])) {
        text_add(why, "A number has one decimal point, and a fraction none.");
        return false;
    }
    return true;
}

bool
number_read(const char *plain, struct number *number, struct text *why)
{
    const char *p = plain + strspn(plain, " ");
    const bool negative = *p == '-';

    if (*p == '-' || *p == '+') {
        p++;
        p += strspn(p, " ");
    }
    if (!can_begin(p, why)) {
        return false;
    }
    double value = 0.0;
    const size_t used = read_magnitude(p, &value, why);
    if (used == 0 || !can_end(p, p + used, why)) {
        return false;
    }
    number->value = negative && value > 0.0 ? -value : value;
    number->used = (size_t)(p - plain) + used;
    return true;
}
