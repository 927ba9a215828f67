#include "quantity/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/digits.h"
#include "base/numeric.h"
#include "base/text.h"
#include "quantity/number.h"
#include "quantity/plain.h"

enum {
    QUANTITY_MAX = 64, /* bytes; the longest sensible text is half of that */
    QUANTITY_PLAIN_SIZE = 4 * QUANTITY_MAX,
    SHOWN_SIZE = 32 /* of a client's text quoted in a message */
};

/* Spellings that are refused with advice of their own. */
static const struct {
    const char *spelling;
    const char *advice;
} refused[] = {
    {"mil", "A mil is a thousandth of an inch to some and a millimetre to others: say thou or mm."},
    {"mils", "A mil is a thousandth of an inch to some and a millimetre to others: say thou or mm."},
    {"psig", "Say psi: whether the pressure is gauge or absolute is fixed by the member."},
    {"psia", "Say psi: whether the pressure is gauge or absolute is fixed by the member."},
    {"barg", "Say bar: whether the pressure is gauge or absolute is fixed by the member."},
    {"bara", "Say bar: whether the pressure is gauge or absolute is fixed by the member."},
    {"bar(g)", "Say bar: whether the pressure is gauge or absolute is fixed by the member."},
    {"bar(a)", "Say bar: whether the pressure is gauge or absolute is fixed by the member."},
};

static bool
is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool
is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Add every unit of the dimension: "lbf, kip, N, kN or kgf". */
static void
add_accepted(struct text *text, enum dimension dimension)
{
    size_t count = 0;
    const struct unit *const table = unit_table(&count);
    size_t left = 0;

    for (size_t i = 0; i < count; i++) {
        left += unit_measures(&table[i], dimension);
    }
    for (size_t i = 0; i < count; i++) {
        if (unit_measures(&table[i], dimension)) {
            left--;
            text_format(text, "%s%s", table[i].symbol, left > 1 ? ", " : left == 1 ? " or " : "");
        }
    }
}

static bool
begins_with_feet(const char *unit)
{
    return *unit == '\'' || strncmp(unit, "ft", 2) == 0 || strncmp(unit, "feet", 4) == 0 ||
           strncmp(unit, "foot", 4) == 0;
}

/* Whether a number starts somewhere in what should be a unit. */
static bool
holds_number(const char *unit)
{
    for (size_t i = 0; unit[i] != '\0'; i++) {
        if (is_digit(unit[i]) && (i == 0 || strchr(" -+'\".,", unit[i - 1]) != NULL)) {
            return true;
        }
    }
    return false;
}

static bool
names_difference(const char *unit)
{
    return strstr(unit, "dif") != NULL || strstr(unit, "delta") != NULL || strstr(unit, "Delta") != NULL ||
           strstr(unit, "\u0394") != NULL;
}

/* Say what is wrong with `unit`, which no unit of the dimension is spelt as. */
static enum fault_code
explain_unit(const char *unit, enum dimension dimension, struct quantity_reading *reading, struct text *why)
{
    const struct unit *const other = unit_find_any(unit, strlen(unit));
    const struct unit *nearest = NULL;
    char shown[SHOWN_SIZE];

    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        if (text_same_ignoring_case(unit, refused[i].spelling)) {
            text_add(why, refused[i].advice);
            return FAULT_WRONG_UNIT;
        }
    }
    text_copy(shown, sizeof shown, unit);
    nearest = unit_nearest(unit, strlen(unit), dimension);
    if (nearest != NULL) {
        text_copy(reading->nearest, sizeof reading->nearest, nearest->symbol);
    }
    if (other != NULL && strcmp(unit, "1") != 0) {
        text_format(why, "\"%s\" measures %s; %s is wanted here (", shown, dimension_name(other->dimension),
                    dimension_name(dimension));
        add_accepted(why, dimension);
        text_add(why, ").");
        return FAULT_WRONG_UNIT;
    }
    if (holds_number(unit)) {
        text_add(why, begins_with_feet(unit)
                          ? "Feet and inches together are not read: write the whole in inches, 63 in for 5 ft 3 in."
                          : "A quantity is one number and one unit; a second number is not read.");
        return FAULT_BAD_NUMBER;
    }
    if (!is_letter(*unit) && (unsigned char)*unit < 0x80 && strchr("\"'%/:[{", *unit) == NULL) {
        text_format(why, "\"%s\" behind the number is not read; a unit is expected there.", shown);
        return FAULT_BAD_NUMBER;
    }
    if (dimension == DIMENSION_TEMPERATURE && names_difference(unit)) {
        text_add(why, "A temperature is wanted here; a difference of temperatures is not read.");
        return FAULT_WRONG_UNIT;
    }
    text_format(why, "\"%s\" is not known as a unit of %s (", shown, dimension_name(dimension));
    add_accepted(why, dimension);
    text_add(why, ").");
    if (nearest != NULL) {
        text_format(why, " The nearest is %s.", nearest->symbol);
    }
    return FAULT_WRONG_UNIT;
}

/* What stands behind the number: past spaces, or past the hyphen of "5-in". */
static const char *
unit_part(const char *rest)
{
    if (rest[0] == '-' && is_letter(rest[1])) {
        return rest + 1;
    }
    return rest + strspn(rest, " ");
}

static bool
read_plain(char *plain, enum dimension dimension, enum unit_system system, struct quantity_reading *reading,
           struct text *why)
{
    struct number number = {0};
    size_t end = strlen(plain);

    while (end > 0 && plain[end - 1] == ' ') {
        plain[--end] = '\0';
    }
    reading->code = FAULT_BAD_NUMBER;
    if (!number_read(plain, &number, why)) {
        return false;
    }
    const char *const spelt = unit_part(plain + number.used);
    const bool bare = *spelt == '\0';
    const struct unit *const unit = bare ? unit_of(dimension, system) : unit_find(spelt, strlen(spelt), dimension);
    if (unit == NULL) {
        reading->code = explain_unit(spelt, dimension, reading, why);
        return false;
    }
    const double si = unit_to_si(unit, number.value);
    if (!numeric_is_finite(si)) {
        text_add(why, "The number is too large.");
        return false;
    }
    reading->si = si;
    reading->bare = bare;
    return true;
}

bool
quantity_read(const char *text, size_t length, enum dimension dimension, enum unit_system system,
              struct quantity_reading *reading)
{
    char plain_buffer[QUANTITY_PLAIN_SIZE];
    struct text plain, why;

    *reading = (struct quantity_reading){.code = FAULT_BAD_NUMBER};
    text_init(&plain, plain_buffer, sizeof plain_buffer);
    text_init(&why, reading->detail, sizeof reading->detail);
    if (length > QUANTITY_MAX) {
        text_format(&why, "A quantity is written in %d bytes at most.", QUANTITY_MAX);
        return false;
    }
    if (!plain_add(&plain, text, length)) {
        text_add(&why, "The text holds a control character or bytes that are not UTF-8.");
        return false;
    }
    return read_plain(plain_buffer, dimension, system, reading, &why);
}

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
    if (numeric_is_finite(value[0]) && numeric_is_finite(value[1]) &&
        write_one_unit(&text, value, dimension, system)) {
        return;
    }
    char one[QUANTITY_TEXT_SIZE];
    for (int i = 0; i < 2; i++) {
        quantity_write(one, sizeof one, i == 0 ? low_si : high_si, dimension, system);
        text_join(&text, i > 0 ? " to " : "", one);
    }
}
