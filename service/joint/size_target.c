#include "joint/size_target.h"

#include <math.h>
#include <string.h>

#include "base/text.h"

/* Members of which more is better until something gives: the most that passes
 * is what people ask for. */
static bool
largest_by_nature(enum job_field field)
{
    switch ((int)field) {
    case FIELD_engine_bore:
    case FIELD_engine_speed:
    case FIELD_engine_peak_pressure:
    case FIELD_engine_compression_pressure:
    case FIELD_engine_compression_ratio:
    case FIELD_engine_reciprocating_mass:
    case FIELD_pin_inside_diameter:
    case FIELD_boss_gap:
    case FIELD_slot_depth:
    case FIELD_set_screw_flat_depth:
    case FIELD_running_fit_pin_temperature:
    case FIELD_running_fit_hole_temperature:
    case FIELD_press_fit_temperature:
    case FIELD_demand_axial:
    case FIELD_demand_torque:
        return true;
    default:
        return false;
    }
}

static bool
can_be_sought(const struct job_field_row *row)
{
    switch (row->group) {
    case GROUP_limits:
    case GROUP_find:
    case GROUP_inspection:
    case GROUP_turning:
    case GROUP_machine_taper:
    case GROUP_order:
        return false;
    default:
        return row->kind == KIND_NUMBER || row->kind == KIND_LIMITS || row->kind == KIND_STEEL;
    }
}

/* Does `path` name the row, or with ".min" or ".max" one side of it? */
static bool
names(const char *path, const struct job_field_row *row, enum target_side *side)
{
    const size_t length = strlen(row->path);

    *side = TARGET_WHOLE;
    if (strncmp(path, row->path, length) != 0) {
        return false;
    }
    if (path[length] == '\0') {
        return true;
    }
    *side = strcmp(path + length, ".min") == 0 ? TARGET_MIN : TARGET_MAX;
    return row->kind == KIND_LIMITS && (*side == TARGET_MIN || strcmp(path + length, ".max") == 0);
}

/* The path nearest to a misspelt one, or NULL. */
static const char *
nearest_to(const char *path)
{
    unsigned best = (unsigned)strlen(path) / 3 + 1;
    const char *nearest = NULL;

    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        const unsigned distance = can_be_sought(row) ? text_edit_distance(path, row->path) : best;

        if (distance < best) {
            best = distance;
            nearest = row->path;
        }
    }
    return nearest;
}

bool
target_find(const char *path, struct target *target, const char **nearest)
{
    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        enum target_side side;

        if (can_be_sought(row) && names(path, row, &side)) {
            *target = (struct target){.field = (enum job_field)field,
                                      .side = side,
                                      .of_steel = row->kind == KIND_STEEL,
                                      .whole_numbers = row->dimension == DIMENSION_COUNT && row->kind == KIND_NUMBER,
                                      .largest = largest_by_nature((enum job_field)field) || side == TARGET_MAX,
                                      .dimension = row->dimension};
            *nearest = NULL;
            return true;
        }
    }
    *nearest = nearest_to(path);
    return false;
}

/* Limits of a hole or a clearance lie close to the pin they belong to. */
static bool
range_by_pin(const struct job *job, const struct job_field_row *row, double *from, double *to)
{
    const double d = job->pin.diameter.max_m;

    if (row->kind != KIND_LIMITS || row->side == FIT_SIDE_SHAFT || !job_known(job, FIELD_pin_diameter) ||
        row->group == GROUP_press_fit) {
        return false;
    }
    *from = 0.98 * d;
    *to = 1.02 * d;
    return true;
}

void
target_range(const struct job *job, const struct target *target, double *from, double *to)
{
    const struct job_field_row *row = job_field_row(target->field);

    *from = row->minimum;
    *to = row->maximum;
    if (range_by_pin(job, row, from, to)) {
        return;
    }
    if (row->dimension == DIMENSION_LENGTH && job_known(job, FIELD_engine_bore) && target->field != FIELD_engine_bore) {
        *to = fmin(*to, 4.0 * job->engine.bore_m);
        *from = *from > 0.0 ? fmax(*from, 0.002 * job->engine.bore_m) : 0.0;
    }
}

void
target_drop(struct job *job, const struct target *target)
{
    job->state[target->field] = FIELD_ABSENT;
}

void
target_set(struct job *job, const struct target *target, double si)
{
    void *const value = (char *)job + job_field_row(target->field)->offset;

    job->state[target->field] = FIELD_GIVEN;
    if (job_field_row(target->field)->kind == KIND_LIMITS) {
        struct limits *limits = value;

        limits->min_m = target->side == TARGET_MAX ? limits->min_m : si;
        limits->max_m = target->side == TARGET_MIN ? limits->max_m : si;
        limits->class_name[0] = '\0';
    } else {
        *(double *)value = si;
    }
    /* A bolt named by its thread cannot have another diameter. */
    if (target->field == FIELD_clamp_bolt_diameter) {
        job->state[FIELD_clamp_bolt_thread] = FIELD_ABSENT;
    }
}
