#include "joint/derived.h"

#include <math.h>

#include "joint/clearance_rule.h"
#include "joint/press.h"
#include "joint/thermal.h"

/* Plain carbon steel, where the pin's steel is not named [Callister B.6, 1020]. */
static const double steel_expansion_per_K = 11.7e-6;

/* A pressed bushing belongs to this surface if its bore is within this share of
 * the finished hole: it may still have its honing stock. */
static const double same_bore_ratio = 0.1;

/* The pin's limits and what clearance is wanted on it. */
static void
derive_wanted(const struct job *job, struct running *running)
{
    const struct limits *pin = job_known(job, FIELD_running_fit_pin) ? &job->running_fit.pin : &job->pin.diameter;
    const struct steel *steel = job_steel(job);
    running->pin_min_m = pin->min_m;
    running->pin_max_m = pin->max_m;
    running->pin_mean_m = 0.5 * (pin->min_m + pin->max_m);
    running->pin_expansion_per_K =
        steel != NULL && steel->expansion.given ? steel->expansion.si : steel_expansion_per_K;

    const struct clearance_rule rule = clearance_rule_running(running->pin_mean_m);
    running->wanted_min_m = rule.min_m;
    running->wanted_max_m = rule.max_m;
    running->worn_max_m = rule.worn_m;
    if (job_known(job, FIELD_running_fit_wanted)) {
        running->wanted_min_m = job->running_fit.wanted.min_m;
        running->wanted_max_m = job->running_fit.wanted.max_m;
        running->worn_max_m = fmax(rule.worn_m, running->wanted_max_m);
    }
    running->wanted_known = true;
}

/* The metal named by a word of a choice set, NULL if no table has it. */
static const struct metal *
metal_of_choice(enum choice_set set, int word)
{
    size_t count = 0;
    const struct choice_row *row = choice_table(set, &count);
    return word >= 0 && (size_t)word < count ? metal_with_id(row[word].text) : NULL;
}

/* The metal that the hole grows with, where no bushing is described: the one
 * named, else that of the piston or of the rod. */
static const struct metal *
hole_metal_of(const struct job *job)
{
    const struct metal *metal = job_metal(job, FIELD_running_fit_hole_metal);
    if (metal != NULL) {
        return metal;
    }
    const bool at_known = job_known(job, FIELD_running_fit_at);
    const bool in_eye = at_known ? job->running_fit.at == CHOICE_surface_EYE
                                 : job_known(job, FIELD_pin_held_in) && job->pin.held_in == CHOICE_held_in_PISTON;
    if (in_eye) {
        return job_known(job, FIELD_eye_metal) ? metal_of_choice(CHOICE_SET_eye_metal, job->eye.metal) : NULL;
    }
    return job_known(job, FIELD_boss_metal) ? metal_of_choice(CHOICE_SET_boss_metal, job->boss.metal) : NULL;
}

/*
 * How much the bore of a pressed bushing closes at a temperature beyond what it
 * has closed already when cold, for one interference: by Lame, from the change
 * of interference. Negative where a housing that grows more lets go of it.
 */
static bool
extra_closure_m(const struct press_parts *parts, double interference_m, double temperature_degC, double *closure_m)
{
    struct lame_press cold, hot;
    const double hot_m = press_hot_interference_m(parts, interference_m, temperature_degC);
    if (!lame_press(&parts->rings, interference_m, &cold) || !lame_press(&parts->rings, hot_m, &hot)) {
        return false;
    }
    *closure_m = hot.bore_closure_m - cold.bore_closure_m;
    return true;
}

/*
 * The hole hot where a bushing is pressed in: it grows as bronze does, less
 * what its housing holds back. Taken as free it would come out badly wrong.
 */
static bool
bushed_hole_hot(const struct job *job, struct running *running, double temperature_degC, double hole_hot_m[2])
{
    struct press_parts parts;
    press_parts_of(job, &parts);
    const double hole_m = 0.5 * (running->hole_min_m + running->hole_max_m);
    if (!parts.rings_known || !parts.expansion_known || fabs(parts.rings.bore_m - hole_m) > same_bore_ratio * hole_m) {
        return false;
    }
    parts.rings.bore_m = hole_m; /* as honed */
    double tight_m = 0.0, loose_m = 0.0;
    if (!extra_closure_m(&parts, parts.bushing_max_m - parts.housing_min_m, temperature_degC, &tight_m) ||
        !extra_closure_m(&parts, parts.bushing_min_m - parts.housing_max_m, temperature_degC, &loose_m)) {
        return false;
    }
    running->hole_expansion_per_K = parts.bushing_expansion_per_K;
    running->bushing_restrained = true;
    const double most_m = fmax(tight_m, loose_m), least_m = fmin(tight_m, loose_m);
    hole_hot_m[0] = thermal_size_m(running->hole_min_m, running->hole_expansion_per_K, temperature_degC) - most_m;
    hole_hot_m[1] = thermal_size_m(running->hole_max_m, running->hole_expansion_per_K, temperature_degC) - least_m;
    return true;
}

static void
derive_hot(const struct job *job, struct running *running)
{
    const bool pin_known = job_known(job, FIELD_running_fit_pin_temperature);
    const bool hole_known = job_known(job, FIELD_running_fit_hole_temperature);
    if (!pin_known && !hole_known) {
        return;
    }
    /* One temperature given: both parts run at it. */
    const double pin_degC = pin_known ? job->running_fit.pin_temperature_degC : job->running_fit.hole_temperature_degC;
    const double hole_degC = hole_known ? job->running_fit.hole_temperature_degC : pin_degC;
    double hole_hot_m[2];
    if (!bushed_hole_hot(job, running, hole_degC, hole_hot_m)) {
        const struct metal *metal = hole_metal_of(job);
        if (metal == NULL || !metal->expansion.given) {
            return;
        }
        running->hole_expansion_per_K = metal->expansion.si;
        hole_hot_m[0] = thermal_size_m(running->hole_min_m, running->hole_expansion_per_K, hole_degC);
        hole_hot_m[1] = thermal_size_m(running->hole_max_m, running->hole_expansion_per_K, hole_degC);
    }
    running->hot_clearance_min_m =
        hole_hot_m[0] - thermal_size_m(running->pin_max_m, running->pin_expansion_per_K, pin_degC);
    running->hot_clearance_max_m =
        hole_hot_m[1] - thermal_size_m(running->pin_min_m, running->pin_expansion_per_K, pin_degC);
    running->hot_known = true;
}

void
running_derive(const struct job *job, struct derived *derived)
{
    struct running *running = &derived->running;
    *running = (struct running){0};
    if (!job_known(job, FIELD_running_fit_pin) && !job_known(job, FIELD_pin_diameter)) {
        return;
    }
    derive_wanted(job, running);
    if (!job_known(job, FIELD_running_fit_hole)) {
        return;
    }
    running->hole_min_m = job->running_fit.hole.min_m;
    running->hole_max_m = job->running_fit.hole.max_m;
    running->clearance_min_m = running->hole_min_m - running->pin_max_m;
    running->clearance_max_m = running->hole_max_m - running->pin_min_m;
    running->cold_known = true;
    derive_hot(job, running);
}
