#include "quantity/quantity.h"

#include <string.h>

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
