#include "wire/sketch_joint.h"

#include <math.h>

#include "joint/thread.h"

/*
 * Shares for what must be drawn but is not said: near those of the job's own
 * defaults, which need the cylinder's bore. They never come with a figure.
 */
#define PIN_OVER_BORE 0.25
#define EYE_OVER_PIN 1.6
#define EYE_OVER_LENGTH 0.45
#define GAP_OVER_EYE 0.03
#define BOSS_OVER_PIN 0.9
#define OUTSIDE_OVER_PIN 1.6
#define BOSS_OUTSIDE_OVER_PIN 1.7
#define BUSHING_WALL_OVER_PIN 0.08
#define CUTTER_OVER_PIN 0.3
/* Of what is thicker than the pin so many times only a part is drawn. */
#define OUT_OF_PROPORTION 3.0

static double
middle_m(const struct limits *limits)
{
    return (limits->min_m + limits->max_m) / 2.0;
}

static struct sketch_size
size_of(const struct job *job, enum job_field field, double m)
{
    const enum sketch_known known = job_given(job, field) ? SKETCH_GIVEN : SKETCH_ASSUMED;

    return job_known(job, field) ? (struct sketch_size){m, known} : (struct sketch_size){0.0, SKETCH_ABSENT};
}

static void
stand_in(struct sketch_size *size, double m)
{
    if (size->known == SKETCH_ABSENT && m > 0.0) {
        *size = (struct sketch_size){m, SKETCH_STAND_IN};
    }
}

/* The pin's diameter, or the size of what goes round it. */
static void
find_diameter(const struct job *job, struct sketch_joint *joint)
{
    joint->pin = job_known(job, FIELD_pin_diameter) ? job->pin.diameter : job->running_fit.pin;
    joint->diameter = job_known(job, FIELD_pin_diameter) ? size_of(job, FIELD_pin_diameter, middle_m(&joint->pin))
                                                         : size_of(job, FIELD_running_fit_pin, middle_m(&joint->pin));
    if (job_known(job, FIELD_running_fit_hole)) {
        stand_in(&joint->diameter, job->running_fit.hole.min_m);
    }
    if (job_known(job, FIELD_held_fit_hole)) {
        stand_in(&joint->diameter, job->held_fit.hole.min_m);
    }
    if (job_known(job, FIELD_press_fit_bushing_bore)) {
        stand_in(&joint->diameter, job->press_fit.bushing_bore_m);
    }
    stand_in(&joint->diameter, PIN_OVER_BORE * joint->bore.m);
    stand_in(&joint->diameter, joint->eye_width.m / EYE_OVER_PIN);
    stand_in(&joint->diameter, joint->boss_length.m / BOSS_OVER_PIN);
    stand_in(&joint->diameter, PIN_OVER_BORE * joint->length.m);
}

/* What is not known of the lengths along the pin, from what is. */
static void
find_lengths(struct sketch_joint *joint)
{
    const double d = joint->diameter.m;

    stand_in(&joint->eye_width, EYE_OVER_LENGTH * joint->length.m);
    stand_in(&joint->eye_width, EYE_OVER_PIN * d);
    stand_in(&joint->gap, GAP_OVER_EYE * joint->eye_width.m);
    const double left_m = joint->length.m - joint->eye_width.m - 2.0 * joint->gap.m;
    stand_in(&joint->boss_length, left_m / 2.0);
    stand_in(&joint->boss_length, BOSS_OVER_PIN * d);
    stand_in(&joint->length, joint->eye_width.m + 2.0 * (joint->gap.m + joint->boss_length.m));
}

/* Wall of a bushing, if there is one: by the press fit where its sizes are
 * given for this place, else indicated. */
