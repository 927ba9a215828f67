#include "wire/schema_quantity.h"

#include <string.h>

/* Quantities as an answer writes them. */

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
