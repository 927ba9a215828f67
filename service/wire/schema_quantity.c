#include "wire/schema_quantity.h"

#include <math.h>
#include <string.h>

#include "quantity/quantity.h"

static const char *const dimension_id[] = {
#define DIMENSION(id, name, inch, metric) #id,
#include "quantity/dimension.def"
};

/* Texts that each dimension reads; the tables say what units there are, not
 * how people write them. */
enum { EXAMPLE_COUNT = 3 };
static const char *const example[DIMENSION_UNIT_COUNT][EXAMPLE_COUNT] = {
    [DIMENSION_RATIO] = {"4.2", "12 %"},
    [DIMENSION_COUNT] = {"2"},
    [DIMENSION_ANGLE] = {"12.5 deg", "0.2 rad"},
    [DIMENSION_LENGTH] = {"5 1/4 in", "0.8 thou", "34.92 mm"},
    [DIMENSION_FORCE] = {"1200 lbf", "5.3 kN"},
    [DIMENSION_PRESSURE] = {"285 psi", "19 bar", "1.9 MPa"},
    [DIMENSION_MASS] = {"48 lb", "22 kg"},
    [DIMENSION_ROTATION] = {"425 rpm", "7.1 Hz"},
    [DIMENSION_TEMPERATURE] = {"180 degF", "82 degC"},
    [DIMENSION_TORQUE] = {"30 lbf.ft", "360 lbf.in", "40 N.m"},
    [DIMENSION_ROUGHNESS] = {"32 uin", "0.8 um"},
    [DIMENSION_VELOCITY] = {"18.5 ft/min", "0.094 m/s"},
    [DIMENSION_CUTTING_SPEED] = {"70 ft/min", "21 m/min"},
    [DIMENSION_PV] = {"50000 psi.ft/min", "1.75 MPa.m/s"},
    [DIMENSION_AREA] = {"21.6 in2", "139 mm2"},
    [DIMENSION_MODULUS] = {"0.25 in3", "4100 mm3"},
    [DIMENSION_DENSITY] = {"0.284 lb/in3", "7850 kg/m3"},
    [DIMENSION_EXPANSION] = {"6.5 uin/in/degF", "11.7 um/m/K"},
};

const char *
schema_quantity_example(enum dimension dimension, size_t index)
{
    return index < EXAMPLE_COUNT ? example[dimension][index] : NULL;
}

void
schema_quantity_name(char name[SCHEMA_NAME_SIZE], enum dimension dimension, enum schema_side side)
{
    schema_camel(name, "", dimension_id[dimension], side == SCHEMA_READ ? "" : "Value");
}

bool
schema_one_unit(enum dimension dimension)
{
    return unit_of(dimension, UNITS_INCH) == unit_of(dimension, UNITS_METRIC);
}

/* ---- read ---- */

static void
add_unit_list(struct text *text, enum dimension dimension)
{
    size_t count = 0;
    bool any = false;
    const struct unit *unit = unit_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (unit_measures(&unit[i], dimension) && strcmp(unit[i].symbol, "1") != 0) {
            text_format(text, "%s%s", any ? ", " : " Units: ", unit[i].symbol);
            any = true;
        }
    }
    text_add(text, any ? " (GET /v1/units lists every spelling)." : "");
}

static void
describe_read(struct writer *writer, enum dimension dimension)
{
    struct words words;
    const char *const inch = unit_of(dimension, UNITS_INCH)->symbol;
    const char *const metric = unit_of(dimension, UNITS_METRIC)->symbol;
    words_init(&words);
    words_sentence(&words, dimension_name(dimension));
    if (dimension == DIMENSION_COUNT) {
        words_sentence(&words, "a whole number, or the same as text");
    } else if (strcmp(inch, "1") == 0) {
        words_sentence(&words, "a number without a unit, or text");
    } else if (schema_one_unit(dimension)) {
        text_format(&words.text, " A number is in %s; text carries its own unit.", inch);
    } else {
        text_format(&words.text, " A number is in %s, or in %s where units is metric; text carries its own unit.", inch,
                    metric);
    }
    if (dimension != DIMENSION_COUNT) {
        add_unit_list(&words.text, dimension);
    }
    words_write(writer, &words);
}

static bool
is_within(const char *text, enum dimension dimension, double minimum, double maximum)
{
    struct quantity_reading reading;
    return quantity_read(text, strlen(text), dimension, UNITS_INCH, &reading) && reading.si >= minimum &&
           reading.si <= maximum;
}

