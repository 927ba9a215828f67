#include "quantity/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/digits.h"
#include "base/numeric.h"
#include "base/text.h"

/* Figures that a person gives: of small lengths, and of everything else. */
enum { FIGURES_SMALL = 3, FIGURES = 4 };

/* Drop the zeros that end a decimal fraction, the point too, and the sign of a
 * zero. */
static void
strip(char *digits)
{
    size_t end = strlen(digits);

    if (strchr(digits, '.') != NULL) {
        while (digits[end - 1] == '0') {
            end--;
        }
        end -= digits[end - 1] == '.';
        digits[end] = '\0';
    }
    if (strcmp(digits, "-0") == 0) {
        text_copy(digits, 2, "0");
    }
}

enum { NUMBER_SIZE = 40, DECIMALS_MAX = 9, WHOLE_DIGITS_MAX = 15 };

/* Add `value` with so many decimals at most. */
static void
add_decimal(struct text *text, double value, int decimals)
{
    char buffer[NUMBER_SIZE];
    struct text digits;

    text_init(&digits, buffer, sizeof buffer);
    text_add_fixed(&digits, value, decimals);
    strip(buffer);
    text_add(text, buffer);
}

/* How many decimals stand in `length` bytes of digits. */
static size_t
decimals_in(const char *digits, size_t length)
{
    const char *const point = memchr(digits, '.', length);
    return point != NULL ? (size_t)(digits + length - point) - 1 : 0;
}

/* Add `value` with so many significant figures, and decimals, at most. */
static void
add_figures(struct text *text, double value, int figures, int decimals_max)
{
    char buffer[NUMBER_SIZE];
    struct text rounded;
    const size_t length = digits_write_figures(buffer, value + 0.0, figures); /* a zero without a sign */

    if (length > 0 && decimals_in(buffer, length) <= (size_t)decimals_max) {
        text_add_bytes(text, buffer, length);
        return;
    }
    text_init(&rounded, buffer, sizeof buffer);
    text_format(&rounded, "%.*e", figures - 1, value);
    const char *const exponent_text = strchr(buffer, 'e');
    const long exponent = exponent_text == NULL ? 0 : strtol(exponent_text + 1, NULL, 10);
    if (exponent > WHOLE_DIGITS_MAX) {
        text_add(text, buffer);
        return;
    }
    const long decimals = figures - 1 - exponent;
    /* The rounded figure read back, so that 18231 becomes 18230. */
    add_decimal(text, strtod(buffer, NULL), decimals < 0 ? 0 : decimals > decimals_max ? decimals_max : (int)decimals);
}

/* Add an exact fraction of an inch, in lowest terms; false if it is none. */
static bool
add_binary_fraction(struct text *text, double inches)
{
    static const double exact_in = 1e-7;
    const double magnitude = fabs(inches);

    if (!(magnitude < 1000.0)) {
        return false;
    }
    const long parts = lround(magnitude * 64.0);
    if (parts == 0 || fabs(magnitude - (double)parts / 64.0) > exact_in) {
        return false;
    }
    const long whole = parts / 64;
    long above = parts % 64;
    long below = 64;
    while (above % 2 == 0 && below > 1) {
        above /= 2;
        below /= 2;
    }
    text_add(text, inches < 0.0 ? "-" : "");
    if (whole > 0 || above == 0) {
        text_add_count(text, (unsigned long)whole);
        text_add(text, above > 0 ? " " : "");
    }
    if (above > 0) {
        text_add_count(text, (unsigned long)above);
        text_add(text, "/");
        text_add_count(text, (unsigned long)below);
    }
    text_add(text, " in");
    return true;
}

/* How a length is written, by its magnitude. */
enum small { NOT_SMALL, SMALL, SMALLER, SMALLEST };

/* A unit for small lengths: what one of the system's unit holds of it. */
struct small_unit {
    double parts;
    const char *symbol;
};

static enum small
smallness(double magnitude, enum unit_system system)
{
    if (system == UNITS_METRIC) {
        return magnitude < 0.1 ? SMALL : NOT_SMALL;
    }
    if (magnitude < 0.000009995) { /* rounds to less than ten microinches, a tenth of a tenth */
        return SMALLEST;
    }
    if (magnitude < 0.0009995) { /* rounds to less than ten tenths */
        return SMALLER;
    }
    return magnitude < 0.020 ? SMALL : NOT_SMALL;
}

