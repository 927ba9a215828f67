#include "joint/run.h"

#include <math.h>
#include <string.h>

#include "joint/check.h"
#include "joint/conclude.h"
#include "joint/cycle_stroke.h"
#include "joint/joint.h"
#include "joint/load.h"
#include "joint/material_rank.h"

/* Derive, report, judge, conclude: the straight line of a calculation. */

/* Why a section's checks do not apply to this joint at all, or NULL. */
static const char *
section_not_applicable(const struct job *job, enum section section)
{
    if (section == SECTION_slot && job->pin.held_in != CHOICE_held_in_ROD) {
        return "the rod does not hold this pin, so no clamp bolt crosses it";
    }
    if (section == SECTION_set_screw && job->pin.held_in != CHOICE_held_in_PISTON) {
        return "the piston does not hold this pin, so no set screws bear on it";
    }
    return NULL;
}

static bool
in_set(section_set sections, enum section section)
{
    return (sections & (1u << section)) != 0;
}

static void
report_sections(const struct job *job, const struct derived *derived, section_set sections, struct report *report)
{
    if (in_set(sections, SECTION_load)) {
        load_report(derived, report);
    }
    if (in_set(sections, SECTION_strength)) {
        strength_report(derived, report);
    }
    if (in_set(sections, SECTION_slot) && section_not_applicable(job, SECTION_slot) == NULL) {
        slot_report(derived, report);
    }
    if (in_set(sections, SECTION_set_screw) && section_not_applicable(job, SECTION_set_screw) == NULL) {
        set_screw_report(derived, report);
    }
    if (in_set(sections, SECTION_fit)) {
        fit_report(derived, report);
    }
    if (in_set(sections, SECTION_inspection)) {
        inspection_report(derived, report);
    }
    if (in_set(sections, SECTION_turning)) {
        turning_report(derived, report);
    }
    if (in_set(sections, SECTION_order)) {
        report->computed |= SECTION_BIT(order);
    }
    /* Asked for by itself the table is ranked for any joint; beside the other
     * sections only where there is a load or a steel to rank against. */
    if (in_set(sections, SECTION_material) && report->call != CALL_size &&
        (sections == SECTION_BIT(material) || derived->load.known || job_known(job, FIELD_pin_steel))) {
        material_rank(job, derived, report);
        report->computed |= SECTION_BIT(material);
    }
}

bool
run_finding_is_finite(const struct finding *f)
{
    return isfinite(f->value) && isfinite(f->value_high) && isfinite(f->advised) && isfinite(f->limit) &&
           isfinite(f->limit_low) && isfinite(f->limit_high) && isfinite(f->advised_low) && isfinite(f->advised_high) &&
           isfinite(f->utilization) && isfinite(f->fix_to) && isfinite(f->advice.value[0].si) &&
           isfinite(f->advice.value[1].si) && isfinite(f->advice.value[2].si) && isfinite(f->advice.value[3].si);
}

void
run_judge_one(const struct job *job, const struct derived *derived, section_set sections, const struct check *check,
              struct finding *finding)
{
    finding->fix = FIELD_NONE;
    if (!in_set(sections, check->section)) {
        return;
    }
    finding->not_applicable = section_not_applicable(job, check->section);
    if (finding->not_applicable == NULL && check_needs_known(check, job)) {
        check->judge(job, derived, finding);
        finding->assumed_geometry =
            finding->judged && finding->verdict == VERDICT_FAILS && check_rests_on_assumed_geometry(check, job);
    }
}

/* Judge the checks of these sections into report->finding, which is zeroed. */
static void
judge(const struct job *job, const struct derived *derived, section_set sections, struct report *report)
{
    for (size_t i = 0; i < check_count(); i++) {
        run_judge_one(job, derived, sections, check_row(i), &report->finding[i]);
        if (in_set(sections, check_row(i)->section) && !run_finding_is_finite(&report->finding[i])) {
            report->defect = check_row(i)->id;
        }
    }
}

/* The worst of the checks that the load enters, at another peak pressure. */
static void
worst_at_higher_peak(const struct job *job, section_set sections, struct report *report, struct report *scratch)
{
    struct job higher = *job;
    struct derived derived;

    higher.engine.pressure_rise_ratio_ratio = PRESSURE_RISE_HIGH;
    memset(scratch, 0, sizeof *scratch);
    derive(&higher, sections, &derived);
    judge(&higher, &derived, sections, scratch);
    assume_estimate(scratch, report);
}

void
joint_run(const struct job *job, enum call call, struct report *report)
{
    const section_set sections = call_row(call)->sections;
    struct derived derived;

    memset(report, 0, sizeof *report);
    report->call = call;
    derive(job, sections, &derived);
    report_sections(job, &derived, sections, report);
    judge(job, &derived, sections, report);
    conclude(job, &derived, report);
    if (in_set(sections, SECTION_load) && derived.load.known && derived.load.peak_estimated &&
        job->state[FIELD_engine_pressure_rise_ratio] == FIELD_ASSUMED) {
        struct report scratch;

        worst_at_higher_peak(job, sections, report, &scratch);
    }
    if (in_set(sections, SECTION_order)) {
        order_conclude(job, &derived, report);
    }
}

static void
trace_point(const struct cycle *cycle, const struct stroke strokes[STROKE_KINDS_MAX], struct trace_point *point)
{
    const struct stroke *stroke = stroke_at(cycle, strokes, point->crank_angle_rad);
    const struct place place = place_at(cycle, point->crank_angle_rad);
    const double squeeze = stroke_squeeze(cycle, stroke, &place);

    point->cylinder_pressure_Pa = stroke_gauge_Pa(stroke, squeeze);
    point->gas_force_N = cycle->piston_area_m2 * point->cylinder_pressure_Pa;
    point->pin_load_N = stroke_load_N(cycle, stroke, squeeze, place_inertia_N(cycle, &place));
    point->inertia_force_N = point->pin_load_N - point->gas_force_N;
    point->side_thrust_N = point->pin_load_N * place_rod_slope(cycle, &place);
}

bool
joint_trace(const struct job *job, struct trace_point *point, size_t count)
{
    struct stroke strokes[STROKE_KINDS_MAX];
    struct cycle cycle;

    if (!load_cycle(job, &cycle)) {
        return false;
    }
    (void)strokes_of(&cycle, strokes);
    for (size_t i = 0; i < count; i++) {
        trace_point(&cycle, strokes, &point[i]);
    }
    return true;
}
