#include "joint/job.h"

#include <math.h>

#include "joint/load.h"

/*
 * Contradictions: what no engine can be, whatever the figures. Each names both
 * members, so that a front end can mark them.
 */

/* Two sizes of one part may differ by this much before they contradict. */
#define SAME_PART_SHARE 0.01
/* A bushing and its housing may differ by this much: no press fit does. */
#define PRESS_SHARE 0.02
/* A rod hardly longer than the crank cannot turn over. */
#define ROD_OVER_CRANK_MIN 1.02

static bool
both(const struct job *job, enum job_field a, enum job_field b)
{
    return job_known(job, a) && job_known(job, b);
}

/* Record that `a` contradicts `b`; the sentence tells why. */
static void
contradicts(struct fault_list *faults, enum job_field a, enum job_field b, const char *why)
{
    fault_add(faults, FAULT_CONTRADICTION, job_field_pointer(a), "%s and %s contradict: %s", job_field_pointer(a),
              job_field_pointer(b), why);
}

static void
contradicts_if(bool wrong, struct fault_list *faults, enum job_field a, enum job_field b, const char *why)
{
    if (wrong) {
        contradicts(faults, a, b, why);
    }
}

static void
validate_engine(const struct job *job, struct fault_list *faults)
{
    double gauge_Pa, ratio;

    contradicts_if(both(job, FIELD_engine_rod_length, FIELD_engine_stroke) &&
                       job->engine.rod_length_m < ROD_OVER_CRANK_MIN * job->engine.stroke_m / 2.0,
                   faults, FIELD_engine_rod_length, FIELD_engine_stroke, "the rod is shorter than the crank");
    contradicts_if(job_given(job, FIELD_engine_peak_pressure) && job_given(job, FIELD_engine_compression_pressure) &&
                       job->engine.peak_pressure_Pa < job->engine.compression_pressure_Pa,
                   faults, FIELD_engine_peak_pressure, FIELD_engine_compression_pressure,
                   "the peak is below the compression pressure");
    if (load_compression_gauge_Pa(job, &gauge_Pa) && gauge_Pa <= 0.0) {
        contradicts(faults, FIELD_engine_compression_ratio, FIELD_engine_intake_pressure,
                    "compression would end below the atmosphere");
    } else if (load_curve_ratio(job, &ratio) && ratio <= 1.0) {
        contradicts(faults,
                    job_known(job, FIELD_engine_compression_pressure) ? FIELD_engine_compression_pressure
                                                                      : FIELD_engine_peak_pressure,
                    FIELD_engine_intake_pressure,
                    "the intake pressure is above the pressure at the end of compression");
    }
}

/* What the pin's length leaves for the bosses. */
static bool
no_room_for_bosses(const struct job *job)
{
    return both(job, FIELD_pin_length, FIELD_eye_width) && job_known(job, FIELD_boss_gap) &&
           job->pin.length_m - job->eye.width_m - 2.0 * job->boss.gap_m <= 0.0;
}

static void
validate_pin(const struct job *job, struct fault_list *faults)
{
    const double bore = job->engine.bore_m;

    contradicts_if(job_known(job, FIELD_pin_diameter) && job->pin.inside_diameter_m >= job->pin.diameter.min_m, faults,
                   FIELD_pin_inside_diameter, FIELD_pin_diameter, "the bore of the pin is as wide as the pin");
    contradicts_if(both(job, FIELD_pin_diameter, FIELD_engine_bore) && job->pin.diameter.max_m >= bore, faults,
                   FIELD_pin_diameter, FIELD_engine_bore, "the pin is thicker than the cylinder");
    contradicts_if(both(job, FIELD_pin_length, FIELD_engine_bore) && job->pin.length_m >= bore, faults,
                   FIELD_pin_length, FIELD_engine_bore, "the pin is longer than the cylinder is wide");
    contradicts_if(both(job, FIELD_eye_width, FIELD_engine_bore) && job->eye.width_m >= bore, faults, FIELD_eye_width,
                   FIELD_engine_bore, "the eye is wider than the cylinder");
    contradicts_if(no_room_for_bosses(job), faults, FIELD_pin_length, FIELD_eye_width,
                   job_given(job, FIELD_pin_length) ? "eye and side gaps leave no length for the bosses"
                                                    : "eye and side gaps leave no length for the bosses; the pin's "
                                                      "length was taken from the bore, give it");
    contradicts_if(both(job, FIELD_eye_outside, FIELD_pin_diameter) && job->eye.outside_m <= job->pin.diameter.max_m,
                   faults, FIELD_eye_outside, FIELD_pin_diameter, "the eye is no larger than the pin in it");
}

/* The first member of a group that the client gave, to point at. */
static enum job_field
given_member(const struct job *job, enum job_group group)
{
    int field = 0;

    while (field < FIELD_COUNT &&
           !(job_field_row((enum job_field)field)->group == group && job_given(job, (enum job_field)field))) {
        field++;
    }
    return (enum job_field)field;
}

