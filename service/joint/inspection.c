#include "joint/inspection.h"

#include <math.h>

#include "joint/measure.h"
#include "joint/printed.h"
#include "joint/thermal.h"

const char inspection_accept[] = "accept";
const char inspection_rework[] = "rework";
const char inspection_reject[] = "reject";
const char inspection_undecided[] = "undecided";

/* Plain carbon steel, where the pin's steel is not named [Callister B.6, 1020]. */
static const double steel_expansion_per_K = 11.7e-6;

/* The frame and spindle of a micrometer (judgement: tool steel, 11 to 12). */
static const double instrument_expansion_per_K = 11.5e-6;

/* Limits of error of a new micrometer: 0 to 1 in [ASME B89.1.13], 0 to 50 mm
 * [ISO 3611 before 2010]; both from memory. */
static const double instrument_inch_m = 0.1 * SI_PER_THOU;
static const double instrument_metric_m = 4.0 * SI_PER_UM;
static const double instrument_large_metric_m = 5.0 * SI_PER_UM; /* over 50 up to 100 mm, the same */
static const double instrument_step_m = 50.0 * SI_PER_MM;

/* How far part and micrometer may differ though both were called equally warm
 * (judgement: both have lain on one bench). */
static const double temperature_halfwidth_K = 2.0;

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

static bool
of_hole(const struct job *job)
{
    return job->inspection.part == CHOICE_part_HOLE;
}

double
inspection_expansion_per_K(const struct job *job)
{
    if (of_hole(job)) {
        const struct metal *metal = job_metal(job, FIELD_running_fit_hole_metal);

        return metal != NULL && metal->expansion.given ? metal->expansion.si : steel_expansion_per_K;
    }
    const struct steel *steel = job_steel(job);
    return steel != NULL && steel->expansion.given ? steel->expansion.si : steel_expansion_per_K;
}

static double
instrument_m(const struct job *job)
{
    const bool large = job->inspection.readings[0].size_m > instrument_step_m;

    if (job->units == UNITS_METRIC) {
        return large ? instrument_large_metric_m : instrument_metric_m;
    }
    return instrument_inch_m;
}

double
inspection_uncertainty_m(const struct job *job)
{
    const struct measure_budget budget = {
        .resolution_m = job->inspection.resolution_m,
        .instrument_m = instrument_m(job),
        .temperature_K = temperature_halfwidth_K,
        .expansion_per_K = inspection_expansion_per_K(job),
        .size_m = job->inspection.readings[0].size_m,
    };

    return measure_uncertainty_m(&budget);
}

struct clearance_rule
inspection_wanted(const struct job *job, const struct inspection *inspection)
{
    struct clearance_rule rule = clearance_rule_running(inspection->size_mean_m);

    if (job_known(job, FIELD_running_fit_wanted)) {
        rule.min_m = job->running_fit.wanted.min_m;
        rule.max_m = job->running_fit.wanted.max_m;
        rule.worn_m = fmax(rule.worn_m, rule.max_m);
    }
    return rule;
}

bool
inspection_rests_on(const struct job *job, enum job_field metal)
{
    const enum job_field own = of_hole(job) ? FIELD_running_fit_hole_metal : FIELD_pin_steel;
    const double off_K = fabs(job->inspection.part_temperature_degC - THERMAL_REFERENCE_degC);

    return metal == own && (off_K > 0.0 || job->state[FIELD_inspection_uncertainty] == FIELD_ASSUMED);
}

/* ---- sizes ---- */

static void
derive_sizes(const struct job *job, struct inspection *inspection)
{
    const struct job_inspection *given = &job->inspection;
    const double ratio = thermal_size_from_reading_m(1.0, inspection_expansion_per_K(job), given->part_temperature_degC,
                                                     instrument_expansion_per_K, given->instrument_temperature_degC);
    size_t most = 0;

    inspection->station_count =
        measure_stations(given->readings, given->readings_count, ratio, inspection->station, &most);
    inspection->size_mean_m = measure_mean_m(inspection->station, inspection->station_count);
    inspection->correction_m = inspection->size_mean_m - inspection->size_mean_m / ratio;
    inspection->size_min_m = inspection->station[0].size_min_m;
    inspection->size_max_m = inspection->station[0].size_max_m;
    for (size_t i = 0; i < inspection->station_count; i++) {
        const struct station *station = &inspection->station[i];

        inspection->size_min_m = fmin(inspection->size_min_m, station->size_min_m);
        inspection->size_max_m = fmax(inspection->size_max_m, station->size_max_m);
        inspection->out_of_round_m = fmax(inspection->out_of_round_m, station->out_of_round_m);
    }
    inspection->round_known = most >= 2;
    inspection->taper_known = measure_taper_m(inspection->station, inspection->station_count, &inspection->taper_m);
    inspection->uncertainty_m = given->uncertainty_m;
    /* What all readings share, most of the instrument's error and of the
     * temperature, is no part of their differences. */
    inspection->form = measure_form(inspection->station, inspection->station_count,
                                    fmax(given->resolution_m, 0.25 * inspection->uncertainty_m));
    inspection->form_known = inspection->form != NULL;
}

