#include "fuzz/joint_rules.h"

#include <math.h>
#include <string.h>

#include "fuzz/harness.h"
#include "joint/check.h"
#include "joint/joint.h"
#include "wire/report_write.h"

/* More than rounding, less than what any verdict turns on: the checks take a
 * nanometer of clearance for nothing. */
static const double slack_m = 2.0e-9;

void
hold_faults(const struct fault_list *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct fault *fault = &faults->fault[i];
        HOLDS(fault->detail[0] != '\0' && fault->pointer[0] == '/', "a fault that says nothing, at \"%s\"", fault->pointer);
    }
}

/* ---- findings ---- */

/*
 * Some checks say more than their value and limit: metal can come off a part
 * that is too large (rework: marginal, however far it is outside), a load that
 * does not reverse is a warning, never a failure, and a weak grip is marginal
 * while the bolt as key holds.
 */
static bool
judged_by_limits(const struct check *check, const struct finding *f)
{
    return f->has_limits && f->has_value && strcmp(check->id, "size_in_limits") != 0 &&
           strcmp(check->id, "load_reverses") != 0 && strncmp(check->id, "grip_", 5) != 0;
}

/* The verdict follows from value and limit. Stricter than they say is allowed:
 * some checks fail for a second reason. */
static void
hold_verdict(const struct check *check, const struct finding *f)
{
    const double hair = check->dimension == DIMENSION_LENGTH ? slack_m : 1.0e-9 * fabs(f->limit);
    if (!judged_by_limits(check, f)) {
        return;
    }
    if (f->two_sided) {
        HOLDS(f->value <= f->value_high, "%s: %g to %g", check->id, f->value, f->value_high);
        HOLDS(f->verdict == VERDICT_FAILS || (f->value >= f->limit_low - hair && f->value_high <= f->limit_high + hair),
              "%s: %g to %g passes limits %g to %g", check->id, f->value, f->value_high, f->limit_low, f->limit_high);
        HOLDS(f->limit_low <= f->advised_low && f->advised_high <= f->limit_high, "%s: advised outside the limits", check->id);
    } else if (check->sense == SENSE_CEILING) {
        HOLDS(f->verdict == VERDICT_FAILS || f->value <= f->limit + hair, "%s: %g passes a limit of %g", check->id, f->value,
              f->limit);
        HOLDS(f->verdict != VERDICT_OK || f->value <= f->advised + hair, "%s: %g is ok, advised %g", check->id, f->value,
              f->advised);
        HOLDS(f->advised <= f->limit, "%s: advised beyond the limit", check->id);
    } else if (check->sense == SENSE_FLOOR) {
        HOLDS(f->verdict == VERDICT_FAILS || f->value >= f->limit - hair, "%s: %g passes a limit of %g", check->id, f->value,
              f->limit);
        HOLDS(f->verdict != VERDICT_OK || f->value >= f->advised - hair, "%s: %g is ok, advised %g", check->id, f->value,
              f->advised);
        HOLDS(f->advised >= f->limit, "%s: advised below the limit", check->id);
    }
}

/* What would mend it is a value that the member takes. */
static void
hold_fix(const struct check *check, const struct finding *f)
{
    if (f->fix == FIELD_NONE) {
        HOLDS(!f->has_fix_to, "%s: a value for no member", check->id);
        return;
    }
    HOLDS(f->fix < FIELD_COUNT, "%s: fix", check->id);
    if (f->has_fix_to) {
        const struct job_field_row *row = job_field_row(f->fix);
        HOLDS(row->kind == KIND_NUMBER || row->kind == KIND_LIMITS, "%s: %s takes no number", check->id, row->path);
        HOLDS(f->fix_to >= row->minimum && f->fix_to <= row->maximum, "%s: advises %s of %g", check->id, row->path, f->fix_to);
    }
}

