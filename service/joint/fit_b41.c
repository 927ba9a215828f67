#include "joint/fit_table.h"

#include "joint/material.h"
#include "joint/printed.h"

/* clang-format off */
enum class {
#define B41_CLASS(class, how, key, description) CLASS_##class,
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest)
#include "joint/b41.def"
    CLASS_COUNT
};
_Static_assert((int)CLASS_COUNT == (int)FIT_B41_COUNT, "classes are numbered as in fit_table.h");

static const enum provenance provenances[CLASS_COUNT] = {
#define B41_CLASS(class, how, key, description) PROVENANCE_##how,
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest)
#include "joint/b41.def"
};

struct b41_row {
    enum class class;
    double over_in, to_in, hole_upper_thou, shaft_upper_thou, shaft_lower_thou;
};

static const struct b41_row rows[] = {
#define B41_CLASS(class, how, key, description)
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest)                                  \
    {CLASS_##class, over, to, hole_upper, shaft_upper, shaft_lower},
#include "joint/b41.def"
};
/* clang-format on */

enum { ROW_COUNT = sizeof rows / sizeof rows[0] };

/* The index-th row of a class, NULL past its last. */
static const struct b41_row *
row_of(size_t which, size_t index)
{
    for (size_t i = 0; i < ROW_COUNT; i++) {
        if ((size_t)rows[i].class == which && index-- == 0) {
            return &rows[i];
        }
    }
    return NULL;
}

static struct fit_step
step_of(const struct b41_row *row)
{
    return (struct fit_step){
        .over_m = row->over_in * SI_PER_INCH,
        .to_m = row->to_in * SI_PER_INCH,
        .has_hole = true,
        .has_shaft = true,
        .hole_lower_m = 0.0, /* hole basis */
        .hole_upper_m = row->hole_upper_thou * SI_PER_THOU,
        .shaft_lower_m = row->shaft_lower_thou * SI_PER_THOU,
        .shaft_upper_m = row->shaft_upper_thou * SI_PER_THOU,
        .provenance = provenance_text(provenances[row->class]),
    };
}

bool
fit_b41_step(size_t which, size_t index, struct fit_step *step)
{
    const struct b41_row *row = row_of(which, index);

    if (row != NULL) {
        *step = step_of(row);
    }
    return row != NULL;
}

bool
fit_b41_next(size_t *row, double nominal_m, size_t *which, struct fit_step *step)
{
    while (*row < ROW_COUNT) {
        const struct b41_row *at = &rows[(*row)++];

        if (fit_step_takes(at->over_in * SI_PER_INCH, at->to_in * SI_PER_INCH, nominal_m)) {
            *which = at->class;
            *step = step_of(at);
            return true;
        }
    }
    return false;
}

bool
fit_b41_at(size_t which, double nominal_m, struct fit_step *step)
{
    struct fit_step found;
    size_t row = 0, class;

    while (fit_b41_next(&row, nominal_m, &class, &found)) {
        if (class == which) {
            *step = found;
            return true;
        }
    }
    return false;
}
