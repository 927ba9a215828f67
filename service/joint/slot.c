#include "joint/derived.h"

#include <math.h>

#include "joint/clamp.h"
#include "joint/fatigue.h"
#include "joint/lock_demand.h"
#include "joint/notch.h"
#include "joint/report.h"
#include "joint/trough.h"

/* Finite elements of hollow pins: the solid pin's factor is 4 to 14 % low. */
#define HOLLOW_NOTCH_FACTOR 1.17
/* A slot deeper than this share of the pin has cut it in two. */
#define CUT_THROUGH_SHARE 0.99

/* Sizes: strength and play rest on the thinnest pin, the bolt's clearance over
 * the slot's floor on the thickest. */
static void
derive_sizes(const struct job *job, struct slot *slot)
{
    slot->d_min_m = job->pin.diameter.min_m;
    slot->d_max_m = job->pin.diameter.max_m;
    slot->inside_m = job->pin.inside_diameter_m;
    slot->depth_m = job->slot.depth_m;
    slot->cutter_radius_m = job->slot.cutter_diameter_m / 2.0;
    slot->bolt_diameter_m = job->clamp_bolt.diameter_m;
    slot->bolt_offset_m = job->clamp_bolt.offset_m;
    slot->geometry_known = job_known(job, FIELD_pin_diameter) && job_known(job, FIELD_slot_depth) &&
                           job_known(job, FIELD_slot_cutter_diameter) && slot->depth_m > 0.0;
    slot->bolt_known = job_known(job, FIELD_clamp_bolt_diameter) && job_known(job, FIELD_clamp_bolt_offset);
    slot->intrusion_known = slot->bolt_known && job_known(job, FIELD_pin_diameter);
    slot->fit_known = slot->geometry_known && slot->bolt_known;
}

static void
derive_play(struct slot *slot)
{
    const double radius = slot->d_min_m / 2.0, bolt = slot->bolt_diameter_m / 2.0;

    if (slot->intrusion_known) {
        slot->intrusion_m = trough_intrusion_m(radius, bolt, slot->bolt_offset_m);
    }
    if (!slot->fit_known) {
        return;
    }
    slot->bottom_clearance_m = slot->depth_m - trough_intrusion_m(slot->d_max_m / 2.0, bolt, slot->bolt_offset_m);
    slot->axial_play_known = trough_axial_play_m(radius, bolt, slot->bolt_offset_m, slot->cutter_radius_m,
                                                 slot->depth_m, &slot->axial_play_m);
    if (slot->axial_play_known) {
        slot->rotational_play_rad = trough_rotational_play_rad(radius, slot->depth_m, slot->intrusion_m);
    }
}

static void
derive_section(struct slot *slot)
{
    const double d = slot->d_min_m;

    slot->cut_through = slot->geometry_known && slot->depth_m > CUT_THROUGH_SHARE * d;
    slot->section_known = slot->geometry_known && !slot->cut_through;
    if (!slot->section_known) {
        return;
    }
    cut_section_of(d, slot->inside_m, slot->depth_m, &slot->section);
    slot->wall_left_m = slot->section.floor_m - slot->inside_m / 2.0;
    slot->mouth_m = trough_mouth_m(d / 2.0, slot->cutter_radius_m, slot->depth_m);
    slot->chord_m = 2.0 * slot->section.half_chord_m;
    slot->notch_in_range = notch_in_range(slot->depth_m, slot->cutter_radius_m, d);
    slot->notch_factor_published = notch_published_factor(slot->depth_m, slot->cutter_radius_m, d);
    slot->notch_factor = notch_bending_factor(slot->depth_m, slot->cutter_radius_m, d);
    if (!slot->notch_in_range) {
        slot->notch_factor = fmax(slot->notch_factor, slot->notch_factor_published);
    }
    if (slot->inside_m > 0.0) {
        slot->notch_factor *= HOLLOW_NOTCH_FACTOR;
    }
    slot->notch_factor_side = notch_side_factor(slot->depth_m, slot->cutter_radius_m, d);
    slot->size_factor = fatigue_size_factor(fatigue_equivalent_diameter_m(d, 0));
}