static void
hold_finding(const struct check *check, const struct finding *f)
{
    if (!f->judged) {
        return;
    }
    HOLDS(f->verdict == VERDICT_OK || f->verdict == VERDICT_MARGINAL || f->verdict == VERDICT_FAILS, "%s", check->id);
    HOLDS(f->advice.text != NULL && f->advice.text[0] != '\0', "%s has no advice", check->id);
    HOLDS(!f->assumed_geometry || f->verdict == VERDICT_FAILS, "%s", check->id);
    if (f->has_utilization) {
        HOLDS(f->utilization >= 0.0 && f->utilization <= UTILIZATION_MAX, "%s: utilization %g", check->id, f->utilization);
        HOLDS(f->verdict == VERDICT_FAILS || f->utilization <= 1.0 + 1.0e-3 || !judged_by_limits(check, f), "%s passes at a utilization of %g", check->id,
              f->utilization);
        HOLDS(f->verdict != VERDICT_FAILS || f->utilization >= 1.0 - 1.0e-3, "%s fails at a utilization of %g", check->id,
              f->utilization);
    }
    hold_verdict(check, f);
    hold_fix(check, f);
}

/* ---- results against findings ---- */

static bool
known(const struct report *report, enum result result)
{
    return report->result[result].known;
}

static double
value(const struct report *report, enum result result)
{
    return report->result[result].si;
}

/* Where `bad` is so and the check was made, it fails. */
static void
hold_fails(const struct report *report, bool bad, const char *id)
{
    const size_t index = check_index(id);
    HOLDS(index < check_count(), "no check %s", id);
    const struct finding *f = &report->finding[index];
    HOLDS(!bad || !f->judged || f->verdict == VERDICT_FAILS, "%s does not fail", id);
}

static bool
below(const struct report *report, enum result result, double limit)
{
    return known(report, result) && value(report, result) < limit;
}

static bool
above_other(const struct report *report, enum result result, enum result other)
{
    return known(report, result) && known(report, other) &&
           value(report, result) > value(report, other) * (1.0 + 1.0e-9);
}

/* Rules of strength hold unless the client set limits of his own. */
static void
hold_strength(const struct job *job, const struct report *report)
{
    if (!job_given(job, FIELD_limits_bending_factor)) {
        hold_fails(report, above_other(report, RESULT_strength_bending_stress, RESULT_strength_yield_used), "bending");
        hold_fails(report, below(report, RESULT_strength_yield_factor, 1.0), "yield");
    }
    if (!job_given(job, FIELD_limits_fatigue_factor)) {
        hold_fails(report, below(report, RESULT_strength_fatigue_factor, 1.0), "fatigue");
        hold_fails(report, below(report, RESULT_slot_notch_fatigue_factor, 1.0), "slot_fatigue");
    }
    if (!job_given(job, FIELD_limits_bolt_factor)) {
        hold_fails(report, above_other(report, RESULT_slot_axial_demand, RESULT_slot_hold_axial), "hold_axial");
        hold_fails(report, above_other(report, RESULT_slot_torque_demand, RESULT_slot_hold_torque), "hold_torque");
        hold_fails(report, above_other(report, RESULT_set_screw_axial_demand, RESULT_set_screw_hold_axial), "screw_axial");
        hold_fails(report, above_other(report, RESULT_set_screw_torque_demand, RESULT_set_screw_hold_torque), "screw_torque");
    }
}

static void
hold_clearances(const struct job *job, const struct report *report)
{
    const bool interference_wanted = job_known(job, FIELD_running_fit_wanted) && job->running_fit.wanted.min_m < 0.0;
    if (!interference_wanted) {
        hold_fails(report, below(report, RESULT_fit_clearance_min, -slack_m), "clearance_cold");
        hold_fails(report, below(report, RESULT_fit_hot_clearance_min, -slack_m), "clearance_hot");
    }
    hold_fails(report, below(report, RESULT_slot_bottom_clearance, -slack_m), "slot_clears_bolt");
    hold_fails(report, below(report, RESULT_slot_wall_clearance, -slack_m), "wall_clearance");
    hold_fails(report, below(report, RESULT_fit_press_interference_min, -slack_m), "press");
    hold_fails(report, below(report, RESULT_fit_press_interference_hot_min, -slack_m), "press_hot");
    hold_fails(report, below(report, RESULT_fit_bushing_wall, -slack_m), "bushing_wall");
}

