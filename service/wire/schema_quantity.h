#ifndef SMALLEND_WIRE_SCHEMA_QUANTITY_H
#define SMALLEND_WIRE_SCHEMA_QUANTITY_H

/* Schemas of quantities: as a job gives them, and as an answer writes them. */

#include "wire/schema_part.h"

enum schema_side { SCHEMA_READ, SCHEMA_WRITTEN };

/* "Length" where it is read, "LengthValue" where it is written. */
void schema_quantity_name(char name[SCHEMA_NAME_SIZE], enum dimension dimension, enum schema_side side);

/* The definition of a quantity of this dimension. */
void schema_quantity_read(struct writer *writer, enum dimension dimension);
void schema_quantity_written(struct writer *writer, enum dimension dimension);

/* {"min": ..., "max": ...} of this dimension: "LengthValueLimits". */
void schema_limits_written(struct writer *writer, enum dimension dimension);

/* A quantity of any dimension as an answer writes it: "Quantity"; it or two
 * limits: "QuantityOrLimits"; it or a word: "QuantityOrWord"; any of the three:
 * "AssumedValue". */
void schema_any_quantity(struct writer *writer);

/* True where both systems write the dimension in one unit. */
bool schema_one_unit(enum dimension dimension);

/* "From 0.3937 to 78.74 in (10 to 2000 mm)." of a range in SI. */
void schema_range_words(struct words *words, enum dimension dimension, double minimum, double maximum);

/* The same for programs: "x-range", with the ends and the unit of both unit systems. */
void schema_range(struct writer *writer, enum dimension dimension, double minimum, double maximum);

/*
 * A quantity within a range, in place: what it may be, "x-range", and as
 * "minimum" and "maximum" what a number cannot go beyond in either system.
 */
void schema_quantity_within(struct writer *writer, enum dimension dimension, double minimum, double maximum);

/* A member that is one, described. */
void schema_ranged(struct writer *writer, const char *key, enum dimension dimension, double minimum, double maximum,
                   const char *phrase);

/* A quantity as a job of this dimension might give it, for examples: a number,
 * and texts with a unit; NULL past the last. */
const char *schema_quantity_example(enum dimension dimension, size_t index);

#endif
