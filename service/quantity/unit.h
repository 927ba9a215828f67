#ifndef SMALLEND_QUANTITY_UNIT_H
#define SMALLEND_QUANTITY_UNIT_H

/*
 * Units and the dimensions they measure. This and unit.def are the only place
 * that knows a conversion factor.
 */

#include <stdbool.h>
#include <stddef.h>

enum dimension {
#define DIMENSION(id, name, inch, metric) DIMENSION_##id,
#include "quantity/dimension.def"
    DIMENSION_UNIT_COUNT /* number of dimensions */
};

enum unit_system { UNITS_INCH, UNITS_METRIC };

struct unit {
    const char *symbol;       /* as written on the wire, "psi" */
    enum dimension dimension;
    double factor;            /* SI value = given x factor + offset */
    double offset;
    const char *ucum;         /* code in the UCUM standard */
    const char *source;       /* where the factor comes from */
};

/* The name of a dimension for people: "length", "pressure or stress". */
const char *dimension_name(enum dimension dimension);

/* The unit a document of this system reads and writes the dimension in. */
const struct unit *unit_of(enum dimension dimension, enum unit_system system);

/*
 * Whether the unit measures the dimension. Roughness is a length, cutting speed
 * a velocity and a count a ratio: they have no rows of their own in the table.
 */
bool unit_measures(const struct unit *unit, enum dimension dimension);

/* Every unit, for the served table. */
const struct unit *unit_table(size_t *count);

/* Every other spelling of a unit, and its number: spelling -> symbol. */
struct unit_alias {
    const char *spelling;
    const char *symbol;
};
const struct unit_alias *unit_alias_table(size_t *count);

/*
 * The unit of this dimension spelt by `length` bytes of `text` (symbol, alias
 * or UCUM code); NULL if there is none. "lb" as a force is not accepted.
 */
const struct unit *unit_find(const char *text, size_t length, enum dimension dimension);

/* Any unit of that spelling, whatever it measures, or NULL. */
const struct unit *unit_find_any(const char *text, size_t length);

/* The unit of this dimension whose spelling is nearest, or NULL if none is near. */
const struct unit *unit_nearest(const char *text, size_t length, enum dimension dimension);

/* Conversion; the offset of temperatures included. */
double unit_to_si(const struct unit *unit, double value);
double unit_from_si(const struct unit *unit, double si);

#endif
