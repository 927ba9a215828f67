#ifndef SMALLEND_WIRE_SIZE_TEXT_H
#define SMALLEND_WIRE_SIZE_TEXT_H

#include <stddef.h>

#include "joint/job.h"
#include "quantity/unit.h"

enum { SIZE_TEXT_MAX = 32, SIZE_TEXT_RANGE_MAX = 2 * SIZE_TEXT_MAX + 8 };

/* A size as a micrometer shows it, zeros at the end kept: "1.2500 in",
 * "38.000 mm". */
void size_text_write(char *buffer, size_t capacity, double size_m, enum unit_system system);

/* The last digit that size_text_write shows, as a length. */
double size_text_step_m(enum unit_system system);

/* A difference of sizes on the same dial: "0.35 thou", "0.010 mm". */
void size_text_difference(char *buffer, size_t capacity, double difference_m, enum unit_system system);

/* Two sizes, "1.3747 in to 1.3750 in", written once where they read alike. */
void size_text_range(char *buffer, size_t capacity, double low_m, double high_m, enum unit_system system);

/* The same for limits to work to, rounded inward: whatever lies between the two
 * as written lies within them. Limits that hold no step of the writing between
 * them, finer than a micrometer tells, are rounded to the nearest. */
void size_text_limits(char *buffer, size_t capacity, const struct limits *limits, enum unit_system system);

/* How much of a limit is used: "66 %", and "over 1000 %" beyond ten times,
 * where the figure says no more than that. */
void size_text_share(char *buffer, size_t capacity, double share);

#endif
