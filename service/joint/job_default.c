#include "joint/job.h"

#include <stddef.h>

#include "joint/inspection.h"
#include "joint/printed.h"
#include "joint/turning.h"

/* The defaults of default.def: constants, and the rules below. */

/* Judgement: eye width over bore, by what holds the pin. Where the rod holds
 * it the bosses rub and need the length. */
#define EYE_OVER_BORE_HELD_IN_ROD 0.40
#define EYE_OVER_BORE 0.45
#define PIN_OVER_BORE 0.90
#define GAP_OVER_BORE 0.01
#define ROD_OVER_STROKE 2.25
#define EYE_OUTSIDE_OVER_PIN 1.6
/* Judgement: cast iron trunk pistons of old engines with rings and pin. */
#define RECIPROCATING_KG_PER_M3 3000.0
/* No Brinell scale starts so low, no Rockwell C scale goes so high. */
#define HARDNESS_HRC_MAX 70.0

static bool
default_rod_length(struct job *job)
{
    job->engine.rod_length_m = ROD_OVER_STROKE * job->engine.stroke_m;
    return job_known(job, FIELD_engine_stroke);
}

static bool
default_reciprocating_mass(struct job *job)
{
    const double bore = job->engine.bore_m;

    job->engine.reciprocating_mass_kg = RECIPROCATING_KG_PER_M3 * bore * bore * bore;
    return job_known(job, FIELD_engine_bore);
}

static bool
default_held_in(struct job *job)
{
    job->pin.held_in = job_group_given(job, GROUP_set_screw) ? CHOICE_held_in_PISTON : CHOICE_held_in_ROD;
    return true;
}

static bool
default_eye_width(struct job *job)
{
    const double share = job->pin.held_in == CHOICE_held_in_ROD ? EYE_OVER_BORE_HELD_IN_ROD : EYE_OVER_BORE;

    job->eye.width_m = share * job->engine.bore_m;
    return job_known(job, FIELD_engine_bore);
}

static bool
default_boss_gap(struct job *job)
{
    job->boss.gap_m = GAP_OVER_BORE * job->engine.bore_m;
    return job_known(job, FIELD_engine_bore);
}

static bool
default_pin_length(struct job *job)
{
    if (job_given(job, FIELD_boss_length) && job_known(job, FIELD_eye_width) && job_known(job, FIELD_boss_gap)) {
        job->pin.length_m = job->eye.width_m + 2.0 * job->boss.gap_m + 2.0 * job->boss.length_m;
        return true;
    }
    job->pin.length_m = PIN_OVER_BORE * job->engine.bore_m;
    return job_known(job, FIELD_engine_bore);
}

static bool
default_boss_length(struct job *job)
{
    if (!job_known(job, FIELD_pin_length) || !job_known(job, FIELD_eye_width) || !job_known(job, FIELD_boss_gap)) {
        return false;
    }
    job->boss.length_m = (job->pin.length_m - job->eye.width_m - 2.0 * job->boss.gap_m) / 2.0;
    return true;
}

static bool
default_hardness_scale(struct job *job)
{
    job->pin.hardness_scale =
        job->pin.hardness_number <= HARDNESS_HRC_MAX ? CHOICE_hardness_scale_HRC : CHOICE_hardness_scale_HB;
    return job_known(job, FIELD_pin_hardness);
}

static bool
default_eye_outside(struct job *job)
{
    job->eye.outside_m = EYE_OUTSIDE_OVER_PIN * job->pin.diameter.max_m;
    return job_known(job, FIELD_pin_diameter);
}

static bool
default_bolt_thread(struct job *job)
{
    if (!job_known(job, FIELD_clamp_bolt_diameter)) {
        return false;
    }
    thread_coarse_near(job->clamp_bolt.diameter_m, job->units == UNITS_METRIC, &job->clamp_bolt.thread);
    return true;
}

static bool
default_bolt_grade(struct job *job)
{
    if (!job_known(job, FIELD_clamp_bolt_thread)) {
        return false;
    }
    job->clamp_bolt.grade = job->clamp_bolt.thread.metric ? CHOICE_bolt_grade_ISO_4_6 : CHOICE_bolt_grade_SAE_2;
    return true;
}

static bool
default_hinge_offset(struct job *job)
{
    job->clamp_bolt.hinge_offset_m = job->clamp_bolt.offset_m;
    return job_known(job, FIELD_clamp_bolt_offset);
}

static bool
default_running_at(struct job *job)
{
    job->running_fit.at = job->pin.held_in == CHOICE_held_in_PISTON ? CHOICE_surface_EYE : CHOICE_surface_BOSS;
    return true;
}

/* The structural metal round the surface that running_fit speaks of. */
static bool
metal_round_the_fit(const struct job *job, struct metal_choice *choice)
{
    const bool eye = job->running_fit.at == CHOICE_surface_EYE;
    const enum choice_set set = eye ? CHOICE_SET_eye_metal : CHOICE_SET_boss_metal;
    const int word = eye ? job->eye.metal : job->boss.metal;
    size_t count;
    const struct choice_row *rows = choice_table(set, &count);

    choice->row = metal_with_id(rows[word].text);
    return choice->row != NULL;
}

static bool
default_hole_metal(struct job *job)
{
    return metal_round_the_fit(job, &job->running_fit.hole_metal);
}

static bool
default_housing_metal(struct job *job)
{
    return metal_round_the_fit(job, &job->press_fit.housing_metal);
}

static bool
default_bushing_metal(struct job *job)
{
    const bool eye = job->running_fit.at == CHOICE_surface_EYE;
    const enum job_field field = eye ? FIELD_eye_bushing : FIELD_boss_bushing;

    if (!job_known(job, field)) {
        return false;
    }
    job->press_fit.bushing_metal = eye ? job->eye.bushing : job->boss.bushing;
    return true;
}

