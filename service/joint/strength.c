#include "joint/derived.h"

#include <math.h>

#include "joint/beam.h"
#include "joint/fatigue.h"
#include "joint/oval.h"
#include "joint/report.h"
#include "joint/section.h"

/* Steel in general, where none is chosen: handbook values. */
#define STEEL_MODULUS_Pa 207.0e9
#define STEEL_POISSON 0.29
#define STEEL_DENSITY_kg_m3 7850.0
/* A bore below this share of the pin leaves it as good as solid. */
#define HOLLOW_RATIO_MIN 0.05

static double
modulus_Pa(const struct steel *steel)
{
    return steel != NULL && steel->modulus.given ? steel->modulus.si : STEEL_MODULUS_Pa;
}

/* Sizes: the thinnest pin, and the layout along it. With boss.length and
 * pin.length both given the bearing length is the smaller of the two. */
static void
derive_layout(const struct job *job, struct strength *strength)
{
    strength->diameter_known = job_known(job, FIELD_pin_diameter);
    strength->d_m = job->pin.diameter.min_m;
    strength->inside_m = job->pin.inside_diameter_m;
    strength->layout_known = job_known(job, FIELD_eye_width) && job_known(job, FIELD_boss_gap) &&
                             job_known(job, FIELD_boss_length) && job_known(job, FIELD_pin_length);
    if (strength->layout_known) {
        const double left = (job->pin.length_m - job->eye.width_m - 2.0 * job->boss.gap_m) / 2.0;

        strength->eye_m = job->eye.width_m;
        strength->gap_m = job->boss.gap_m;
        strength->boss_m = fmin(job->boss.length_m, left);
        strength->span_m = strength->eye_m + 2.0 * strength->gap_m + strength->boss_m;
    }
}

/* Mean pressure on the projected area; where the pin rubs, PV by the mean load
 * over the cycle and the mean speed. */
static void
derive_pressures(const struct job *job, const struct load *load, struct strength *strength)
{
    const bool known = load->known && strength->diameter_known && strength->layout_known;
    const bool pv_known = known && load->inertia_known && load->rubbing_known;

    strength->boss_pressure_known = strength->eye_pressure_known = known;
    strength->boss_pv_known = pv_known && job->pin.held_in != CHOICE_held_in_PISTON;
    strength->eye_pv_known = pv_known && job->pin.held_in != CHOICE_held_in_ROD;
    if (known) {
        const double boss_area = 2.0 * strength->boss_m * strength->d_m, eye_area = strength->eye_m * strength->d_m;

        strength->boss_pressure_Pa = load->force_N / boss_area;
        strength->eye_pressure_Pa = load->force_N / eye_area;
        if (pv_known) {
            strength->boss_pv_Pa_m_s = load->pin_load_mean_N / boss_area * load->rubbing_speed_m_s;
            strength->eye_pv_Pa_m_s = load->pin_load_mean_N / eye_area * load->rubbing_speed_m_s;
        }
    }
}

static void
derive_stress(const struct load *load, struct strength *strength)
{
    const double force = load->force_N, w = strength->eye_m, g = strength->gap_m, b = strength->boss_m;
    const double d = strength->d_m, inside = strength->inside_m;

    strength->stress_known = load->known && strength->diameter_known && strength->layout_known;
    if (!strength->stress_known) {
        return;
    }
    strength->moment_Nm = beam_moment_uniform_Nm(force, w, g, b);
    strength->moment_low_Nm = beam_moment_triangular_Nm(force, w, g, b);
    strength->moment_high_Nm = beam_moment_concentrated_Nm(force, w, g, b);
    strength->modulus_m3 = round_modulus_m3(d, inside);
    strength->bending_stress_Pa = strength->moment_Nm / strength->modulus_m3;
    strength->shear_stress_Pa = beam_shear_max_Pa(force / 2.0, d, inside);
}

static void
derive_bend(const struct load *load, const struct steel *steel, struct strength *strength)
{
    const double force = load->force_N, span = strength->span_m, eye = strength->eye_m;
    const double d = strength->d_m, inside = strength->inside_m;

    if (strength->stress_known) {
        strength->deflection_m = beam_deflection_m(force, span, eye, d, inside, modulus_Pa(steel), STEEL_POISSON);
        strength->edge_slope_rad = beam_edge_slope_rad(force, span, eye, d, inside, modulus_Pa(steel));
    }
}

static void
derive_oval(const struct job *job, const struct load *load, const struct steel *steel, struct strength *strength)
{
    struct oval oval;

    strength->oval_known = load->known && strength->diameter_known && job_known(job, FIELD_pin_length) &&
                           strength->inside_m >= HOLLOW_RATIO_MIN * strength->d_m;
    if (strength->oval_known) {
        oval_of(load->force_N, job->pin.length_m, strength->d_m, strength->inside_m, modulus_Pa(steel), &oval);
        strength->ovalization_m = oval.growth_m;
        strength->oval_stress_Pa = oval.stress_max_Pa;
    }
}

/*
 * Stress over the cycle at mid-length. A pin held in rod or piston keeps its
 * place to the load line and sees the computed load ratio; a floating pin
 * creeps round and sees full reversal.
 */
static void
derive_cycle_stress(const struct job *job, const struct load *load, struct strength *strength)
{
    const double ratio_max = load->inertia_known ? load->pin_load_max_N / load->force_N : 1.0;
    const double ratio_min = load->inertia_known ? load->pin_load_min_N / load->force_N : 0.0;

    if (job->pin.held_in == CHOICE_held_in_FLOATING) {
        strength->stress_amplitude_Pa = strength->bending_stress_Pa;
        strength->stress_mean_Pa = 0.0;
        return;
    }
    strength->stress_amplitude_Pa = strength->bending_stress_Pa * (ratio_max - ratio_min) / 2.0;
    strength->stress_mean_Pa = strength->bending_stress_Pa * (ratio_max + ratio_min) / 2.0;
}

