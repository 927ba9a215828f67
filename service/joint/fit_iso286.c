#include "joint/fit_table.h"

#include "joint/material.h"
#include "joint/printed.h"

enum { GRADE_FIRST = 5, GRADE_LAST = 11 };

/* clang-format off */
enum shaft_column { shaft_d, shaft_e, shaft_f, shaft_g, shaft_h, shaft_k, shaft_m, shaft_n, shaft_p, shaft_r, shaft_s };
enum hole_column {
    hole_D, hole_E, hole_F, hole_G, hole_H,
    hole_K6, hole_K7, hole_K8, hole_M6, hole_M7, hole_M8, hole_N6, hole_N7, hole_N8, hole_N9,
    hole_P6, hole_P7, hole_P8, hole_P9, hole_R7, hole_S7
};
enum { none = 0 }; /* js, JS: no column */

struct tolerance_row { short over_mm, to_mm, it_um[GRADE_LAST - GRADE_FIRST + 1]; };
struct shaft_row { short over_mm, to_mm, deviation_um[shaft_s + 1]; };
struct hole_row { short over_mm, to_mm, deviation_um[hole_S7 + 1]; };

static const struct tolerance_row tolerances[] = {
#define ISO_TOLERANCE(over, to, ...) {over, to, {__VA_ARGS__}},
#define ISO_SHAFT(over, to, ...)
#define ISO_HOLE(over, to, ...)
#define ISO_CLASS(class, side, limit, column, grade, key, description)
#include "joint/iso286.def"
};

static const struct shaft_row shafts[] = {
#define ISO_TOLERANCE(over, to, ...)
#define ISO_SHAFT(over, to, ...) {over, to, {__VA_ARGS__}},
#define ISO_HOLE(over, to, ...)
#define ISO_CLASS(class, side, limit, column, grade, key, description)
#include "joint/iso286.def"
};

static const struct hole_row holes[] = {
#define ISO_TOLERANCE(over, to, ...)
#define ISO_SHAFT(over, to, ...)
#define ISO_HOLE(over, to, ...) {over, to, {__VA_ARGS__}},
#define ISO_CLASS(class, side, limit, column, grade, key, description)
#include "joint/iso286.def"
};

/* Which limit of size the tabulated deviation gives. */
enum limit { LIMIT_UPPER, LIMIT_LOWER, LIMIT_CENTRE };

struct iso_class {
    enum fit_side side;
    enum limit limit;
    int column;
    int grade;
};

static const struct iso_class classes[FIT_ISO286_COUNT] = {
#define ISO_TOLERANCE(over, to, ...)
#define ISO_SHAFT(over, to, ...)
#define ISO_HOLE(over, to, ...)
#define ISO_CLASS(class, side, limit, column, grade, key, description) {FIT_SIDE_##side, LIMIT_##limit, column, grade},
#include "joint/iso286.def"
};
/* clang-format on */

enum { STEP_COUNT = sizeof tolerances / sizeof tolerances[0] };
_Static_assert(sizeof shafts / sizeof shafts[0] == STEP_COUNT, "shafts and tolerances have the same steps");
_Static_assert(sizeof holes / sizeof holes[0] == STEP_COUNT, "holes and tolerances have the same steps");

/* Sizes up to here were read for the holes M to S; beyond, see iso286.def. */
enum { HOLES_READ_TO_MM = 65 };

static enum provenance
provenance_of(const struct iso_class *class, const struct tolerance_row *row)
{
    const bool tight_hole = class->side == FIT_SIDE_HOLE && class->column >= hole_M6;

    return tight_hole && row->to_mm > HOLES_READ_TO_MM ? PROVENANCE_DERIVED : PROVENANCE_READ;
}

/* Lower and upper deviation, um. */
static void
deviations_um(const struct iso_class *class, size_t index, double *lower, double *upper)
{
    const double width = tolerances[index].it_um[class->grade - GRADE_FIRST];
    const double tabulated = class->side == FIT_SIDE_HOLE ? holes[index].deviation_um[class->column]
                                                          : shafts[index].deviation_um[class->column];

    switch (class->limit) {
    case LIMIT_UPPER:
        *upper = tabulated;
        break;
    case LIMIT_LOWER:
        *upper = tabulated + width;
        break;
    case LIMIT_CENTRE:
    default:
        *upper = width / 2.0;
        break;
    }
    *lower = *upper - width;
}

bool
fit_iso286_index(double nominal_m, size_t *index)
{
    for (size_t i = 0; i < STEP_COUNT; i++) {
        if (fit_step_takes(tolerances[i].over_mm * SI_PER_MM, tolerances[i].to_mm * SI_PER_MM, nominal_m)) {
            *index = i;
            return true;
        }
    }
    return false;
}

bool
fit_iso286_at(size_t which, double nominal_m, struct fit_step *step)
{
    size_t index;

    return fit_iso286_index(nominal_m, &index) && fit_iso286_step(which, index, step);
}

bool
fit_iso286_step(size_t which, size_t index, struct fit_step *step)
{
    const struct iso_class *class = &classes[which];
    double lower, upper;

    if (index >= STEP_COUNT) {
        return false;
    }
    deviations_um(class, index, &lower, &upper);
    *step = (struct fit_step){
        .over_m = tolerances[index].over_mm * SI_PER_MM,
        .to_m = tolerances[index].to_mm * SI_PER_MM,
        .provenance = provenance_text(provenance_of(class, &tolerances[index])),
    };
    if (class->side == FIT_SIDE_HOLE) {
        step->has_hole = true;
        step->hole_lower_m = lower * SI_PER_UM;
        step->hole_upper_m = upper * SI_PER_UM;
    } else {
        step->has_shaft = true;
        step->shaft_lower_m = lower * SI_PER_UM;
        step->shaft_upper_m = upper * SI_PER_UM;
    }
    return true;
}