/* The limits of the part measured; a bare size is no limits to accept by. */
static bool
default_accept(struct job *job)
{
    const bool hole = job->inspection.part == CHOICE_part_HOLE;
    const enum job_field pin_field = job_known(job, FIELD_running_fit_pin) ? FIELD_running_fit_pin : FIELD_pin_diameter;
    const struct limits *pin = pin_field == FIELD_running_fit_pin ? &job->running_fit.pin : &job->pin.diameter;
    const struct limits *limits = hole ? &job->running_fit.hole : pin;

    if (!job_known(job, hole ? FIELD_running_fit_hole : pin_field) || limits->max_m <= limits->min_m) {
        return false;
    }
    job->inspection.accept = *limits;
    return true;
}

/* Judgement: form may take half of what size may. */
static bool
default_accept_taper(struct job *job)
{
    const struct limits *accept = &job->inspection.accept;

    job->inspection.accept_taper_m = (accept->max_m - accept->min_m) / 2.0;
    return job_known(job, FIELD_inspection_accept) && accept->max_m > accept->min_m;
}

static bool
default_accept_out_of_round(struct job *job)
{
    const struct limits *accept = &job->inspection.accept;

    job->inspection.accept_out_of_round_m = (accept->max_m - accept->min_m) / 2.0;
    return job_known(job, FIELD_inspection_accept) && accept->max_m > accept->min_m;
}

static bool
default_resolution(struct job *job)
{
    job->inspection.resolution_m = job->units == UNITS_METRIC ? SI_PER_UM : 0.1 * SI_PER_THOU;
    return true;
}

static bool
default_uncertainty(struct job *job)
{
    if (!job_known(job, FIELD_inspection_readings) || job->inspection.readings_count == 0) {
        return false;
    }
    job->inspection.uncertainty_m = inspection_uncertainty_m(job);
    return true;
}

static bool
default_depth_of_cut(struct job *job)
{
    job->turning.depth_of_cut_m = turning_practice(job->units)->depth_m;
    return true;
}

static bool
default_nose_radius(struct job *job)
{
    job->turning.nose_radius_m = turning_practice(job->units)->nose_radius_m;
    return true;
}

static bool
default_turned_roughness(struct job *job)
{
    job->turning.roughness_m = turning_practice(job->units)->roughness_m;
    return true;
}

static bool
default_stock_diameter(struct job *job)
{
    const bool drawn = job->pin.finish == CHOICE_finish_DRAWN;

    job->turning.stock_diameter_m = drawn ? turning_finish_m(job) : turning_bar_m(job);
    return job_known(job, FIELD_pin_diameter);
}

static bool
default_stock_length(struct job *job)
{
    job->turning.stock_length_m = job_known(job, FIELD_pin_length) ? turning_blank_length_m(job) : 0.0;
    return job_known(job, FIELD_pin_length);
}

void
job_complete(struct job *job)
{
#define DEFAULT_CHOICE(group, name, set, id, text, because)                                                            \
    if (job->state[FIELD_##group##_##name] == FIELD_ABSENT) {                                                          \
        job->group.name = CHOICE_##set##_##id;                                                                         \
        job->state[FIELD_##group##_##name] = FIELD_ASSUMED;                                                            \
    }
#define DEFAULT_NUMBER(group, name, suffix, value, text, because)                                                      \
    if (job->state[FIELD_##group##_##name] == FIELD_ABSENT) {                                                          \
        job->group.name##_##suffix = value;                                                                            \
        job->state[FIELD_##group##_##name] = FIELD_ASSUMED;                                                            \
    }
#define DEFAULT_RULE(group, name, rule, text, because)                                                                 \
    if (job->state[FIELD_##group##_##name] == FIELD_ABSENT && rule(job)) {                                             \
        job->state[FIELD_##group##_##name] = FIELD_ASSUMED;                                                            \
    }
    /* A bolt named by its thread has that thread's diameter: not an
     * assumption, so it is filled before the defaults. */
    if (job_given(job, FIELD_clamp_bolt_thread) && !job_given(job, FIELD_clamp_bolt_diameter)) {
        job->clamp_bolt.diameter_m = job->clamp_bolt.thread.diameter_m;
        job->state[FIELD_clamp_bolt_diameter] = FIELD_GIVEN;
    }
#include "joint/default.def"
}

const char *
job_default_because(enum job_field field)
{
    switch ((int)field) {
#define DEFAULT_CHOICE(group, name, set, id, text, because)                                                            \
    case FIELD_##group##_##name:                                                                                       \
        return because;
#define DEFAULT_NUMBER(group, name, suffix, value, text, because)                                                      \
    case FIELD_##group##_##name:                                                                                       \
        return because;
#define DEFAULT_RULE(group, name, rule, text, because)                                                                 \
    case FIELD_##group##_##name:                                                                                       \
        return because;
#include "joint/default.def"
    default:
        return NULL;
    }
}

const char *
job_default_text(enum job_field field)
{
    switch ((int)field) {
#define DEFAULT_CHOICE(group, name, set, id, text, because)                                                            \
    case FIELD_##group##_##name:                                                                                       \
        return text;
#define DEFAULT_NUMBER(group, name, suffix, value, text, because)                                                      \
    case FIELD_##group##_##name:                                                                                       \
        return text;
#define DEFAULT_RULE(group, name, rule, text, because)                                                                 \
    case FIELD_##group##_##name:                                                                                       \
        return text;
#include "joint/default.def"
    default:
        return "";
    }
}
