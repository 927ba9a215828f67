#include "joint/load.h"

#include <math.h>

#include "joint/derived.h"
#include "joint/report.h"

/*
 * The cycle is ideal: polytropic both ways with one exponent, intake at
 * engine.intake_pressure, heat at constant volume at the firing dead center,
 * expansion to the bottom dead center, gauge pressure 0 on exhaust and suction
 * strokes; a two-stroke goes straight from expansion to compression at the
 * bottom dead center. Atmosphere: one standard atmosphere.
 */

#define PI 3.14159265358979323846
#define ATMOSPHERE_Pa 101325.0 /* ISO 2533, exact */

bool
load_compression_gauge_Pa(const struct job *job, double *gauge_Pa)
{
    if (job_known(job, FIELD_engine_compression_pressure)) {
        *gauge_Pa = job->engine.compression_pressure_Pa;
        return true;
    }
    if (job_known(job, FIELD_engine_compression_ratio)) {
        *gauge_Pa = polytropic_compression_Pa(job->engine.intake_pressure_Pa, job->engine.compression_ratio_ratio,
                                              job->engine.polytropic_exponent_ratio) -
                    ATMOSPHERE_Pa;
        return true;
    }
    if (job_known(job, FIELD_engine_peak_pressure)) {
        *gauge_Pa = job->engine.peak_pressure_Pa / job->engine.pressure_rise_ratio_ratio;
        return true;
    }
    return false;
}

bool
load_curve_ratio(const struct job *job, double *ratio)
{
    double gauge_Pa;

    if (job_known(job, FIELD_engine_compression_ratio)) {
        *ratio = job->engine.compression_ratio_ratio;
        return true;
    }
    if (!load_compression_gauge_Pa(job, &gauge_Pa)) {
        return false;
    }
    *ratio =
        pow((gauge_Pa + ATMOSPHERE_Pa) / job->engine.intake_pressure_Pa, 1.0 / job->engine.polytropic_exponent_ratio);
    return true;
}

bool
load_peak_gauge_Pa(const struct job *job, double *gauge_Pa, bool *estimated)
{
    *estimated = !job_known(job, FIELD_engine_peak_pressure);
    if (!*estimated) {
        *gauge_Pa = job->engine.peak_pressure_Pa;
        return true;
    }
    if (!load_compression_gauge_Pa(job, gauge_Pa)) {
        return false;
    }
    *gauge_Pa *= job->engine.pressure_rise_ratio_ratio;
    return true;
}

/* Crank, rod and speed; false where bore or stroke is absent. */
static bool
kinematics_of(const struct job *job, struct cycle *cycle)
{
    if (!job_known(job, FIELD_engine_bore) || !job_known(job, FIELD_engine_stroke)) {
        return false;
    }
    cycle->two_stroke = job->engine.cycle == CHOICE_cycle_TWO_STROKE;
    cycle->period_rad = cycle->two_stroke ? 2.0 * PI : 4.0 * PI;
    cycle->crank_m = job->engine.stroke_m / 2.0;
    cycle->rod_m = job->engine.rod_length_m;
    cycle->lambda = cycle->crank_m / cycle->rod_m;
    cycle->speed_rad_s = job->engine.speed_rad_s; /* zero where absent: no inertia */
    cycle->mass_kg = job->engine.reciprocating_mass_kg;
    cycle->piston_area_m2 = PI / 4.0 * job->engine.bore_m * job->engine.bore_m;
    cycle->ambient_Pa = ATMOSPHERE_Pa;
    cycle->intake_Pa = job->engine.intake_pressure_Pa;
    cycle->exponent = job->engine.polytropic_exponent_ratio;
    return true;
}

bool
load_cycle(const struct job *job, struct cycle *cycle)
{
    bool estimated;

    return kinematics_of(job, cycle) && load_peak_gauge_Pa(job, &cycle->peak_gauge_Pa, &estimated) &&
           load_curve_ratio(job, &cycle->compression_ratio);
}