/* Never below zero, whatever the joint. */
static void
hold_signs(const struct report *report)
{
    static const enum result positive[] = {
        RESULT_load_peak_pressure, RESULT_load_piston_area, RESULT_load_gas_force_peak, RESULT_load_rod_angle_max,
        RESULT_load_side_thrust_max, RESULT_load_rubbing_speed_mean, RESULT_strength_boss_pressure,
        RESULT_strength_eye_pressure, RESULT_strength_boss_pv, RESULT_strength_eye_pv, RESULT_strength_bending_moment,
        RESULT_strength_bending_stress, RESULT_strength_shear_stress_max, RESULT_strength_ovalization,
        RESULT_strength_ovalization_stress, RESULT_strength_deflection, RESULT_strength_edge_slope,
        RESULT_strength_stress_amplitude, RESULT_strength_endurance_limit, RESULT_strength_fatigue_factor,
        RESULT_strength_yield_factor, RESULT_strength_tensile_used, RESULT_strength_yield_used, RESULT_strength_pin_mass,
        RESULT_slot_axial_play, RESULT_slot_rotational_play, RESULT_slot_net_area, RESULT_slot_net_section_modulus,
        RESULT_slot_notch_factor, RESULT_slot_notch_stress, RESULT_slot_notch_fatigue_factor, RESULT_slot_bolt_preload,
        RESULT_slot_hold_axial, RESULT_slot_hold_torque, RESULT_slot_grip_axial, RESULT_slot_grip_torque,
        RESULT_slot_axial_demand, RESULT_slot_torque_demand, RESULT_set_screw_hold_axial, RESULT_set_screw_hold_torque,
        RESULT_set_screw_flat_width, RESULT_set_screw_net_section_modulus, RESULT_fit_press_pressure_max,
        RESULT_fit_press_force_max, RESULT_fit_press_hold_min, RESULT_fit_bushing_stress_max, RESULT_inspection_out_of_round,
        RESULT_inspection_to_remove, RESULT_turning_spindle_speed, RESULT_turning_feed, RESULT_turning_roughness,
        RESULT_turning_finishing_allowance, RESULT_turning_slot_spindle_speed, RESULT_turning_blank_diameter,
        RESULT_turning_blank_length, RESULT_turning_finish_diameter, RESULT_turning_turn_to,
    };
    for (size_t i = 0; i < sizeof positive / sizeof positive[0]; i++) {
        HOLDS(!below(report, positive[i], 0.0), "%s is %g", result_row(positive[i])->name, value(report, positive[i]));
    }
}

