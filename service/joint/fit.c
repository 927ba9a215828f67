#include "joint/fit.h"

#include <math.h>
#include <string.h>

#include "joint/fit_table.h"

/* clang-format off */
static const struct fit_class classes[] = {
#define B41_CLASS(class, how, key, description) {#class, "ANSI B4.1", FIT_SIDE_NONE, description, key},
#define B41(class, over, to, hole_upper, shaft_upper, shaft_lower, least, greatest)
#include "joint/b41.def"
#define ISO_TOLERANCE(over, to, ...)
#define ISO_SHAFT(over, to, ...)
#define ISO_HOLE(over, to, ...)
#define ISO_CLASS(class, side, limit, column, grade, key, description)                                               \
    {#class, "ISO 286", FIT_SIDE_##side, description, key},
#include "joint/iso286.def"
};

/*
 * The hole-basis fits that ISO 286-1 recommends (from memory of its chart),
 * loose to tight, and the three that shops add (judgement): H7/f7, and F7/h6
 * and G7/h6 for pins of ground bar.
 */
#define ISO_FIT(hole, shaft) {#hole "/" #shaft, FIT_ISO286_##hole, FIT_ISO286_##shaft}
static const struct {
    const char *designation;
    enum fit_iso286_class hole, shaft;
} iso_fits[] = {
    ISO_FIT(H9, f8), ISO_FIT(H9, h8), ISO_FIT(H8, f8), ISO_FIT(H8, h8), ISO_FIT(H8, f7), ISO_FIT(H8, h7),
    ISO_FIT(H7, f7), ISO_FIT(H7, f6), ISO_FIT(H7, g6), ISO_FIT(H7, h6), ISO_FIT(F7, h6), ISO_FIT(G7, h6),
    ISO_FIT(H6, g5), ISO_FIT(H6, h5), ISO_FIT(H7, js6), ISO_FIT(H7, k6), ISO_FIT(H7, m6), ISO_FIT(H7, n6),
    ISO_FIT(H7, p6), ISO_FIT(H7, r6), ISO_FIT(H7, s6),
};
/* clang-format on */

enum { CLASS_COUNT = sizeof classes / sizeof classes[0], ISO_FIT_COUNT = sizeof iso_fits / sizeof iso_fits[0] };

/* Sizes are typed in one system and tabulated in the other: what is nearer to
 * a step's boundary than this lies on it. */
static const double SAME_SIZE_m = 1e-9;

const struct fit_class *
fit_class_table(size_t *count)
{
    *count = CLASS_COUNT;
    return classes;
}

bool
fit_class_step(const struct fit_class *row, size_t index, struct fit_step *step)
{
    const size_t which = (size_t)(row - classes);

    return which < FIT_B41_COUNT ? fit_b41_step(which, index, step)
                                 : fit_iso286_step(which - FIT_B41_COUNT, index, step);
}

/* The class of this name: of ISO 286 the case of the letter counts. */
static const struct fit_class *
class_named(const char *name)
{
    for (size_t i = FIT_B41_COUNT; i < CLASS_COUNT; i++) {
        if (classes[i].id[0] == name[0] && strcmp(classes[i].id, name) == 0) {
            return &classes[i];
        }
    }
    for (size_t i = 0; i < FIT_B41_COUNT; i++) {
        if (text_same_ignoring_case(classes[i].id, name)) {
            return &classes[i];
        }
    }
    return NULL;
}

bool
fit_step_takes(double over_m, double to_m, double nominal_m)
{
    return nominal_m > over_m + SAME_SIZE_m && nominal_m <= to_m + SAME_SIZE_m;
}

/* The step of the class that a size falls into. */
static bool
step_at(const struct fit_class *class, double nominal_m, struct fit_step *step)
{
    const size_t which = (size_t)(class - classes);

    return which < FIT_B41_COUNT ? fit_b41_at(which, nominal_m, step)
                                 : fit_iso286_at(which - FIT_B41_COUNT, nominal_m, step);
}

enum fit_status
fit_limits(double nominal_m, const char *class_name, enum fit_side side, struct limits *limits)
{
    const struct fit_class *class = class_named(class_name);
    struct fit_step step;

    if (class == NULL) {
        return FIT_UNKNOWN_CLASS;
    }
    if (class->side == FIT_SIDE_NONE ? side == FIT_SIDE_NONE : side != FIT_SIDE_NONE && side != class->side) {
        return FIT_WRONG_SIDE;
    }
    if (!step_at(class, nominal_m, &step)) {
        return FIT_OUT_OF_RANGE;
    }
    if (class->side == FIT_SIDE_HOLE || side == FIT_SIDE_HOLE) {
        limits->min_m = nominal_m + step.hole_lower_m;
        limits->max_m = nominal_m + step.hole_upper_m;
    } else {
        limits->min_m = nominal_m + step.shaft_lower_m;
        limits->max_m = nominal_m + step.shaft_upper_m;
    }
    limits->nominal_m = nominal_m;
    (void)text_copy(limits->class_name, sizeof limits->class_name, class->id);
    return FIT_OK;
}

/* What is sought, and the matches found so far, nearest first. */
struct search {
    double clearance_min_m, clearance_max_m;
    struct fit_match *match;
    size_t capacity, count;
};

/* Put a fit in its place among the nearest; of equals the earlier stays first. */
static void
offer(struct search *search, const char *designation, const struct fit_step *hole_step,
      const struct fit_step *shaft_step)
{
    struct fit_match match;
    size_t at = search->count;

    match.clearance_min_m = hole_step->hole_lower_m - shaft_step->shaft_upper_m;
    match.clearance_max_m = hole_step->hole_upper_m - shaft_step->shaft_lower_m;
    match.distance_m =
        fabs(match.clearance_min_m - search->clearance_min_m) + fabs(match.clearance_max_m - search->clearance_max_m);
    /* A hair of rounding must not decide between equals. */
    while (at > 0 && match.distance_m < search->match[at - 1].distance_m - SAME_SIZE_m) {
        at--;
    }
    if (at >= search->capacity) {
        return;
    }
    (void)text_copy(match.designation, sizeof match.designation, designation);
    if (search->count < search->capacity) {
        search->count++;
    }
    memmove(&search->match[at + 1], &search->match[at], (search->count - 1 - at) * sizeof match);
    search->match[at] = match;
}

size_t
fit_nearest(double diameter_m, double clearance_min_m, double clearance_max_m, struct fit_match *match, size_t capacity)
{
    struct search search = {clearance_min_m, clearance_max_m, match, capacity, 0};
    struct fit_step hole, shaft, both;
    size_t index, row = 0, which;
    const bool iso = fit_iso286_index(diameter_m, &index);

    for (size_t i = 0; iso && i < ISO_FIT_COUNT; i++) {
        if (fit_iso286_step(iso_fits[i].hole, index, &hole) && fit_iso286_step(iso_fits[i].shaft, index, &shaft)) {
            offer(&search, iso_fits[i].designation, &hole, &shaft);
        }
    }
    while (fit_b41_next(&row, diameter_m, &which, &both)) {
        offer(&search, classes[which].id, &both, &both);
    }
    return search.count;
}
