#include "joint/size.h"

#include <math.h>

#include "joint/printed.h"
#include "joint/stock.h"

/*
 * Sizes that can be bought or set. Pins as bar is stocked (stock.def), inch
 * lengths in sixteenths, coarse threads of bolts; the rest in the steps that
 * dials and gauges have (common practice, no source).
 */

static const double inch_bolts_in[] = {0.25, 0.3125, 0.375, 0.4375, 0.5, 0.5625, 0.625, 0.75, 0.875, 1.0};
static const double metric_bolts_mm[] = {5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24};

static bool
from_list(const double *list, size_t count, double unit, double si, bool up, double *practical)
{
    bool found = false;

    for (size_t i = 0; i < count; i++) {
        const double size = list[i] * unit;

        if (up ? size >= si * (1.0 - 1e-9) && !found : size <= si * (1.0 + 1e-9)) {
            *practical = size;
            found = true;
        }
    }
    return found;
}
#define LIST(list) (list), sizeof(list) / sizeof((list)[0])

static bool
from_steps(double step, double si, bool up, double *practical)
{
    *practical = (up ? ceil(si / step - 1e-9) : floor(si / step + 1e-9)) * step;
    return *practical > 0.0;
}

/* Step of a length that is set on a dial or marked off, by what it is. */
static double
length_step_m(enum job_field field, bool inch)
{
    switch ((int)field) {
    case FIELD_running_fit_hole:
    case FIELD_running_fit_pin:
    case FIELD_held_fit_hole:
    case FIELD_press_fit_bushing_outside:
    case FIELD_press_fit_housing_bore:
    case FIELD_press_fit_bushing_bore:
        return inch ? 0.0001 * SI_PER_INCH : 0.001 * SI_PER_MM;
    case FIELD_slot_depth:
    case FIELD_clamp_bolt_offset:
    case FIELD_set_screw_flat_depth:
        return inch ? 0.005 * SI_PER_INCH : 0.1 * SI_PER_MM;
    case FIELD_boss_gap:
        return inch ? SI_PER_INCH / 64.0 : 0.25 * SI_PER_MM;
    default:
        return inch ? SI_PER_INCH / 16.0 : 1.0 * SI_PER_MM;
    }
}

static double
step_of(enum dimension dimension, bool inch)
{
    const double psi = unit_to_si(unit_of(DIMENSION_PRESSURE, UNITS_INCH), 1.0);
    const double foot_pound = unit_to_si(unit_of(DIMENSION_TORQUE, UNITS_INCH), 1.0);
    const double pound_force = unit_to_si(unit_of(DIMENSION_FORCE, UNITS_INCH), 1.0);
    const double pound = unit_to_si(unit_of(DIMENSION_MASS, UNITS_INCH), 1.0);

    switch (dimension) {
    case DIMENSION_PRESSURE:
        return inch ? 5.0 * psi : 0.05e6;
    case DIMENSION_TORQUE:
        return inch ? foot_pound : 1.0;
    case DIMENSION_FORCE:
        return inch ? 10.0 * pound_force : 50.0;
    case DIMENSION_MASS:
        return inch ? 0.5 * pound : 0.2;
    case DIMENSION_ROTATION:
        return 10.0 * unit_to_si(unit_of(DIMENSION_ROTATION, UNITS_METRIC), 1.0);
    default:
        return 0.0;
    }
}

bool
size_practical(enum job_field field, enum unit_system units, double si, bool up, double *practical_si)
{
    const bool inch = units == UNITS_INCH;
    const enum dimension dimension = job_field_row(field)->dimension;
    double step;

    if (field == FIELD_clamp_bolt_diameter) {
        return inch ? from_list(LIST(inch_bolts_in), SI_PER_INCH, si, up, practical_si)
                    : from_list(LIST(metric_bolts_mm), SI_PER_MM, si, up, practical_si);
    }
    if (field == FIELD_pin_diameter) {
        *practical_si = up ? stock_next_m(si, units) : stock_below_m(si, units);
        return *practical_si > 0.0;
    }
    step = dimension == DIMENSION_LENGTH ? length_step_m(field, inch) : step_of(dimension, inch);
    return step > 0.0 && from_steps(step, si, up, practical_si);
}