/*
 * The force that strength uses, and whether it reverses. With a speed: the
 * larger magnitude of the net load. Without: the gas force alone, ratio 0. A
 * four-stroke then counts as reversing, since at the exhaust dead center
 * nothing but inertia acts, at any speed; a slow two-stroke does not.
 */
static void
net_load(struct load *load)
{
    const struct cycle_extremes *extremes = &load->extremes;

    load->pin_load_mean_N = extremes->pin_load_mean_N;
    load->side_thrust_max_N = extremes->side_thrust_max_N;
    if (!load->inertia_known) {
        load->pin_load_max_N = load->force_N = load->gas_force_peak_N;
        load->reverses = !load->cycle.two_stroke;
        return;
    }
    load->pin_load_max_N = extremes->pin_load_max_N;
    load->pin_load_min_N = extremes->pin_load_min_N;
    load->load_ratio = load->pin_load_min_N / load->pin_load_max_N;
    load->reverses = load->pin_load_min_N < 0.0;
    load->force_N = fmax(fabs(load->pin_load_max_N), fabs(load->pin_load_min_N));
}

void
load_derive_known(const struct job *job, struct derived *derived)
{
    struct load *load = &derived->load;

    *load = (struct load){0};
    load->kinematics_known = kinematics_of(job, &load->cycle);
    load->inertia_known = load->kinematics_known && job_known(job, FIELD_engine_speed);
    load->known =
        load_cycle(job, &load->cycle) && load_peak_gauge_Pa(job, &load->peak_pressure_Pa, &load->peak_estimated);
}

void
load_derive(const struct job *job, struct derived *derived)
{
    struct load *load = &derived->load;
    const struct load before = *load;

    load_derive_known(job, derived);
    if (load->kinematics_known) {
        load->piston_area_m2 = load->cycle.piston_area_m2;
        load->rod_angle_max_rad = asin(load->cycle.lambda);
    }
    if (load->inertia_known) {
        load->inertia_tdc_N = -load->cycle.mass_kg * cycle_acceleration_m_s2(&load->cycle, 0.0);
        load->inertia_bdc_N = -load->cycle.mass_kg * cycle_acceleration_m_s2(&load->cycle, PI);
        load->rubbing_known = job_known(job, FIELD_pin_diameter);
        load->rubbing_speed_m_s =
            cycle_rubbing_speed_m_s(job->pin.diameter.min_m, load->cycle.lambda, load->cycle.speed_rad_s);
    }
    if (load->known) {
        load->gas_force_peak_N = load->piston_area_m2 * load->peak_pressure_Pa;
        if (before.known && cycle_same(&before.cycle, &load->cycle)) {
            load->extremes = before.extremes;
        } else {
            cycle_extremes_of(&load->cycle, &load->extremes);
        }
        net_load(load);
    }
}

void
load_report(const struct derived *derived, struct report *report)
{
    const struct load *load = &derived->load;

    if (load->kinematics_known) {
        report_put(report, RESULT_load_piston_area, load->piston_area_m2);
        report_put(report, RESULT_load_rod_angle_max, load->rod_angle_max_rad);
    }
    if (load->inertia_known) {
        report_put(report, RESULT_load_inertia_force_tdc, load->inertia_tdc_N);
        report_put(report, RESULT_load_inertia_force_bdc, load->inertia_bdc_N);
    }
    if (load->rubbing_known) {
        report_put(report, RESULT_load_rubbing_speed_mean, load->rubbing_speed_m_s);
    }
    if (!load->known) {
        return;
    }
    report_put(report, RESULT_load_peak_pressure, load->peak_pressure_Pa);
    report_put(report, RESULT_load_gas_force_peak, load->gas_force_peak_N);
    report_put(report, RESULT_load_pin_load_max, load->pin_load_max_N);
    report_put(report, RESULT_load_side_thrust_max, load->side_thrust_max_N);
    if (load->inertia_known) {
        report_put(report, RESULT_load_pin_load_min, load->pin_load_min_N);
        report_put(report, RESULT_load_load_ratio, load->load_ratio);
        report_put_flag(report, RESULT_load_load_reverses, load->reverses);
    }
}