/* ---- what to do ---- */

static bool
form_is_beyond(const struct inspection *inspection)
{
    return (inspection->taper_known && inspection->taper_limited &&
            fabs(inspection->taper_m) > inspection->taper_limit_m + slack_m) ||
           inspection_round_is_beyond(inspection, inspection->out_of_round_m);
}

static const char *
decide(const struct inspection *inspection, const struct measure_window *window, bool hole)
{
    const double a_m = inspection_metal_m(hole, inspection->size_min_m),
                 b_m = inspection_metal_m(hole, inspection->size_max_m);

    switch (measure_zone(window, fmin(a_m, b_m), fmax(a_m, b_m))) {
    case MEASURE_PROVED:
        /* The least metal is inside the limits: the rest can come down to it. */
        return form_is_beyond(inspection) ? inspection_rework : inspection_accept;
    case MEASURE_EXCESS:
        return inspection_rework;
    case MEASURE_SHORT:
        return inspection_reject;
    case MEASURE_IN_DOUBT:
    case MEASURE_COARSE:
        break;
    }
    return inspection_undecided;
}

static void
derive_decision(const struct job *job, struct inspection *inspection)
{
    const bool hole = of_hole(job);
    const struct limits *accept = &job->inspection.accept;

    inspection->taper_limited = job_known(job, FIELD_inspection_accept_taper);
    inspection->round_limited = job_known(job, FIELD_inspection_accept_out_of_round);
    inspection->taper_limit_m = job->inspection.accept_taper_m;
    inspection->round_limit_m = job->inspection.accept_out_of_round_m;
    if (!job_known(job, FIELD_inspection_accept)) {
        return;
    }
    inspection->accept_known = true;
    inspection->accept_min_m = accept->min_m;
    inspection->accept_max_m = accept->max_m;
    const struct measure_window window = {
        .low_m = inspection_metal_m(hole, hole ? accept->max_m : accept->min_m),
        .high_m = inspection_metal_m(hole, hole ? accept->min_m : accept->max_m),
        .uncertainty_m = inspection->uncertainty_m,
    };
    inspection->coarse = measure_is_coarse(&window);
    inspection->decision = decide(inspection, &window, hole);
    if (inspection->decision == inspection_rework) {
        inspection_plan_removal(inspection, &window, job->inspection.resolution_m, hole);
    }
}

static void
derive_clearance(const struct job *job, const struct running *running, struct inspection *inspection)
{
    const bool hole_known = job_known(job, FIELD_running_fit_hole);

    if (of_hole(job) && running->wanted_known) {
        inspection->clearance_min_m = inspection->size_min_m - running->pin_max_m;
        inspection->clearance_max_m = inspection->size_max_m - running->pin_min_m;
        inspection->clearance_known = true;
    }
    if (!of_hole(job) && hole_known) {
        inspection->clearance_min_m = job->running_fit.hole.min_m - inspection->size_max_m;
        inspection->clearance_max_m = job->running_fit.hole.max_m - inspection->size_min_m;
        inspection->clearance_known = true;
    }
}

void
inspection_derive(const struct job *job, struct derived *derived)
{
    struct inspection *inspection = &derived->inspection;

    *inspection = (struct inspection){0};
    if (!job_known(job, FIELD_inspection_readings) || job->inspection.readings_count == 0) {
        return;
    }
    inspection->known = true;
    derive_sizes(job, inspection);
    derive_decision(job, inspection);
    derive_clearance(job, &derived->running, inspection);
}

/* ---- report ---- */

static void
stations_report(const struct inspection *inspection, struct report *report)
{
    report->station_count = inspection->station_count;
    for (size_t i = 0; i < inspection->station_count; i++) {
        report->station[i] = inspection->station[i];
    }
}

void
inspection_report(const struct derived *derived, struct report *report)
{
    const struct inspection *inspection = &derived->inspection;

    if (!inspection->known) {
        return;
    }
    stations_report(inspection, report);
    report_put(report, RESULT_inspection_size_min, inspection->size_min_m);
    report_put(report, RESULT_inspection_size_max, inspection->size_max_m);
    report_put(report, RESULT_inspection_size_mean, inspection->size_mean_m);
    if (inspection->taper_known) {
        report_put(report, RESULT_inspection_taper, inspection->taper_m);
    }
    if (inspection->round_known) {
        report_put(report, RESULT_inspection_out_of_round, inspection->out_of_round_m);
    }
    if (inspection->form_known) {
        report_put_word(report, RESULT_inspection_form, inspection->form);
    }
    report_put(report, RESULT_inspection_correction, inspection->correction_m);
    if (inspection->accept_known) {
        report_put_word(report, RESULT_inspection_decision, inspection->decision);
        report_put(report, RESULT_inspection_to_remove, inspection->to_remove_m);
    }
    if (inspection->clearance_known) {
        report_put(report, RESULT_inspection_clearance_min, inspection->clearance_min_m);
        report_put(report, RESULT_inspection_clearance_max, inspection->clearance_max_m);
    }
}