/* The first of a pair is not above the second. */
static void
hold_order(const struct report *report)
{
    static const enum result pair[][2] = {
        {RESULT_load_pin_load_min, RESULT_load_pin_load_max},
        {RESULT_strength_bending_moment_low, RESULT_strength_bending_moment},
        {RESULT_strength_bending_moment, RESULT_strength_bending_moment_high},
        {RESULT_strength_endurance_limit, RESULT_strength_tensile_used},
        {RESULT_strength_yield_used, RESULT_strength_tensile_used},
        {RESULT_strength_bending_stress, RESULT_slot_notch_stress},
        {RESULT_slot_fatigue_notch_factor, RESULT_slot_notch_factor},
        {RESULT_fit_pin_min, RESULT_fit_pin_max},
        {RESULT_fit_hole_min, RESULT_fit_hole_max},
        {RESULT_fit_clearance_min, RESULT_fit_clearance_max},
        {RESULT_fit_hot_clearance_min, RESULT_fit_hot_clearance_max},
        {RESULT_fit_press_interference_min, RESULT_fit_press_interference_max},
        {RESULT_fit_hone_to_min, RESULT_fit_hone_to_max},
        {RESULT_inspection_size_min, RESULT_inspection_size_mean},
        {RESULT_inspection_size_mean, RESULT_inspection_size_max},
        {RESULT_inspection_clearance_min, RESULT_inspection_clearance_max},
        {RESULT_turning_finish_diameter, RESULT_turning_turn_to},
    };
    for (size_t i = 0; i < sizeof pair / sizeof pair[0]; i++) {
        const enum result low = pair[i][0], high = pair[i][1];
        if (known(report, low) && known(report, high)) {
            HOLDS(value(report, low) <= value(report, high) + 1.0e-9 * fabs(value(report, high)), "%s %.17g is above %s %.17g",
                  result_row(low)->name, value(report, low), result_row(high)->name, value(report, high));
        }
    }
    for (int i = 0; i < RESULT_COUNT; i++) {
        HOLDS(!report->result[i].known || result_row((enum result)i)->kind != RESULT_IS_LIMITS ||
                  report->result[i].si <= report->result[i].high,
              "%s", result_row((enum result)i)->name);
    }
}

/* ---- the lists ---- */

static void
hold_passes(const struct report *report)
{
    for (size_t i = 0; i < report->pass_count; i++) {
        const struct turning_pass *pass = &report->pass[i];
        HOLDS(pass->after_m > 0.0 && pass->before_m > pass->after_m && pass->depth_m > 0.0, "pass %zu: %g to %g, depth %g", i,
              pass->before_m, pass->after_m, pass->depth_m);
        HOLDS((pass->spindle_rad_s > 0.0) == known(report, RESULT_turning_spindle_speed) && pass->feed_m > 0.0, "pass %zu", i);
        HOLDS(i == 0 || fabs(pass->before_m - report->pass[i - 1].after_m) < slack_m, "pass %zu does not follow", i);
    }
    for (size_t i = 0; i < report->slot_pass_count; i++) {
        const struct slot_pass *pass = &report->slot_pass[i];
        HOLDS(pass->step_m > 0.0 && pass->spindle_rad_s >= 0.0 && pass->effective_diameter_m >= 0.0, "slot pass %zu", i);
        HOLDS(i == 0 || pass->depth_m > report->slot_pass[i - 1].depth_m, "slot pass %zu", i);
    }
}

static void
hold_rankings(const struct ranking *ranking, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        HOLDS(ranking[i].id != NULL && ranking[i].utilization >= 0.0 && ranking[i].utilization <= UTILIZATION_MAX,
              "%s: utilization %g", ranking[i].id, ranking[i].utilization);
    }
}

static void
hold_lists(const struct report *report)
{
    HOLDS(report->match_count <= MATCH_MAX && report->ranking_count <= RANKING_MAX &&
              report->metal_ranking_count <= RANKING_MAX && report->station_count <= STATION_MAX &&
              report->pass_count <= PASS_MAX && report->slot_pass_count <= PASS_MAX &&
              report->assumption_count <= ASSUMPTION_MAX && report->next_step_count <= NEXT_STEP_MAX &&
              report->caution_count <= CAUTION_MAX,
          "a list longer than its room");
    HOLDS(report->summary.text != NULL && report->caution_count > 0, "no summary or no cautions");
    for (size_t i = 0; i < report->station_count; i++) {
        const struct station *station = &report->station[i];
        HOLDS(station->reading_count > 0 && station->to_remove_m >= 0.0 && station->out_of_round_m >= 0.0, "station %zu", i);
        HOLDS(station->size_min_m <= station->size_mean_m + slack_m && station->size_mean_m <= station->size_max_m + slack_m,
              "station %zu", i);
    }
    hold_passes(report);
    hold_rankings(report->ranking, report->ranking_count);
    hold_rankings(report->metal_ranking, report->metal_ranking_count);
}

/* ---- the whole ---- */