/*
 * Greatest nominal stress of the net section under a moment inclined by
 * `angle`: at a corner of the slot's floor, or on the round, where the stress
 * of inclined bending is greatest.
 */
static double
nominal_stress_Pa(const struct cut_section *section, double radius_m, double moment_Nm, double angle_rad)
{
    const double a = fabs(moment_Nm * cos(angle_rad)) / section->second_moment_m4;
    const double b = fabs(moment_Nm * sin(angle_rad)) / section->second_moment_side_m4;
    const double slope = sqrt(a * a + b * b);
    const double far = fabs(radius_m * slope - a * section->shift_m);
    const double corner = a * (section->floor_m + section->shift_m) + b * section->half_chord_m;
    const bool on_round = slope > 0.0 && radius_m * a / slope <= section->floor_m;
    const double near = on_round ? radius_m * slope + a * section->shift_m : corner;

    return fmax(far, fmax(near, corner));
}

/*
 * Greatest stress at the slot with given factors on floor and edge: at the
 * floor's middle, or, where the slot is turned from the load line, at the
 * floor's edge or on the pin's surface.
 */
static double
slot_stress_Pa(const struct cut_section *section, double radius_m, double moment_Nm, double angle_rad,
               double floor_factor, double edge_factor)
{
    const double floor = fabs(moment_Nm * cos(angle_rad)) / section->modulus_floor_m3;
    const double side = fabs(moment_Nm * sin(angle_rad)) / section->second_moment_side_m4;

    return fmax(floor_factor * floor, fmax(floor + side * section->half_chord_m * edge_factor, side * radius_m));
}

/* Is the slot square to the load line, so that nothing bends it sideways? */
static bool
in_load_line(double angle_rad)
{
    return fabs(sin(angle_rad)) < 1.0e-9;
}

static void
derive_stress(const struct job *job, const struct derived *derived, struct slot *slot)
{
    const double angle = in_load_line(job->slot.angle_rad) ? 0.0 : job->slot.angle_rad;
    const double moment = derived->strength.moment_Nm, radius = slot->d_min_m / 2.0;

    slot->stress_known = slot->section_known && derived->strength.stress_known;
    if (!slot->stress_known) {
        return;
    }
    slot->nominal_stress_Pa = nominal_stress_Pa(&slot->section, radius, moment, angle);
    slot->notch_stress_Pa =
        slot_stress_Pa(&slot->section, radius, moment, angle, slot->notch_factor, slot->notch_factor_side);
}

/*
 * Fatigue at the slot: its surface is milled whatever the pin's finish, its
 * radius the cutter's; the notch factor acts on mean and alternating stress.
 */
static void
derive_fatigue(const struct job *job, const struct derived *derived, struct slot *slot)
{
    const struct load *load = &derived->load;
    const double angle = in_load_line(job->slot.angle_rad) ? 0.0 : job->slot.angle_rad;
    const double tensile = derived->strength.tensile_Pa;
    double sensitivity, peak, share_max, share_min;

    slot->fatigue_known = false;
    if (!slot->section_known || !derived->strength.steel_known) {
        return;
    }
    sensitivity = fatigue_notch_sensitivity(tensile, slot->cutter_radius_m);
    slot->fatigue_notch_factor = fatigue_notch_factor(sensitivity, slot->notch_factor);
    slot->fatigue_known = slot->stress_known;
    if (!slot->fatigue_known) {
        return;
    }
    slot->notch_endurance_Pa = fatigue_endurance_Pa(SURFACE_MACHINED, tensile, slot->size_factor);
    peak = slot_stress_Pa(&slot->section, slot->d_min_m / 2.0, derived->strength.moment_Nm, angle,
                          slot->fatigue_notch_factor, fatigue_notch_factor(sensitivity, slot->notch_factor_side));
    share_max = load->inertia_known ? load->pin_load_max_N / load->force_N : 1.0;
    share_min = load->inertia_known ? load->pin_load_min_N / load->force_N : 0.0;
    slot->notch_fatigue_factor = fatigue_goodman(
        peak * (share_max - share_min) / 2.0, peak * (share_max + share_min) / 2.0, slot->notch_endurance_Pa, tensile);
}