static struct small_unit
small_unit(enum small small, enum unit_system system)
{
    if (system == UNITS_METRIC) {
        return (struct small_unit){1e3, " um"};
    }
    if (small == SMALLEST) {
        return (struct small_unit){1e6, " uin"};
    }
    return small == SMALLER ? (struct small_unit){1e4, " tenths"} : (struct small_unit){1e3, " thou"};
}

/* Less than what a length of the system is written to. */
static bool
is_nothing(double value, enum unit_system system)
{
    return fabs(value) < (system == UNITS_METRIC ? 0.5e-6 : 0.5e-7);
}

static void
write_length(struct text *text, double value, enum unit_system system)
{
    const bool metric = system == UNITS_METRIC;
    const enum small small = smallness(fabs(value), system);

    if (is_nothing(value, system)) {
        text_add(text, metric ? "0 mm" : "0 in");
    } else if (small != NOT_SMALL) {
        const struct small_unit unit = small_unit(small, system);
        add_figures(text, value * unit.parts, FIGURES_SMALL, FIGURES_SMALL);
        text_add(text, small == SMALLER && strcmp(text->at, "1") == 0 ? " tenth" : unit.symbol);
    } else if (metric || !add_binary_fraction(text, value)) {
        if (fabs(value) < 1e6) {
            add_decimal(text, value, metric ? 3 : 4);
        } else {
            add_figures(text, value, FIGURES, 0);
        }
        text_add(text, metric ? " mm" : " in");
    }
}

/* A tenth of a degree is as fine as a temperature is known. */
static int
decimals_of(enum dimension dimension)
{
    return dimension == DIMENSION_TEMPERATURE ? 1 : DECIMALS_MAX;
}

static void
add_unit(struct text *text, const struct unit *unit)
{
    if (strcmp(unit->symbol, "1") != 0) {
        text_join(text, " ", unit->symbol);
    }
}

void
quantity_write(char *buffer, size_t capacity, double si, enum dimension dimension, enum unit_system system)
{
    const struct unit *const unit = unit_of(dimension, system);
    const double value = unit_from_si(unit, si);
    struct text text;

    text_init(&text, buffer, capacity);
    if (!numeric_is_finite(value)) {
        text_add(&text, "not known");
    } else if (dimension == DIMENSION_LENGTH) {
        write_length(&text, value, system);
    } else {
        add_figures(&text, value, FIGURES, decimals_of(dimension));
        add_unit(&text, unit);
    }
}

/* Small lengths share the unit that suits the larger, others the system's. */
static bool
write_one_unit(struct text *text, const double value[2], enum dimension dimension, enum unit_system system)
{
    if (dimension != DIMENSION_LENGTH) {
        add_figures(text, value[0], FIGURES, decimals_of(dimension));
        text_add(text, " to ");
        add_figures(text, value[1], FIGURES, decimals_of(dimension));
        add_unit(text, unit_of(dimension, system));
        return true;
    }
    const double larger = fmax(fabs(value[0]), fabs(value[1]));
    const enum small small = smallness(larger, system);
    if (small == NOT_SMALL || is_nothing(larger, system)) {
        return false;
    }
    const struct small_unit unit = small_unit(small, system);
    for (int i = 0; i < 2; i++) {
        text_add(text, i > 0 ? " to " : "");
        add_figures(text, is_nothing(value[i], system) ? 0.0 : value[i] * unit.parts, FIGURES_SMALL, FIGURES_SMALL);
    }
    text_add(text, unit.symbol);
    return true;
}

void
quantity_write_range(char *buffer, size_t capacity, double low_si, double high_si, enum dimension dimension,
                     enum unit_system system)
{
    const struct unit *const unit = unit_of(dimension, system);
    const double value[2] = {unit_from_si(unit, low_si), unit_from_si(unit, high_si)};
    struct text text;

    text_init(&text, buffer, capacity);
    if (numeric_is_finite(value[0]) && numeric_is_finite(value[1]) && write_one_unit(&text, value, dimension, system)) {
        return;
    }
    char one[QUANTITY_TEXT_SIZE];
    for (int i = 0; i < 2; i++) {
        quantity_write(one, sizeof one, i == 0 ? low_si : high_si, dimension, system);
        text_join(&text, i > 0 ? " to " : "", one);
    }
}