static double
wall_m(const struct job *job, struct sketch_joint *joint, bool named, int place, double room_m)
{
    const bool pressed = job_known(job, FIELD_press_fit_housing_bore) && job->running_fit.at == place;
    const double measured_m = (middle_m(&job->press_fit.housing_bore) - joint->diameter.m) / 2.0;

    if (pressed && measured_m > 0.0 && measured_m < room_m) {
        joint->wall_known = true;
        return measured_m;
    }
    return named || pressed ? fmin(BUSHING_WALL_OVER_PIN * joint->diameter.m, 0.4 * room_m) : 0.0;
}

static void
find_rounds(const struct job *job, struct sketch_joint *joint)
{
    const double d = joint->diameter.m;

    joint->inside = size_of(job, FIELD_pin_inside_diameter, job->pin.inside_diameter_m);
    if (joint->inside.m >= d) { /* of a pin whose diameter is not known */
        joint->inside = (struct sketch_size){0.0, SKETCH_ABSENT};
    }
    joint->eye_outside = size_of(job, FIELD_eye_outside, job->eye.outside_m);
    stand_in(&joint->eye_outside, OUTSIDE_OVER_PIN * d);
    if (joint->eye_outside.m <= d) {
        joint->eye_outside = (struct sketch_size){OUTSIDE_OVER_PIN * d, SKETCH_STAND_IN};
    }
    joint->eye_wall_m =
        wall_m(job, joint, job_known(job, FIELD_eye_bushing), CHOICE_surface_EYE, (joint->eye_outside.m - d) / 2.0);
    joint->boss_wall_m = wall_m(job, joint, job_known(job, FIELD_boss_bushing), CHOICE_surface_BOSS, d);
    joint->boss_outside_m = fmax(BOSS_OUTSIDE_OVER_PIN * d, d + 2.0 * joint->boss_wall_m + 0.5 * d);
}

static void
find_lock(const struct job *job, struct sketch_joint *joint)
{
    const double radius = joint->diameter.m / 2.0;
    const bool in_rod = joint->held_in == CHOICE_held_in_ROD && !sketch_is_stand_in(&joint->diameter);
    const bool in_piston = joint->held_in == CHOICE_held_in_PISTON;

    joint->slot_depth_m = job->slot.depth_m;
    joint->slot_angle_rad = job->slot.angle_rad;
    joint->has_slot =
        in_rod && job_known(job, FIELD_slot_depth) && joint->slot_depth_m > 0.0 && joint->slot_depth_m < 2.0 * radius;
    joint->cutter_known = job_known(job, FIELD_slot_cutter_diameter);
    joint->cutter_m = joint->cutter_known ? job->slot.cutter_diameter_m : CUTTER_OVER_PIN * 2.0 * radius;
    joint->has_bolt = in_rod && job_known(job, FIELD_clamp_bolt_diameter) && job_known(job, FIELD_clamp_bolt_offset);
    if (joint->has_bolt) {
        joint->bolt_m = job->clamp_bolt.diameter_m;
        joint->bolt_offset_m = job->clamp_bolt.offset_m;
        joint->bolt_too_far = joint->bolt_offset_m + joint->bolt_m / 2.0 > OUT_OF_PROPORTION * radius;
        joint->has_bolt = !joint->bolt_too_far;
        joint->hinge = size_of(job, FIELD_clamp_bolt_hinge_offset, job->clamp_bolt.hinge_offset_m);
    }
    joint->has_screws = in_piston && job_group_given(job, GROUP_set_screw);
    joint->screw_m = job_known(job, FIELD_set_screw_thread) ? fmin(job->set_screw.thread.diameter_m, joint->diameter.m)
                                                            : CUTTER_OVER_PIN * joint->diameter.m;
    joint->screw_m = fmin(joint->screw_m, 0.6 * joint->boss_length.m);
    if (job_known(job, FIELD_set_screw_flat_depth) && job->set_screw.flat_depth_m < radius) {
        joint->flat_depth_m = job->set_screw.flat_depth_m;
    }
}