/* Those that this member would take. */
static void
write_examples(struct writer *writer, enum dimension dimension, double minimum, double maximum)
{
    bool any = false;
    for (size_t i = 0; schema_quantity_example(dimension, i) != NULL; i++) {
        const char *const text = schema_quantity_example(dimension, i);
        if (is_within(text, dimension, minimum, maximum)) {
            if (!any) {
                writer_list(writer, "examples");
            }
            writer_text(writer, NULL, text);
            any = true;
        }
    }
    if (any) {
        writer_list_end(writer);
    }
}

/* What a quantity may be: a number, or a text with or without a unit. */
static void
write_read(struct writer *writer, enum dimension dimension, double minimum, double maximum)
{
    schema_types(writer, dimension == DIMENSION_COUNT ? "integer" : "number", "string");
    writer_count(writer, "minLength", 1);
    writer_count(writer, "maxLength", 64);
    write_examples(writer, dimension, minimum, maximum);
    writer_text(writer, "x-dimension", dimension_name(dimension));
}

void
schema_quantity_read(struct writer *writer, enum dimension dimension)
{
    char name[SCHEMA_NAME_SIZE];
    schema_quantity_name(name, dimension, SCHEMA_READ);
    writer_object(writer, name);
    describe_read(writer, dimension);
    write_read(writer, dimension, -HUGE_VAL, HUGE_VAL);
    writer_object_end(writer);
}

/* ---- ranges ---- */

/* Four figures say enough to a person; no powers of ten below a million. */
static void
add_number(struct text *text, double value)
{
    const double size = fabs(value);
    if (size >= 9999.5 && size < 1.0e9) {
        const double step = pow(10.0, floor(log10(size)) - 3.0);
        text_format(text, "%.0f", round(value / step) * step);
    } else {
        text_format(text, "%.4g", value + 0.0);
    }
}

static void
add_range(struct text *text, const struct unit *unit, double minimum, double maximum)
{
    add_number(text, unit_from_si(unit, minimum));
    text_add(text, " to ");
    add_number(text, unit_from_si(unit, maximum));
    if (strcmp(unit->symbol, "1") != 0) {
        text_format(text, " %s", unit->symbol);
    }
}

void
schema_range_words(struct words *words, enum dimension dimension, double minimum, double maximum)
{
    text_add(&words->text, " From ");
    add_range(&words->text, unit_of(dimension, UNITS_INCH), minimum, maximum);
    if (!schema_one_unit(dimension)) {
        text_add(&words->text, " (");
        add_range(&words->text, unit_of(dimension, UNITS_METRIC), minimum, maximum);
        text_add(&words->text, ")");
    }
    text_add(&words->text, ".");
}

/* What no number may go beyond, whichever the document's units are. */
static void
write_bounds(struct writer *writer, enum dimension dimension, double minimum, double maximum)
{
    const struct unit *const inch = unit_of(dimension, UNITS_INCH), *const metric = unit_of(dimension, UNITS_METRIC);
    writer_exact(writer, "minimum", fmin(unit_from_si(inch, minimum), unit_from_si(metric, minimum)));
    writer_exact(writer, "maximum", fmax(unit_from_si(inch, maximum), unit_from_si(metric, maximum)));
}

static void
write_system_bounds(struct writer *writer, const char *key, const struct unit *unit, double minimum, double maximum)
{
    writer_object(writer, key);
    writer_number(writer, "minimum", unit_from_si(unit, minimum));
    writer_number(writer, "maximum", unit_from_si(unit, maximum));
    writer_text(writer, "unit", unit->symbol);
    writer_object_end(writer);
}

void
schema_range(struct writer *writer, enum dimension dimension, double minimum, double maximum)
{
    writer_object(writer, "x-range");
    write_system_bounds(writer, "inch", unit_of(dimension, UNITS_INCH), minimum, maximum);
    write_system_bounds(writer, "metric", unit_of(dimension, UNITS_METRIC), minimum, maximum);
    writer_object_end(writer);
}

void
schema_quantity_within(struct writer *writer, enum dimension dimension, double minimum, double maximum)
{
    write_read(writer, dimension, minimum, maximum);
    write_bounds(writer, dimension, minimum, maximum);
    schema_range(writer, dimension, minimum, maximum);
}

void
schema_ranged(struct writer *writer, const char *key, enum dimension dimension, double minimum, double maximum,
              const char *phrase)
{
    struct words words;
    words_init(&words);
    words_sentence(&words, phrase);
    schema_range_words(&words, dimension, minimum, maximum);
    writer_object(writer, key);
    words_write(writer, &words);
    schema_quantity_within(writer, dimension, minimum, maximum);
    writer_object_end(writer);
}
