#ifndef SMALLEND_QUANTITY_EXACT_H
#define SMALLEND_QUANTITY_EXACT_H

/*
 * A value written so that it reads back to the very same bits, in as few
 * digits and as familiar a unit as that allows.
 */

#include "quantity/unit.h"

struct exact {
    double number;           /* in `unit` */
    const struct unit *unit; /* one that measures the dimension */
};

/*
 * The number and unit for which base_si + unit_to_si(unit, number) == si; base_si
 * is 0 for a plain value, the nominal size for a deviation from it. Looked for,
 * in this order: a number of few digits in the unit of `system`, in the other
 * system's, in any unit; then one of many digits. With `own_unit` a number of
 * many digits in the unit of `system` is preferred to another unit.
 *
 * Not every value can be had in every unit: the product with the unit's factor
 * is rounded, and passes some numbers over. Of a plain value there is always
 * one, for each dimension of a job has a unit of factor 1; false if there is
 * none for a deviation, or si is not finite.
 */
bool exact_find(double base_si, double si, enum dimension dimension, enum unit_system system, bool own_unit,
                struct exact *exact) __attribute__((warn_unused_result));

#endif
