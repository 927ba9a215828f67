#include "quantity/exact.h"

#include <math.h>
#include <stdlib.h>

#include "base/numeric.h"
#include "base/text.h"

enum {
    DIGITS_FEW = 12,  /* as many as anybody writes */
    DIGITS_MANY = 17, /* enough to tell any two doubles apart (IEEE 754) */
    NEIGHBORS = 4     /* of the quotient, looked at on either side */
};

/* What is looked for. */
struct sought {
    double base_si, si;
    enum dimension dimension;
};

static bool
hits(const struct sought *sought, const struct unit *unit, double number)
{
    return sought->base_si + unit_to_si(unit, number) == sought->si;
}

/* `value` rounded to so many digits, as a reader of that text gets it. */
static double
rounded(double value, int digits)
{
    char buffer[40];
    struct text text;
    text_init(&text, buffer, sizeof buffer);
    text_format(&text, "%.*e", digits - 1, value);
    return strtod(buffer, NULL);
}

/* The fewest digits, up to `digits_max`, that do in this unit. */
static bool
find_in_unit(const struct sought *sought, const struct unit *unit, int digits_max, struct exact *exact)
{
    const double quotient = unit_from_si(unit, sought->base_si == 0.0 ? sought->si : sought->si - sought->base_si);
    for (int digits = 1; digits <= digits_max; digits++) {
        const double number = rounded(quotient, digits);
        if (hits(sought, unit, number)) {
            *exact = (struct exact){number, unit};
            return true;
        }
    }
    double below = quotient, above = quotient;
    for (int i = 0; digits_max == DIGITS_MANY && i < NEIGHBORS; i++) {
        below = nextafter(below, -HUGE_VAL);
        above = nextafter(above, HUGE_VAL);
        if (hits(sought, unit, below) || hits(sought, unit, above)) {
            *exact = (struct exact){hits(sought, unit, below) ? below : above, unit};
            return true;
        }
    }
    return false;
}

static bool
find_in_any(const struct sought *sought, enum unit_system system, int digits_max, struct exact *exact)
{
    const enum unit_system other = system == UNITS_INCH ? UNITS_METRIC : UNITS_INCH;
    if (find_in_unit(sought, unit_of(sought->dimension, system), digits_max, exact) ||
        find_in_unit(sought, unit_of(sought->dimension, other), digits_max, exact)) {
        return true;
    }
    size_t count = 0;
    const struct unit *const unit = unit_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (unit_measures(&unit[i], sought->dimension) && find_in_unit(sought, &unit[i], digits_max, exact)) {
            return true;
        }
    }
    return false;
}

bool
exact_find(double base_si, double si, enum dimension dimension, enum unit_system system, bool own_unit,
           struct exact *exact)
{
    const struct sought sought = {base_si, si, dimension};
    if (!numeric_is_finite(si) || !numeric_is_finite(base_si)) {
        return false;
    }
    return (own_unit && find_in_unit(&sought, unit_of(dimension, system), DIGITS_MANY, exact)) ||
           find_in_any(&sought, system, DIGITS_FEW, exact) || find_in_any(&sought, system, DIGITS_MANY, exact);
}
