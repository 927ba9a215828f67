#ifndef SMALLEND_JOINT_JOB_H
#define SMALLEND_JOINT_JOB_H

/*
 * The job: what a client told us of the joint, in SI, made from job.def. The
 * carriage code fills it through the descriptors; the engineering reads the
 * members. A member's state says whether the client gave it, a default stands
 * in for it, or it is absent; the value of an absent member is zero and must
 * not be used.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/fault.h"
#include "joint/fit.h"
#include "joint/material.h"
#include "joint/thread.h"
#include "quantity/unit.h"

enum { JOB_LABEL_SIZE = 512 }; /* 120 characters of up to 4 bytes, escaped nowhere */
enum { MATERIAL_BASIS_SIZE = 128 };

/* A steel by its row in the table, or by figures of the client's own. */
struct steel_choice {
    const struct steel *row; /* NULL: own holds the figures */
    struct steel own;
    char basis[MATERIAL_BASIS_SIZE];
    bool by_grade; /* a grade was named, its usual condition was taken */
};

struct metal_choice {
    const struct metal *row; /* NULL: own holds the figures */
    struct metal own;
    char basis[MATERIAL_BASIS_SIZE];
};

/* A quantity whose dimension is not known while reading. */
struct raw_quantity {
    bool is_number;
    double number;
    char text[48];
};

/* One micrometer reading. */
struct reading {
    bool has_at, has_around;
    double at_m;       /* from one end */
    double around_rad; /* around the part */
    double size_m;
};

/* The words of each choice set: enum choice_cycle { CYCLE_FOUR_STROKE ... } is
 * spelt CHOICE_cycle_FOUR_STROKE. */
#define CHOICE_SET(set) enum choice_##set {
#define CHOICE(set, id, text, meaning) CHOICE_##set##_##id,
#define CHOICE_SET_END(set) CHOICE_##set##_COUNT };
#include "joint/choice.def"

enum choice_set {
#define CHOICE_SET(set) CHOICE_SET_##set,
#define CHOICE(set, id, text, meaning)
#define CHOICE_SET_END(set)
#include "joint/choice.def"
    CHOICE_SET_COUNT
};

/* One struct per group: struct job_engine { double bore_m; ... }. */
#define GROUP(group, path, meaning) struct job_##group {
#define NUMBER(group, name, suffix, dimension, min, max, meaning) double name##_##suffix;
#define LIMITS(group, name, side, min, max, meaning) struct limits name;
#define CHOICE_OF(group, name, set, meaning) int name;
#define TEXT(group, name, size, meaning) char name[size];
#define FLAG(group, name, meaning) bool name;
#define STEEL(group, name, meaning) struct steel_choice name;
#define METAL(group, name, meaning) struct metal_choice name;
#define THREAD(group, name, meaning) struct thread name;
#define NUMBERS(group, name, suffix, dimension, size, min, max, meaning) double name##_##suffix[size]; size_t name##_count;
#define NAMES(group, name, count, size, meaning) char name[count][size]; size_t name##_count;
#define RAW(group, name, meaning) struct raw_quantity name;
#define READINGS(group, name, size, meaning) struct reading name[size]; size_t name##_count;
#define GROUP_END(group) };
#include "joint/job.def"

/* One id per member: FIELD_engine_bore. */
enum job_field {
#define GROUP(group, path, meaning)
#define NUMBER(group, name, suffix, dimension, min, max, meaning) FIELD_##group##_##name,
#define LIMITS(group, name, side, min, max, meaning) FIELD_##group##_##name,
#define CHOICE_OF(group, name, set, meaning) FIELD_##group##_##name,
#define TEXT(group, name, size, meaning) FIELD_##group##_##name,
#define FLAG(group, name, meaning) FIELD_##group##_##name,
#define STEEL(group, name, meaning) FIELD_##group##_##name,
#define METAL(group, name, meaning) FIELD_##group##_##name,
#define THREAD(group, name, meaning) FIELD_##group##_##name,
#define NUMBERS(group, name, suffix, dimension, size, min, max, meaning) FIELD_##group##_##name,
#define NAMES(group, name, count, size, meaning) FIELD_##group##_##name,
#define RAW(group, name, meaning) FIELD_##group##_##name,
#define READINGS(group, name, size, meaning) FIELD_##group##_##name,
#define GROUP_END(group)
#include "joint/job.def"
    FIELD_COUNT,
    FIELD_NONE = FIELD_COUNT,
    FIELD_units /* the document's own member "units", only as a place to point at */
};