static void
derive_bolt(const struct job *job, struct slot *slot)
{
    size_t count;
    const struct choice_row *grades = choice_table(CHOICE_SET_bolt_grade, &count);
    const struct bolt_grade *grade;

    if (!job_known(job, FIELD_clamp_bolt_diameter) || !job_known(job, FIELD_clamp_bolt_grade)) {
        return;
    }
    grade = bolt_grade_find(grades[job->clamp_bolt.grade].text, slot->bolt_diameter_m);
    slot->bolt_yield_Pa = grade->yield_Pa;
    slot->bolt_proof_Pa = grade->proof_Pa;
    slot->bolt_area_m2 = segment_area_m2(slot->bolt_diameter_m / 2.0, slot->bolt_diameter_m);
    slot->bolt_stress_area_m2 = thread_stress_area_m2(&job->clamp_bolt.thread);
    slot->preload_known = job_known(job, FIELD_clamp_bolt_torque);
    if (slot->preload_known) {
        slot->bolt_preload_N =
            clamp_preload_N(job->clamp_bolt.torque_Nm, job->clamp_bolt.nut_factor_ratio, slot->bolt_diameter_m);
    }
}

static void
derive_demand(const struct job *job, const struct derived *derived, struct slot *slot)
{
    slot->axial_demand_known = lock_axial_demand_N(job, derived, &slot->axial_demand_N);
    slot->torque_demand_known = lock_torque_demand_Nm(job, derived, &slot->torque_demand_Nm);
}

/* The bolt as key carries each demand alone, as if the grip were lost. */
static void
derive_hold(const struct job *job, const struct derived *derived, struct slot *slot)
{
    struct clamp_key key;

    /* Torque is held by the bolt alone; along the pin its flank bears too. */
    slot->hold_torque_known = slot->fit_known && slot->bolt_yield_Pa > 0.0;
    slot->hold_known = slot->hold_torque_known && derived->strength.yield_Pa > 0.0;
    if (!slot->hold_torque_known) {
        return;
    }
    clamp_key_of(slot->intrusion_m, slot->d_min_m / 2.0, slot->bolt_diameter_m, job->clamp_bolt.shear_planes_count,
                 slot->bolt_yield_Pa, derived->strength.yield_Pa, &key);
    slot->segment_area_m2 = key.segment_area_m2;
    slot->hold_axial_N = fmin(key.shear_axial_N, key.flank_axial_N);
    slot->hold_torque_Nm = key.shear_torque_Nm;
    slot->bolt_shear_factor = fmin(clamp_factor(key.shear_axial_N, slot->axial_demand_N),
                                   clamp_factor(key.shear_torque_Nm, slot->torque_demand_Nm));
    slot->flank_factor = clamp_factor(key.flank_axial_N, slot->axial_demand_N);
}

static void
derive_grip(const struct job *job, struct slot *slot)
{
    struct clamp_grip grip;

    slot->grip_known = slot->preload_known && slot->bolt_known && job_known(job, FIELD_pin_diameter);
    if (!slot->grip_known) {
        return;
    }
    clamp_grip_of(slot->bolt_preload_N, job->clamp_bolt.friction_ratio, slot->bolt_offset_m,
                  job->clamp_bolt.hinge_offset_m, slot->d_min_m / 2.0, &grip);
    slot->grip_axial_N = grip.axial_N;
    slot->grip_torque_Nm = grip.torque_Nm;
    slot->grip_axial_high_N = grip.axial_high_N;
    slot->grip_torque_high_Nm = grip.torque_high_Nm;
}

/*
 * The round end of the pin meets the round wall on the chord of the bore at
 * the pin's diameter, not on the bore itself; play along the pin and the side
 * gap bring it nearer.
 */