/* How much of the eye's outside can be drawn beside the pin. */
static void
find_eye_drawn(struct sketch_joint *joint)
{
    const double radius = joint->diameter.m / 2.0;
    const double bolt_top_m = joint->has_bolt ? joint->bolt_offset_m + joint->bolt_m / 2.0 : 0.0;
    const double needed_m = fmax(radius + joint->eye_wall_m, bolt_top_m);
    const bool fits = joint->eye_outside.m / 2.0 <= OUT_OF_PROPORTION * needed_m;

    joint->eye_drawn_m = fits ? joint->eye_outside.m : 2.0 * 1.6 * needed_m;
}

/* The force that strength and moment rest on: the larger of both ways, the gas
 * force alone where no speed is given. */
static void
find_load(const struct job *job, const struct report *report, struct sketch_joint *joint)
{
    const struct result_value *most = &report->result[RESULT_load_pin_load_max];
    const struct result_value *least = &report->result[RESULT_load_pin_load_min];
    const struct result_value *gas = &report->result[RESULT_load_gas_force_peak];
    const double left_m = (joint->length.m - joint->eye_width.m) / 2.0 - joint->gap.m;

    if (most->known && least->known) {
        joint->beam.force_N = fmax(fabs(most->si), fabs(least->si));
        joint->beam.pulls = fabs(least->si) > fabs(most->si);
    } else if (gas->known) {
        joint->beam.force_N = gas->si;
    }
    joint->beam.eye_m = joint->eye_width.m;
    joint->beam.gap_m = joint->gap.m;
    joint->beam.bearing_m = fmin(joint->boss_length.m, left_m);
    joint->load_known = joint->beam.force_N > 0.0 && joint->beam.bearing_m > 0.0 && job_known(job, FIELD_eye_width) &&
                        job_known(job, FIELD_boss_gap) && job_known(job, FIELD_boss_length) &&
                        job_known(job, FIELD_pin_length);
}

bool
sketch_joint_of(const struct job *job, const struct report *report, struct sketch_joint *joint)
{
    *joint = (struct sketch_joint){.held_in = job->pin.held_in};
    joint->bore = size_of(job, FIELD_engine_bore, job->engine.bore_m);
    joint->length = size_of(job, FIELD_pin_length, job->pin.length_m);
    joint->eye_width = size_of(job, FIELD_eye_width, job->eye.width_m);
    joint->boss_length = size_of(job, FIELD_boss_length, job->boss.length_m);
    joint->gap = size_of(job, FIELD_boss_gap, job->boss.gap_m);
    find_diameter(job, joint);
    if (joint->diameter.known == SKETCH_ABSENT) {
        return false;
    }
    find_lengths(joint);
    find_rounds(job, joint);
    find_lock(job, joint);
    find_eye_drawn(joint);
    find_load(job, report, joint);
    return true;
}

double
sketch_slot_half_m(const struct sketch_joint *joint, double height_m)
{
    const double rc = joint->cutter_m / 2.0;
    const double over_floor_m = height_m - (joint->diameter.m / 2.0 - joint->slot_depth_m);

    if (over_floor_m <= 0.0) {
        return 0.0;
    }
    return over_floor_m >= rc ? rc : sqrt(over_floor_m * (2.0 * rc - over_floor_m));
}

/* Moment of the loads beyond z about z: of the boss outward, less what of the
 * eye's load stands outside. */
double
sketch_beam_moment_Nm(const struct sketch_beam *beam, double z_m)
{
    const double z = fabs(z_m), half = beam->eye_m / 2.0, inner = half + beam->gap_m, outer = inner + beam->bearing_m;
    const double boss_N_m = beam->force_N / 2.0 / beam->bearing_m, eye_N_m = beam->force_N / beam->eye_m;
    const double from = fmax(z, inner), loaded = outer - from;
    double moment = loaded > 0.0 ? boss_N_m * loaded * ((from + outer) / 2.0 - z) : 0.0;

    if (z < half) {
        moment -= eye_N_m * (half - z) * (half - z) / 2.0;
    }
    return moment;
}
