#ifndef SMALLEND_WIRE_LIMITS_READ_H
#define SMALLEND_WIRE_LIMITS_READ_H

/*
 * Limits of a length: {"min", "max"}, {"nominal", "upper", "lower"},
 * {"nominal", "class"} or one bare quantity.
 */

#include "wire/reader.h"

/* What the limits must be. */
struct limits_kind {
    enum fit_side side;      /* how a class is read; NONE refuses classes */
    double minimum, maximum; /* m, inclusive, of both limits */
};

/* True and *limits, or faults added and *limits untouched. */
bool limits_read(struct reader *reader, const char *pointer, json_t *value, const struct limits_kind *kind,
                 struct limits *limits);

#endif
