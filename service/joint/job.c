#include "joint/job.h"

#include <string.h>

/* The rows of job.def as descriptors. */

static const struct job_group_row group_rows[GROUP_COUNT] = {
#define GROUP(group, path, meaning) {#group, path, "/" path, meaning},
#define NUMBER(group, name, suffix, dimension, min, max, meaning)
#define LIMITS(group, name, side, min, max, meaning)
#define CHOICE_OF(group, name, set, meaning)
#define TEXT(group, name, size, meaning)
#define FLAG(group, name, meaning)
#define STEEL(group, name, meaning)
#define METAL(group, name, meaning)
#define THREAD(group, name, meaning)
#define NUMBERS(group, name, suffix, dimension, size, min, max, meaning)
#define NAMES(group, name, count, size, meaning)
#define RAW(group, name, meaning)
#define READINGS(group, name, size, meaning)
#define GROUP_END(group)
#include "joint/job.def"
};

/*
 * The path of each group once more, as a literal that can be joined with the
 * names of its members at compile time; test_chain compares them with job.def.
 */
#define PATH_engine "engine"
#define PATH_pin "pin"
#define PATH_eye "eye"
#define PATH_boss "boss"
#define PATH_slot "slot"
#define PATH_clamp_bolt "clamp_bolt"
#define PATH_set_screw "set_screw"
#define PATH_running_fit "running_fit"
#define PATH_held_fit "held_fit"
#define PATH_press_fit "press_fit"
#define PATH_demand "demand"
#define PATH_limits "limits"
#define PATH_find "find"
#define PATH_inspection "inspection"
#define PATH_turning "turning"
#define PATH_machine_taper "turning/machine_taper"
#define PATH_order "order"

#define ROW(group, name, kind, dimension, min, max, side, choices, member, count_at, size, entry, meaning)            \
    {GROUP_##group, #name, "/" PATH_##group "/" #name, PATH_##group "." #name, kind, dimension, min, max, side,        \
     choices, offsetof(struct job, group.member), count_at, size, entry, meaning},
#define NO_SET CHOICE_SET_COUNT

static const struct job_field_row field_rows[FIELD_COUNT] = {
#define GROUP(group, path, meaning)
#define NUMBER(group, name, suffix, dimension, min, max, meaning)                                                      \
    ROW(group, name, KIND_NUMBER, DIMENSION_##dimension, min, max, FIT_SIDE_NONE, NO_SET, name##_##suffix, 0, 0, 0,   \
        meaning)
#define LIMITS(group, name, side, min, max, meaning)                                                                   \
    ROW(group, name, KIND_LIMITS, DIMENSION_LENGTH, min, max, FIT_SIDE_##side, NO_SET, name, 0, 0, 0, meaning)
#define CHOICE_OF(group, name, set, meaning)                                                                           \
    ROW(group, name, KIND_CHOICE, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, CHOICE_SET_##set, name, 0, 0, 0, meaning)
#define TEXT(group, name, size, meaning)                                                                               \
    ROW(group, name, KIND_TEXT, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, size, 0, meaning)
#define FLAG(group, name, meaning)                                                                                     \
    ROW(group, name, KIND_FLAG, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, 0, 0, meaning)
#define STEEL(group, name, meaning)                                                                                    \
    ROW(group, name, KIND_STEEL, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, 0, 0, meaning)
#define METAL(group, name, meaning)                                                                                    \
    ROW(group, name, KIND_METAL, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, 0, 0, meaning)
#define THREAD(group, name, meaning)                                                                                   \
    ROW(group, name, KIND_THREAD, DIMENSION_LENGTH, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, 0, 0, meaning)
#define NUMBERS(group, name, suffix, dimension, size, min, max, meaning)                                               \
    ROW(group, name, KIND_NUMBERS, DIMENSION_##dimension, min, max, FIT_SIDE_NONE, NO_SET, name##_##suffix,            \
        offsetof(struct job, group.name##_count), size, 0, meaning)
#define NAMES(group, name, count, size, meaning)                                                                       \
    ROW(group, name, KIND_NAMES, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name,                                   \
        offsetof(struct job, group.name##_count), count, size, meaning)
#define RAW(group, name, meaning)                                                                                      \
    ROW(group, name, KIND_RAW, DIMENSION_COUNT, 0, 0, FIT_SIDE_NONE, NO_SET, name, 0, 0, 0, meaning)
#define READINGS(group, name, size, meaning)                                                                           \
    ROW(group, name, KIND_READINGS, DIMENSION_LENGTH, 0, 0, FIT_SIDE_NONE, NO_SET, name,                               \
        offsetof(struct job, group.name##_count), size, 0, meaning)
#define GROUP_END(group)
#include "joint/job.def"
};

const struct job_field_row *
job_field_row(enum job_field field)
{
    return &field_rows[field];
}

const char *
job_field_pointer(enum job_field field)
{
    if (field == FIELD_units) {
        return "/units";
    }
    return field < FIELD_COUNT ? field_rows[field].pointer : "";
}

const struct job_group_row *
job_group_row(enum job_group group)
{
    return &group_rows[group];
}

#define CHOICE_SET(set) static const struct choice_row choice_##set##_rows[] = {
#define CHOICE(set, id, text, meaning) {text, meaning},
#define CHOICE_SET_END(set) };
#include "joint/choice.def"

const struct choice_row *
choice_table(enum choice_set set, size_t *count)
{
    switch (set) {
#define CHOICE_SET(name)                                                                                              \
    case CHOICE_SET_##name:                                                                                           \
        *count = sizeof choice_##name##_rows / sizeof choice_##name##_rows[0];                                        \
        return choice_##name##_rows;
#define CHOICE(name, id, text, meaning)
#define CHOICE_SET_END(name)
#include "joint/choice.def"
    case CHOICE_SET_COUNT:
        break;
    }
    *count = 0;
    return NULL;
}

void
job_init(struct job *job)
{
    memset(job, 0, sizeof *job);
}

bool
job_group_given(const struct job *job, enum job_group group)
{
    for (int field = 0; field < FIELD_COUNT; field++) {
        if (field_rows[field].group == group && job->state[field] == FIELD_GIVEN) {
            return true;
        }
    }
    return false;
}

const struct steel *
job_steel(const struct job *job)
{
    if (!job_known(job, FIELD_pin_steel)) {
        return NULL;
    }
    return job->pin.steel.row != NULL ? job->pin.steel.row : &job->pin.steel.own;
}

const struct metal *
job_metal(const struct job *job, enum job_field field)
{
    const struct metal_choice *choice;

    if (!job_known(job, field)) {
        return NULL;
    }
    choice = (const struct metal_choice *)(const void *)((const char *)job + field_rows[field].offset);
    return choice->row != NULL ? choice->row : &choice->own;
}