static void
validate_lock(const struct job *job, struct fault_list *faults)
{
    const bool in_rod = job->pin.held_in == CHOICE_held_in_ROD, in_piston = job->pin.held_in == CHOICE_held_in_PISTON;

    contradicts_if(job_known(job, FIELD_pin_diameter) && job_known(job, FIELD_slot_depth) &&
                       job->slot.depth_m >= job->pin.diameter.min_m,
                   faults, FIELD_slot_depth, FIELD_pin_diameter, "the slot is as deep as the pin is thick");
    contradicts_if(job_known(job, FIELD_pin_diameter) && job_known(job, FIELD_set_screw_flat_depth) &&
                       job->set_screw.flat_depth_m >= job->pin.diameter.min_m,
                   faults, FIELD_set_screw_flat_depth, FIELD_pin_diameter, "the flat is as deep as the pin is thick");
    if (!in_rod && job_group_given(job, GROUP_slot)) {
        contradicts(faults, given_member(job, GROUP_slot), FIELD_pin_held_in,
                    "a slot for the clamp bolt belongs to a pin that the rod holds");
    }
    if (!in_piston && job_group_given(job, GROUP_set_screw)) {
        contradicts(faults, given_member(job, GROUP_set_screw), FIELD_pin_held_in,
                    "set screws belong to a pin that the piston holds");
    }
    contradicts_if(job_given(job, FIELD_clamp_bolt_thread) && job_given(job, FIELD_clamp_bolt_diameter) &&
                       fabs(job->clamp_bolt.thread.diameter_m - job->clamp_bolt.diameter_m) >
                           0.05 * job->clamp_bolt.diameter_m,
                   faults, FIELD_clamp_bolt_diameter, FIELD_clamp_bolt_thread, "the thread has another diameter");
}

static double
mean_m(const struct limits *limits)
{
    return (limits->min_m + limits->max_m) / 2.0;
}

/*
 * Two sizes of the same part cannot both hold: they are far apart, or both are
 * limits and no size keeps them all. A bare size beside limits may be nominal.
 */
static bool
same_part_differs(const struct limits *a, const struct limits *b)
{
    const bool limits = a->max_m > a->min_m && b->max_m > b->min_m;
    return fabs(mean_m(a) - mean_m(b)) > SAME_PART_SHARE * mean_m(a) ||
           (limits && (a->min_m > b->max_m || b->min_m > a->max_m));
}

/* One part, two of its members. */
static void
validate_same(const struct job *job, enum job_field a, const struct limits *a_limits, enum job_field b,
              const struct limits *b_limits, struct fault_list *faults)
{
    contradicts_if(job_given(job, a) && job_given(job, b) && same_part_differs(a_limits, b_limits), faults, a, b,
                   "they are the same part, and no size fits both");
}

static void
validate_one_size(const struct job *job, struct fault_list *faults)
{
    const struct limits *accept = &job->inspection.accept;
    validate_same(job, FIELD_running_fit_pin, &job->running_fit.pin, FIELD_pin_diameter, &job->pin.diameter, faults);
    if (job->inspection.part == CHOICE_part_PIN) {
        validate_same(job, FIELD_inspection_accept, accept, FIELD_pin_diameter, &job->pin.diameter, faults);
        validate_same(job, FIELD_inspection_accept, accept, FIELD_running_fit_pin, &job->running_fit.pin, faults);
    } else {
        validate_same(job, FIELD_inspection_accept, accept, FIELD_running_fit_hole, &job->running_fit.hole, faults);
    }
}

static bool
sizes_differ(const struct limits *a, const struct limits *b, double share)
{
    return fabs(mean_m(a) - mean_m(b)) > share * mean_m(a);
}

static void
validate_fits(const struct job *job, struct fault_list *faults)
{
    const struct job_press_fit *press = &job->press_fit;

    contradicts_if(both(job, FIELD_press_fit_bushing_bore, FIELD_press_fit_housing_bore) &&
                       press->bushing_bore_m >= press->housing_bore.min_m,
                   faults, FIELD_press_fit_bushing_bore, FIELD_press_fit_housing_bore,
                   "the bushing's bore is as wide as its housing");
    contradicts_if(both(job, FIELD_press_fit_bushing_bore, FIELD_press_fit_bushing_outside) &&
                       press->bushing_bore_m >= press->bushing_outside.min_m,
                   faults, FIELD_press_fit_bushing_bore, FIELD_press_fit_bushing_outside,
                   "the bushing's bore is as wide as the bushing");
    contradicts_if(both(job, FIELD_press_fit_housing_outside, FIELD_press_fit_housing_bore) &&
                       press->housing_outside_m <= press->housing_bore.max_m,
                   faults, FIELD_press_fit_housing_outside, FIELD_press_fit_housing_bore,
                   "the housing is no larger than its bore");
    contradicts_if(both(job, FIELD_press_fit_bushing_outside, FIELD_press_fit_housing_bore) &&
                       sizes_differ(&press->bushing_outside, &press->housing_bore, PRESS_SHARE),
                   faults, FIELD_press_fit_bushing_outside, FIELD_press_fit_housing_bore,
                   "bushing and housing are more than 2 % apart, no press fit is");
}

void
job_validate(const struct job *job, struct fault_list *faults)
{
    validate_engine(job, faults);
    validate_pin(job, faults);
    validate_lock(job, faults);
    validate_one_size(job, faults);
    validate_fits(job, faults);
}
