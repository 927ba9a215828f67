#include "wire/schema_quantity.h"

#include <math.h>
#include <string.h>

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

/* What a quantity may be: a number, or a text with or without a unit. */
static void
write_read(struct writer *writer, enum dimension dimension)
{
    schema_types(writer, dimension == DIMENSION_COUNT ? "integer" : "number", "string");
    writer_count(writer, "minLength", 1);
    writer_count(writer, "maxLength", 64);
    writer_list(writer, "examples");
    for (size_t i = 0; schema_quantity_example(dimension, i) != NULL; i++) {
        writer_text(writer, NULL, schema_quantity_example(dimension, i));
    }
    writer_list_end(writer);
    writer_text(writer, "x-dimension", dimension_name(dimension));
}

void
schema_quantity_read(struct writer *writer, enum dimension dimension)
{
    char name[SCHEMA_NAME_SIZE];
    schema_quantity_name(name, dimension, SCHEMA_READ);
    writer_object(writer, name);
    describe_read(writer, dimension);
    write_read(writer, dimension);
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
    write_read(writer, dimension);
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

/* ---- written ---- */

static void
write_value(struct writer *writer, bool never_negative)
{
    writer_object(writer, "value");
    writer_text(writer, "type", "number");
    writer_text(writer, "format", "double");
    if (never_negative) {
        writer_count(writer, "minimum", 0);
    }
    writer_text(writer, "description", "Rounded to seven significant digits.");
    writer_object_end(writer);
}

static void
begin_written(struct writer *writer, const char *name, const char *description, bool never_negative)
{
    writer_object(writer, name);
    writer_text(writer, "type", "object");
    writer_text(writer, "description", description);
    writer_list(writer, "required");
    writer_text(writer, NULL, "value");
    writer_text(writer, NULL, "unit");
    writer_list_end(writer);
    writer_object(writer, "properties");
    write_value(writer, never_negative);
}

/* Sizes, forces, stresses, ratios and temperatures have a sign: a clearance may
 * be an interference. */
static bool
is_never_negative(enum dimension dimension)
{
    switch (dimension) {
    case DIMENSION_COUNT:
    case DIMENSION_MASS:
    case DIMENSION_ROTATION:
    case DIMENSION_ROUGHNESS:
    case DIMENSION_VELOCITY:
    case DIMENSION_CUTTING_SPEED:
    case DIMENSION_PV:
    case DIMENSION_AREA:
    case DIMENSION_MODULUS:
    case DIMENSION_DENSITY:
        return true;
    default:
        return false;
    }
}

void
schema_quantity_written(struct writer *writer, enum dimension dimension)
{
    char name[SCHEMA_NAME_SIZE];
    struct words words;
    const char *const inch = unit_of(dimension, UNITS_INCH)->symbol;
    const char *const metric = unit_of(dimension, UNITS_METRIC)->symbol;
    words_init(&words);
    words_sentence(&words, dimension_name(dimension));
    if (strcmp(inch, "1") == 0) {
        words_sentence(&words, "it has no unit, which is written as \"1\"");
    } else if (schema_one_unit(dimension)) {
        text_format(&words.text, " In %s.", inch);
    } else {
        text_format(&words.text, " In %s, or in %s where the job's units is metric.", inch, metric);
    }
    schema_quantity_name(name, dimension, SCHEMA_WRITTEN);
    begin_written(writer, name, words.at, is_never_negative(dimension));
    writer_object(writer, "unit");
    writer_text(writer, "type", "string");
    writer_list(writer, "enum");
    writer_text(writer, NULL, inch);
    if (!schema_one_unit(dimension)) {
        writer_text(writer, NULL, metric);
    }
    writer_list_end(writer);
    writer_text(writer, "description", "Its unit.");
    writer_object_end(writer);
    schema_object_end(writer);
}

void
schema_limits_written(struct writer *writer, enum dimension dimension)
{
    char of[SCHEMA_NAME_SIZE], name[SCHEMA_NAME_SIZE];
    schema_quantity_name(of, dimension, SCHEMA_WRITTEN);
    schema_camel(name, of, "limits", "");
    const struct part pair[] = {
        {"min", PART_REF, true, 0, of, "lower limit"},
        {"max", PART_REF, true, 0, of, "upper limit"},
    };
    schema_object(writer, name, "two limits", PARTS(pair));
}

/* True if an earlier dimension, or the other system, writes this unit too. */
static bool
listed_before(int dimension, enum unit_system system)
{
    const struct unit *const unit = unit_of((enum dimension)dimension, system);
    for (int i = 0; i < dimension; i++) {
        if (unit_of((enum dimension)i, UNITS_INCH) == unit || unit_of((enum dimension)i, UNITS_METRIC) == unit) {
            return true;
        }
    }
    return system == UNITS_METRIC && unit_of((enum dimension)dimension, UNITS_INCH) == unit;
}

static void
write_any_unit(struct writer *writer)
{
    writer_object(writer, "unit");
    writer_text(writer, "type", "string");
    writer_list(writer, "enum");
    for (int i = 0; i < DIMENSION_UNIT_COUNT; i++) {
        for (int system = UNITS_INCH; system <= UNITS_METRIC; system++) {
            if (!listed_before(i, (enum unit_system)system)) {
                writer_text(writer, NULL, unit_of((enum dimension)i, (enum unit_system)system)->symbol);
            }
        }
    }
    writer_list_end(writer);
    writer_text(writer, "description", "Its unit; of a number without one \"1\".");
    writer_object_end(writer);
}

/* "dependentRequired": neither of two members without the other. */
static void
write_together(struct writer *writer, const char *first, const char *second)
{
    writer_list(writer, first);
    writer_text(writer, NULL, second);
    writer_list_end(writer);
    writer_list(writer, second);
    writer_text(writer, NULL, first);
    writer_list_end(writer);
}

/* The members of a value and its unit, or of two limits, each pair whole; the
 * caller ends the object. */
static void
write_value_or_limits(struct writer *writer)
{
    writer_object(writer, "properties");
    write_value(writer, false);
    write_any_unit(writer);
    schema_refer(writer, "min", "Quantity", "of two limits the lower");
    schema_refer(writer, "max", "Quantity", "of two limits the upper");
    writer_object_end(writer);
    writer_count(writer, "minProperties", 2);
    writer_object(writer, "dependentRequired");
    write_together(writer, "value", "unit");
    write_together(writer, "min", "max");
    writer_object_end(writer);
}

void
schema_any_quantity(struct writer *writer)
{
    begin_written(writer, "Quantity", "A value and its unit, of any kind.", false);
    write_any_unit(writer);
    schema_object_end(writer);

    schema_begin(writer, "QuantityOrLimits", "object", "a value and its unit, or two limits, each with its own");
    write_value_or_limits(writer);
    writer_object_end(writer);

    writer_object(writer, "AssumedValue");
    schema_types(writer, "object", "string");
    schema_describe(writer, "a value and its unit, two limits, or a word");
    write_value_or_limits(writer);
    writer_object_end(writer);

    writer_object(writer, "QuantityOrWord");
    schema_types(writer, "object", "string");
    schema_describe(writer, "a value and its unit, or a word");
    writer_list(writer, "required");
    writer_text(writer, NULL, "value");
    writer_text(writer, NULL, "unit");
    writer_list_end(writer);
    writer_object(writer, "properties");
    write_value(writer, false);
    write_any_unit(writer);
    schema_object_end(writer);
}
