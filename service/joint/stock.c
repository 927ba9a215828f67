#include "joint/stock.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "joint/printed.h"

static const struct {
    enum unit_system units;
    double size_m;
} sizes[] = {
#define STOCK_SIZE(units, mm) {UNITS_##units, (mm)*SI_PER_MM},
#define STOCK_STEP(units, to, step)
#include "joint/stock.def"
};

#define STOCK_UNIT_INCH SI_PER_INCH
#define STOCK_UNIT_METRIC SI_PER_MM
static const struct {
    enum unit_system units;
    double to_m, step_m;
} steps[] = {
#define STOCK_SIZE(units, mm)
#define STOCK_STEP(units, to, step) {UNITS_##units, (to)*STOCK_UNIT_##units, (step)*STOCK_UNIT_##units},
#include "joint/stock.def"
};

/* A bar of just the size serves, whatever rounding says. */
static bool
at_least(double size_m, double mark_m)
{
    return size_m >= mark_m * (1.0 - 1e-9);
}

double
stock_next_m(double least_m, enum unit_system units)
{
    double size_m = 0.0;

    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        if (sizes[i].units == units && at_least(sizes[i].size_m, least_m)) {
            return sizes[i].size_m;
        }
    }
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        if (steps[i].units == units) {
            size_m = fmax(1.0, ceil(least_m / steps[i].step_m * (1.0 - 1e-9))) * steps[i].step_m;
            if (at_least(steps[i].to_m, size_m)) {
                return size_m;
            }
        }
    }
    return size_m;
}

double
stock_below_m(double most_m, enum unit_system units)
{
    const size_t step_count = sizeof steps / sizeof steps[0];
    double below_m = 0.0, from_m = 0.0;

    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        if (sizes[i].units == units) {
            from_m = sizes[i].size_m;
            below_m = at_least(most_m, from_m) ? from_m : below_m;
        }
    }
    for (size_t i = 0; i < step_count; i++) {
        if (steps[i].units == units) {
            const bool goes_on = i + 1 == step_count || steps[i + 1].units != units;
            const double size_m = floor(most_m / steps[i].step_m * (1.0 + 1e-9)) * steps[i].step_m;

            if (size_m > from_m) {
                below_m = goes_on || at_least(steps[i].to_m, size_m) ? size_m : steps[i].to_m;
            }
            from_m = steps[i].to_m;
        }
    }
    return below_m;
}
