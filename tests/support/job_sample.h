#ifndef SMALLEND_TESTS_JOB_SAMPLE_H
#define SMALLEND_TESTS_JOB_SAMPLE_H

/*
 * A valid, plain job to alter one thing of: an ordinary old joint with the pin
 * clamped in the rod. Members are set by SET (marks them given).
 */

#include "joint/job.h"

#define SET(job, group, name, member, value) ((job)->state[FIELD_##group##_##name] = FIELD_GIVEN, (job)->group.member = (value))
#define DROP(job, group, name) ((job)->state[FIELD_##group##_##name] = FIELD_ABSENT)

static inline void
set_diameter(struct job *job, double min_m, double max_m)
{
    job->state[FIELD_pin_diameter] = FIELD_GIVEN;
    job->pin.diameter = (struct limits){.min_m = min_m, .max_m = max_m};
}

static inline void
set_steel(struct job *job, const char *id)
{
    bool by_grade;

    job->state[FIELD_pin_steel] = FIELD_GIVEN;
    job->pin.steel.row = steel_find(id, &by_grade);
}

/* Steel by figures of one's own, MPa. */
static inline void
set_own_steel(struct job *job, double tensile, double yield)
{
    struct steel *own = &job->pin.steel.own;

    job->state[FIELD_pin_steel] = FIELD_GIVEN;
    job->pin.steel.row = NULL;
    *own = (struct steel){.id = "certificate", .grade = "certificate", .condition = "", .basis = BASIS_CERTIFICATE};
    own->tensile = (struct figure){.given = true, .si = tensile * 1e6, .si_high = tensile * 1e6};
    own->yield = (struct figure){.given = true, .si = yield * 1e6, .si_high = yield * 1e6};
}

/*
 * The end-to-end example that the reference cases work through: 4.5 in bore,
 * 300 psi, 1 in pin, eye 2 in, gap 3.2 mm, boss 3/4 in, slot 2.94 mm deep cut
 * with a radius of 5.16 mm, steel of 560/310 MPa; no speed, so the gas force
 * alone acts and the load ratio is 0.
 */
static inline void
job_sample(struct job *job)
{
    job_init(job);
    SET(job, engine, bore, bore_m, 0.1143);
    SET(job, engine, stroke, stroke_m, 0.1524);
    SET(job, engine, rod_length, rod_length_m, 0.381);
    SET(job, engine, peak_pressure, peak_pressure_Pa, 2.068427e6);
    SET(job, pin, held_in, held_in, CHOICE_held_in_ROD);
    set_diameter(job, 0.0254, 0.0254);
    SET(job, eye, width, width_m, 0.0508);
    SET(job, boss, gap, gap_m, 0.0032);
    SET(job, boss, length, length_m, 0.01905);
    set_own_steel(job, 560.0, 310.0);
    SET(job, slot, depth, depth_m, 0.00294);
    SET(job, slot, cutter_diameter, cutter_diameter_m, 0.01032);
}

#endif
