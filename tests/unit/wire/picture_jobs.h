#ifndef SMALLEND_TESTS_UNIT_WIRE_PICTURE_JOBS_H
#define SMALLEND_TESTS_UNIT_WIRE_PICTURE_JOBS_H

/*
 * Random jobs out of the ranges of job.def: any member may be absent; half of
 * the jobs are of the proportions of an engine, half are anything that passes
 * the validation.
 */

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "joint/job.h"

/* xorshift64*: the same jobs on every machine. */
static inline double
random_share(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717ULL) >> 11) / 9007199254740992.0;
}

static inline double
random_between(uint64_t *seed, double low, double high)
{
    return low * pow(high / low, random_share(seed));
}

/* A value of the member's range, even over its decades. */
static inline double
random_of_range(uint64_t *seed, const struct job_field_row *row)
{
    const double low = row->minimum > 0.0 ? row->minimum : row->maximum * 1e-4;

    return row->minimum <= 0.0 && random_share(seed) < 0.1 ? row->minimum : random_between(seed, low, row->maximum);
}

/* A share of the bore that real joints have, spread; 0 = not of this kind. */
static inline double
usual_over_bore(enum job_field field)
{
    switch ((int)field) {
    case FIELD_engine_stroke: return 1.4;
    case FIELD_engine_rod_length: return 3.2;
    case FIELD_pin_diameter: return 0.25;
    case FIELD_pin_length: return 0.88;
    case FIELD_pin_inside_diameter: return 0.12;
    case FIELD_eye_width: return 0.4;
    case FIELD_eye_outside: return 0.42;
    case FIELD_boss_length: return 0.22;
    case FIELD_boss_gap: return 0.01;
    case FIELD_slot_depth: return 0.025;
    case FIELD_slot_cutter_diameter: return 0.08;
    case FIELD_clamp_bolt_diameter: return 0.07;
    case FIELD_clamp_bolt_offset: return 0.14;
    case FIELD_clamp_bolt_hinge_offset: return 0.17;
    case FIELD_set_screw_flat_depth: return 0.01;
    case FIELD_running_fit_hole: return 0.2505;
    case FIELD_press_fit_housing_bore: return 0.29;
    default: return 0.0;
    }
}

/* Members that would contradict others more often than not. */
static inline bool
would_contradict(enum job_field field)
{
    switch ((int)field) {
    case FIELD_engine_compression_pressure:
    case FIELD_engine_compression_ratio:
    case FIELD_engine_intake_pressure:
    case FIELD_running_fit_pin:
    case FIELD_inspection_accept:
    case FIELD_press_fit_bushing_outside:
    case FIELD_press_fit_bushing_bore:
    case FIELD_press_fit_housing_outside:
    case FIELD_clamp_bolt_thread:
        return true;
    default:
        return false;
    }
}

static inline void
fill_random(uint64_t *seed, struct job *job, enum job_field field, double bore_m)
{
    const struct job_field_row *row = job_field_row(field);
    char *at = (char *)job + row->offset;
    double value = row->maximum > 0.0 ? random_of_range(seed, row) : 0.0;

    if (bore_m > 0.0 && usual_over_bore(field) > 0.0) {
        value = usual_over_bore(field) * bore_m * random_between(seed, 0.75, 1.3);
        value = fmax(row->minimum, fmin(value, row->maximum));
    }
    switch (row->kind) {
    case KIND_NUMBER:
        memcpy(at, &value, sizeof value);
        break;
    case KIND_LIMITS: {
        const struct limits limits = {.min_m = value, .max_m = value * (1.0 + 0.001 * random_share(seed))};
        memcpy(at, &limits, sizeof limits);
        break;
    }
    case KIND_CHOICE: {
        size_t count;
        choice_table(row->choices, &count);
        const int word = (int)(random_share(seed) * (double)count);
        memcpy(at, &word, sizeof word);
        break;
    }
    case KIND_THREAD: {
        static const char *const threads[] = {"M3", "M10", "M36", "1/4-20 UNC", "3/8-16 UNC"};
        struct thread thread;
        if (!thread_read(threads[(size_t)(random_share(seed) * 5.0)], &thread)) {
            return;
        }
        memcpy(at, &thread, sizeof thread);
        break;
    }
    default:
        return; /* metals below; lists and texts do not enter a picture */
    }
    job->state[field] = FIELD_GIVEN;
}

static inline void
random_metals(uint64_t *seed, struct job *job)
{
    size_t steels, metals;
    const struct steel *steel = steel_table(&steels);
    const struct metal *metal = bearing_metal_table(&metals);

    if (random_share(seed) < 0.6) {
        job->pin.steel.row = &steel[(size_t)(random_share(seed) * (double)steels)];
        job->state[FIELD_pin_steel] = FIELD_GIVEN;
    }
    if (random_share(seed) < 0.4) {
        job->eye.bushing.row = &metal[(size_t)(random_share(seed) * (double)metals)];
        job->state[FIELD_eye_bushing] = FIELD_GIVEN;
    }
    if (random_share(seed) < 0.4) {
        job->boss.bushing.row = &metal[(size_t)(random_share(seed) * (double)metals)];
        job->state[FIELD_boss_bushing] = FIELD_GIVEN;
    }
}

/* A slot belongs to a pin that the rod holds, screws to one that the piston does. */
static inline void
drop_unless(struct job *job, enum job_group group, bool fits)
{
    for (int field = 0; field < FIELD_COUNT && !fits; field++) {
        if (job_field_row((enum job_field)field)->group == group) {
            job->state[field] = FIELD_ABSENT;
        }
    }
    if (!fits && group == GROUP_slot) {
        memset(&job->slot, 0, sizeof job->slot);
    } else if (!fits) {
        memset(&job->set_screw, 0, sizeof job->set_screw);
    }
}

/* A job, completed; false where it contradicts itself. */
static inline bool
random_job(uint64_t *seed, struct job *job)
{
    const double kind = random_share(seed), filled = kind < 0.5 ? 0.75 : random_between(seed, 0.03, 0.6);
    const double bore_m = kind < 0.5 ? random_between(seed, 0.03, 1.5) : 0.0;
    struct fault_list faults;

    job_init(job);
    job->units = random_share(seed) < 0.5 ? UNITS_INCH : UNITS_METRIC;
    for (int field = 0; field < FIELD_COUNT; field++) {
        if (random_share(seed) < filled && !(bore_m > 0.0 && would_contradict((enum job_field)field))) {
            fill_random(seed, job, (enum job_field)field, bore_m);
        }
    }
    if (bore_m > 0.0) {
        job->engine.bore_m = bore_m;
        job->state[FIELD_engine_bore] = FIELD_GIVEN;
    }
    random_metals(seed, job);
    drop_unless(job, GROUP_slot, job->pin.held_in == CHOICE_held_in_ROD);
    drop_unless(job, GROUP_set_screw, job->pin.held_in == CHOICE_held_in_PISTON);
    fault_list_init(&faults);
    job_complete(job);
    job_validate(job, &faults);
    return faults.count == 0;
}

#endif