enum job_group {
#define GROUP(group, path, meaning) GROUP_##group,
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
    GROUP_COUNT
};

enum field_state { FIELD_ABSENT, FIELD_GIVEN, FIELD_ASSUMED };

struct job {
    enum unit_system units;
    bool units_given;
    bool bare_numbers; /* some quantity came without a unit */
    char label[JOB_LABEL_SIZE];
    unsigned char state[FIELD_COUNT]; /* enum field_state */
#define GROUP(group, path, meaning) struct job_##group group;
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

/* ---- descriptors, for carriage and documents ---- */

enum field_kind {
    KIND_NUMBER, KIND_LIMITS, KIND_CHOICE, KIND_TEXT, KIND_FLAG, KIND_STEEL,
    KIND_METAL, KIND_THREAD, KIND_NUMBERS, KIND_NAMES, KIND_RAW, KIND_READINGS
};

struct job_field_row {
    enum job_group group;
    const char *name;
    const char *pointer;      /* "/engine/bore" */
    const char *path;         /* "engine.bore" */
    enum field_kind kind;
    enum dimension dimension; /* NUMBER, NUMBERS; LENGTH for LIMITS */
    double minimum, maximum;  /* NUMBER, NUMBERS, LIMITS: SI, inclusive */
    enum fit_side side;       /* LIMITS */
    enum choice_set choices;  /* CHOICE */
    size_t offset;            /* of the value within struct job */
    size_t count_offset;      /* of the number of entries: lists */
    size_t capacity;          /* TEXT: bytes; lists: entries */
    size_t entry_size;        /* NAMES: bytes of an entry */
    const char *meaning;
};

/* Row of a field; `field` < FIELD_COUNT. */
const struct job_field_row *job_field_row(enum job_field field);

/* The JSON pointer of a field, FIELD_units included. */
const char *job_field_pointer(enum job_field field);

struct job_group_row {
    const char *name;    /* "engine", "machine_taper" */
    const char *path;    /* "engine", "turning/machine_taper" */
    const char *pointer; /* "/engine", "/turning/machine_taper" */
    const char *meaning;
};
const struct job_group_row *job_group_row(enum job_group group);

/* Words of a choice set. */
struct choice_row {
    const char *text;
    const char *meaning;
};
const struct choice_row *choice_table(enum choice_set set, size_t *count);

/* ---- the job itself ---- */

/* An empty job: inch units, every member absent, all bytes defined. */
void job_init(struct job *job);

/* Absent, given or assumed? */
static inline bool job_given(const struct job *job, enum job_field field) { return job->state[field] == FIELD_GIVEN; }
static inline bool job_known(const struct job *job, enum job_field field) { return job->state[field] != FIELD_ABSENT; }

/* Any member of the group given? */
bool job_group_given(const struct job *job, enum job_group group);

/*
 * Fill the members that have a default and were not given (default.def), in an
 * order that lets a default rest on an earlier one; a member whose default
 * needs something absent stays absent. Call once, before job_validate.
 */
void job_complete(struct job *job);

/* Why a default holds: the sentence of default.def; NULL if it has none. */
const char *job_default_because(enum job_field field);

/* Words for the default of the published schema, "" if it has none. */
const char *job_default_text(enum job_field field);

/*
 * Refuse what contradicts itself (a bore wider than its pin, a rod shorter
 * than the crank, one size given twice and differently), naming both members.
 * Adds FAULT_CONTRADICTION entries; the job must be completed.
 */
void job_validate(const struct job *job, struct fault_list *faults);

/* The steel and metals chosen; NULL if absent. */
const struct steel *job_steel(const struct job *job);
const struct metal *job_metal(const struct job *job, enum job_field field);

#endif