static bool
has_reason(const struct report *report, enum order_reason_code code)
{
    for (size_t i = 0; report->call == CALL_order && i < report->order.reason_count; i++) {
        if (report->order.reason[i].code == code) {
            return true;
        }
    }
    return false;
}

/* A pin is released only where nothing fails, nothing holds it, and what is
 * marginal was accepted; where it is not, something is told that holds it. */
static void
hold_release(const struct job *job, const struct report *report)
{
    const struct order *order = &report->order;
    bool held = false;
    if (report->call != CALL_order) {
        return;
    }
    for (size_t i = 0; i < order->reason_count; i++) {
        held = held || order_reason_row(order->reason[i].code)->holds;
    }
    HOLDS(order->released != held, "released %d, held %d", order->released, held);
    for (size_t i = 0; order->released && i < check_count(); i++) {
        const struct finding *f = &report->finding[i];
        HOLDS(!f->judged || f->not_applicable != NULL || f->verdict != VERDICT_FAILS, "released, and %s fails", check_row(i)->id);
    }
    const bool accepted = job_given(job, FIELD_order_accept_marginal) && job->order.accept_marginal;
    HOLDS(!order->released || report->verdict == VERDICT_OK || (report->verdict == VERDICT_MARGINAL && accepted),
          "released with verdict %s", verdict_text(report->verdict));
}

static void
hold_overall(const struct report *report)
{
    bool fails = false, fails_assumed = false, marginal = false;
    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *f = &report->finding[i];
        const bool counts = f->judged && f->not_applicable == NULL;
        fails = fails || (counts && f->verdict == VERDICT_FAILS && !f->assumed_geometry);
        fails_assumed = fails_assumed || (counts && f->verdict == VERDICT_FAILS && f->assumed_geometry);
        marginal = marginal || (counts && f->verdict == VERDICT_MARGINAL);
    }
    fails = fails || has_reason(report, ORDER_stock); /* the bar at hand does not hold the pin */
    HOLDS(fails == (report->verdict == VERDICT_FAILS), "verdict %s, and some check fails: %d", verdict_text(report->verdict),
          fails);
    HOLDS(!fails_assumed || report->verdict >= VERDICT_INCOMPLETE, "verdict %s", verdict_text(report->verdict));
    HOLDS(!marginal || report->verdict != VERDICT_OK, "verdict ok, and some check is marginal");
}

void
hold_report(const struct job *job, const struct report *report)
{
    HOLDS(report->defect == NULL, "defect: %s, call %s", report->defect, call_row(report->call)->id);
    HOLDS(report_is_finite(report), "not finite, call %s", call_row(report->call)->id);
    for (size_t i = 0; i < check_count(); i++) {
        hold_finding(check_row(i), &report->finding[i]);
    }
    hold_overall(report);
    hold_release(job, report);
    hold_signs(report);
    hold_order(report);
    hold_strength(job, report);
    hold_clearances(job, report);
    hold_lists(report);
}

void
hold_trace(const struct job *job, const struct report *report)
{
    for (int degree = 0; degree < 720; degree += 45) {
        struct trace_point point = {.crank_angle_rad = degree * 0.017453292519943295};
        if (!joint_trace(job, &point, 1)) {
            return;
        }
        HOLDS(isfinite(point.cylinder_pressure_Pa) && isfinite(point.gas_force_N) && isfinite(point.inertia_force_N) &&
                  isfinite(point.pin_load_N) && isfinite(point.side_thrust_N),
              "at %d degrees", degree);
        if (known(report, RESULT_load_pin_load_max) && known(report, RESULT_load_pin_load_min)) {
            const double high = value(report, RESULT_load_pin_load_max), low = value(report, RESULT_load_pin_load_min);
            const double hair = 1.0e-6 * (fabs(high) + fabs(low));
            HOLDS(point.pin_load_N <= high + hair && point.pin_load_N >= low - hair,
                  "the load is %g N at %d degrees, outside %g to %g", point.pin_load_N, degree, low, high);
        }
    }
}