static void
derive_size_factor(const struct job *job, struct strength *strength)
{
    const bool floating = job->pin.held_in == CHOICE_held_in_FLOATING;

    if (strength->diameter_known) {
        strength->size_factor = fatigue_size_factor(fatigue_equivalent_diameter_m(strength->d_m, floating));
    }
}

static void
derive_fatigue(const struct job *job, const struct steel *steel, struct strength *strength)
{
    const enum fatigue_surface surface = job->pin.finish == CHOICE_finish_GROUND ? SURFACE_GROUND : SURFACE_MACHINED;

    strength->tensile_Pa = strength->yield_Pa = 0.0;
    strength->endurance_Pa = strength->fatigue_factor = strength->yield_factor = 0.0;
    if (steel != NULL) {
        steel_strength_at(steel, job->pin.diameter.max_m, &strength->tensile_Pa, &strength->yield_Pa);
    }
    strength->steel_known = strength->tensile_Pa > 0.0 && strength->yield_Pa > 0.0;
    if (strength->steel_known && strength->diameter_known) {
        strength->endurance_Pa = fatigue_endurance_Pa(surface, strength->tensile_Pa, strength->size_factor);
    }
    strength->fatigue_known = strength->steel_known && strength->stress_known;
    if (strength->fatigue_known) {
        strength->fatigue_factor = fatigue_goodman(strength->stress_amplitude_Pa, strength->stress_mean_Pa,
                                                   strength->endurance_Pa, strength->tensile_Pa);
        strength->yield_factor = fmin(strength->yield_Pa / strength->bending_stress_Pa, FATIGUE_FACTOR_MAX);
    }
}

/* Hardness of the running surface: as entered, else the steel's own. */
static double
surface_HB(const struct job *job, const struct steel *steel)
{
    if (job_known(job, FIELD_pin_hardness)) {
        return job->pin.hardness_scale == CHOICE_hardness_scale_HRC ? hardness_HB_from_HRC(job->pin.hardness_number)
                                                                    : job->pin.hardness_number;
    }
    return steel != NULL ? steel_surface_hardness_HB(steel) : 0.0;
}

void
strength_derive(const struct job *job, struct derived *derived)
{
    struct strength *strength = &derived->strength;

    *strength = (struct strength){0};
    derive_layout(job, strength);
    derive_size_factor(job, strength);
    derive_pressures(job, &derived->load, strength);
    derive_stress(&derived->load, strength);
    if (strength->stress_known) {
        derive_cycle_stress(job, &derived->load, strength);
    }
    strength_derive_steel(job, derived);
}

void
strength_derive_steel(const struct job *job, struct derived *derived)
{
    struct strength *strength = &derived->strength;
    const struct steel *steel = job_steel(job);

    derive_bend(&derived->load, steel, strength);
    derive_oval(job, &derived->load, steel, strength);
    derive_fatigue(job, steel, strength);
    strength->surface_HB = surface_HB(job, steel);
    strength->mass_known = strength->diameter_known && job_known(job, FIELD_pin_length);
    if (strength->mass_known) {
        const double density = steel != NULL && steel->density.given ? steel->density.si : STEEL_DENSITY_kg_m3;

        strength->mass_kg = density * round_area_m2(strength->d_m, strength->inside_m) * job->pin.length_m;
    }
}

void
strength_report(const struct derived *derived, struct report *report)
{
    const struct strength *s = &derived->strength;

    if (s->boss_pressure_known) {
        report_put(report, RESULT_strength_boss_pressure, s->boss_pressure_Pa);
        report_put(report, RESULT_strength_eye_pressure, s->eye_pressure_Pa);
    }
    if (s->boss_pv_known) {
        report_put(report, RESULT_strength_boss_pv, s->boss_pv_Pa_m_s);
    }
    if (s->eye_pv_known) {
        report_put(report, RESULT_strength_eye_pv, s->eye_pv_Pa_m_s);
    }
    if (s->stress_known) {
        report_put(report, RESULT_strength_bending_moment, s->moment_Nm);
        report_put(report, RESULT_strength_bending_moment_low, s->moment_low_Nm);
        report_put(report, RESULT_strength_bending_moment_high, s->moment_high_Nm);
        report_put(report, RESULT_strength_bending_stress, s->bending_stress_Pa);
        report_put(report, RESULT_strength_shear_stress_max, s->shear_stress_Pa);
        report_put(report, RESULT_strength_deflection, s->deflection_m);
        report_put(report, RESULT_strength_edge_slope, s->edge_slope_rad);
        report_put(report, RESULT_strength_stress_mean, s->stress_mean_Pa);
        report_put(report, RESULT_strength_stress_amplitude, s->stress_amplitude_Pa);
    }
    if (s->oval_known) {
        report_put(report, RESULT_strength_ovalization, s->ovalization_m);
        report_put(report, RESULT_strength_ovalization_stress, s->oval_stress_Pa);
    }
    if (s->steel_known) {
        report_put(report, RESULT_strength_tensile_used, s->tensile_Pa);
        report_put(report, RESULT_strength_yield_used, s->yield_Pa);
    }
    if (s->steel_known && s->diameter_known) {
        report_put(report, RESULT_strength_endurance_limit, s->endurance_Pa);
    }
    if (s->fatigue_known) {
        report_put(report, RESULT_strength_fatigue_factor, s->fatigue_factor);
        report_put(report, RESULT_strength_yield_factor, s->yield_factor);
    }
    if (s->mass_known) {
        report_put(report, RESULT_strength_pin_mass, s->mass_kg);
    }
}