static void
derive_clearances(const struct job *job, struct slot *slot)
{
    const double bore = job->engine.bore_m, d = slot->d_min_m;

    slot->wall_known = slot->axial_play_known && job_known(job, FIELD_engine_bore) &&
                       job_known(job, FIELD_pin_length) && job_known(job, FIELD_boss_gap) && bore > d;
    if (slot->wall_known) {
        slot->wall_clearance_m =
            (sqrt(bore * bore - d * d) - job->pin.length_m) / 2.0 - slot->axial_play_m - job->boss.gap_m;
    }
    slot->held_known = job_known(job, FIELD_held_fit_hole) && job_known(job, FIELD_pin_diameter);
    if (slot->held_known) {
        slot->held_clearance_max_m = job->held_fit.hole.max_m - d;
    }
}

void
slot_derive_steel(const struct job *job, struct derived *derived)
{
    derive_fatigue(job, derived, &derived->slot);
}

void
slot_derive(const struct job *job, struct derived *derived)
{
    struct slot *slot = &derived->slot;

    *slot = (struct slot){0};
    derive_sizes(job, slot);
    derive_play(slot);
    derive_section(slot);
    derive_stress(job, derived, slot);
    slot_derive_steel(job, derived);
    derive_bolt(job, slot);
    derive_demand(job, derived, slot);
    derive_hold(job, derived, slot);
    derive_grip(job, slot);
    derive_clearances(job, slot);
}

static void
report_geometry(const struct slot *s, struct report *report)
{
    if (s->intrusion_known) {
        report_put(report, RESULT_slot_intrusion, s->intrusion_m);
    }
    if (s->fit_known) {
        report_put(report, RESULT_slot_bottom_clearance, s->bottom_clearance_m);
    }
    if (s->axial_play_known) {
        report_put(report, RESULT_slot_axial_play, s->axial_play_m);
        report_put(report, RESULT_slot_rotational_play, s->rotational_play_rad);
    }
    if (s->section_known) {
        report_put(report, RESULT_slot_slot_mouth, s->mouth_m);
        report_put(report, RESULT_slot_slot_chord, s->chord_m);
        report_put(report, RESULT_slot_net_area, s->section.area_m2);
        report_put(report, RESULT_slot_net_section_modulus, s->section.modulus_floor_m3);
        report_put(report, RESULT_slot_notch_factor, s->notch_factor);
        report_put(report, RESULT_slot_notch_factor_published, s->notch_factor_published);
    }
    if (s->wall_known) {
        report_put(report, RESULT_slot_wall_clearance, s->wall_clearance_m);
    }
    if (s->held_known) {
        report_put(report, RESULT_slot_held_clearance_max, s->held_clearance_max_m);
    }
}

void
slot_report(const struct derived *derived, struct report *report)
{
    const struct slot *s = &derived->slot;

    report_geometry(s, report);
    if (s->section_known && derived->strength.steel_known) {
        report_put(report, RESULT_slot_fatigue_notch_factor, s->fatigue_notch_factor);
    }
    if (s->stress_known) {
        report_put(report, RESULT_slot_notch_stress, s->notch_stress_Pa);
    }
    if (s->fatigue_known) {
        report_put(report, RESULT_slot_notch_fatigue_factor, s->notch_fatigue_factor);
    }
    if (s->preload_known) {
        report_put(report, RESULT_slot_bolt_preload, s->bolt_preload_N);
    }
    if (s->hold_known) {
        report_put(report, RESULT_slot_hold_axial, s->hold_axial_N);
    }
    if (s->hold_torque_known) {
        report_put(report, RESULT_slot_hold_torque, s->hold_torque_Nm);
    }
    if (s->grip_known) {
        report_put(report, RESULT_slot_grip_axial, s->grip_axial_N);
        report_put(report, RESULT_slot_grip_torque, s->grip_torque_Nm);
    }
    if (s->axial_demand_known && (s->fit_known || s->grip_known)) {
        report_put(report, RESULT_slot_axial_demand, s->axial_demand_N);
    }
    if (s->torque_demand_known && (s->fit_known || s->grip_known)) {
        report_put(report, RESULT_slot_torque_demand, s->torque_demand_Nm);
    }
}
