#include "joint/press.h"

#include "joint/thermal.h"

/* The interference to aim at, and how finely the bushing can be turned. */
struct press_aim {
    double min_m, max_m;
    double turning_m; /* width of the limits on the outside of the bushing */
};

/*
 * A standard class for the aim, ANSI B4.1: FN1, "light drive: thin sections,
 * long fits, cast-iron externals", is what a bushing is. FN2, medium drive,
 * only for a thick bushing (wall an eighth of its bore or more, judgement) in
 * a steel housing.
 */
static const char *
press_class(const struct job *job, const struct lame_rings *rings)
{
    const struct metal *housing = job_metal(job, FIELD_press_fit_housing_metal);
    const bool thick = rings->bore_m > 0.0 && rings->interface_m - rings->bore_m >= 0.25 * rings->bore_m;
    return housing != NULL && housing->kind == METAL_STEEL && thick ? "FN2" : "FN1";
}

static struct press_aim
aim_of_class(const char *class_name, double interface_m)
{
    /* 0.0005 to 0.001 in per inch where the table does not reach (common
     * practice, no source). */
    struct press_aim aim = {PRESS_ADVISED_RATIO * interface_m, 0.001 * interface_m, 0.00025 * interface_m};
    struct limits shaft, hole;
    if (fit_limits(interface_m, class_name, FIT_SIDE_SHAFT, &shaft) == FIT_OK &&
        fit_limits(interface_m, class_name, FIT_SIDE_HOLE, &hole) == FIT_OK) {
        const double least_m = shaft.min_m - hole.max_m;
        aim.min_m = least_m > aim.min_m ? least_m : aim.min_m;
        aim.max_m = shaft.max_m - hole.min_m;
        aim.turning_m = shaft.max_m - shaft.min_m;
    }
    return aim;
}

/* What expansion loosens at the running temperature, on top of the least
 * interference wanted there; 0 where it tightens or is not known. */
static double
least_for_hot_m(const struct job *job, const struct press_parts *parts)
{
    if (!parts->expansion_known || !job_known(job, FIELD_press_fit_temperature)) {
        return 0.0;
    }
    const double change_m = press_hot_interference_m(parts, 0.0, job->press_fit.temperature_degC);
    return PRESS_HOT_ADVISED_RATIO * parts->rings.interface_m - change_m;
}

/* The interference at which the bushing's bore uses up its share of yield;
 * 0 where not known. */
static double
most_for_stress_m(const struct press_parts *parts)
{
    struct lame_press unit;
    const double trial_m = 1.0e-3 * parts->rings.interface_m;
    if (!parts->rings_known || !(parts->bushing_yield_Pa > 0.0) || !lame_press(&parts->rings, trial_m, &unit) ||
        !(unit.bushing_bore_hoop_Pa < 0.0)) {
        return 0.0;
    }
    return trial_m * PRESS_STRESS_ADVISED_RATIO * parts->bushing_yield_Pa / -unit.bushing_bore_hoop_Pa;
}

/*
 * What to turn the outside of the bushing to, so that the press holds, hot as
 * well, and does not crush the bushing, for any housing bore within its limits.
 */
static void
make_wanted(const struct job *job, struct press_parts *parts)
{
    struct press_aim aim = aim_of_class(press_class(job, &parts->rings), parts->rings.interface_m);
    const double hot_m = least_for_hot_m(job, parts), stress_m = most_for_stress_m(parts);
    if (stress_m > 0.0 && stress_m - PRESS_ROUNDING_m < aim.max_m) {
        aim.max_m = stress_m - PRESS_ROUNDING_m;
    }
    if (hot_m > aim.min_m) {
        aim.min_m = hot_m;
    }
    aim.min_m += PRESS_ROUNDING_m;
    /* Holding comes first: a bushing that cannot take it is told so by the
     * check of its stress. */
    if (aim.max_m < aim.min_m) {
        aim.max_m = aim.min_m + aim.turning_m;
    }
    double low_m = parts->housing_max_m + aim.min_m, high_m = parts->housing_min_m + aim.max_m;
    parts->housing_too_wide = high_m - low_m < 0.25 * aim.turning_m;
    if (parts->housing_too_wide) {
        const double middle_m = 0.5 * (low_m + high_m);
        low_m = middle_m - 0.25 * aim.turning_m;
        high_m = middle_m + 0.25 * aim.turning_m;
    }
    parts->wanted_press_min_m = aim.min_m;
    parts->wanted_press_max_m = aim.max_m;
    parts->wanted_min_m = low_m;
    parts->wanted_max_m = high_m;
}

/* Poisson's ratio of a metal whose row or certificate has none; moves the
 * pressure by about 1 % for 0.03. */
static double
poisson_of(const struct metal *metal)
{
    return metal->poisson.given ? metal->poisson.si : 0.30;
}

static void
take_metals(const struct job *job, struct press_parts *parts)
{
    const struct metal *bushing = job_metal(job, FIELD_press_fit_bushing_metal);
    const struct metal *housing = job_metal(job, FIELD_press_fit_housing_metal);
    if (bushing == NULL || housing == NULL) {
        return;
    }
    parts->expansion_known = bushing->expansion.given && housing->expansion.given;
    parts->bushing_expansion_per_K = bushing->expansion.si;
    parts->housing_expansion_per_K = housing->expansion.si;
    parts->bushing_yield_Pa = bushing->yield.given ? bushing->yield.si : 0.0;
    parts->rings.bushing_modulus_Pa = bushing->modulus.given ? bushing->modulus.si : 0.0;
    parts->rings.housing_modulus_Pa = housing->modulus.given ? housing->modulus.si : 0.0;
    parts->rings.bushing_poisson_ratio = poisson_of(bushing);
    parts->rings.housing_poisson_ratio = poisson_of(housing);
}

void
press_parts_of(const struct job *job, struct press_parts *parts)
{
    *parts = (struct press_parts){0};
    if (!job_known(job, FIELD_press_fit_housing_bore)) {
        return;
    }
    parts->housing_known = true;
    parts->housing_min_m = job->press_fit.housing_bore.min_m;
    parts->housing_max_m = job->press_fit.housing_bore.max_m;
    parts->rings.interface_m = 0.5 * (parts->housing_min_m + parts->housing_max_m);
    parts->rings.bore_m = job_known(job, FIELD_press_fit_bushing_bore) ? job->press_fit.bushing_bore_m : 0.0;
    parts->rings.outside_m = job_known(job, FIELD_press_fit_housing_outside) ? job->press_fit.housing_outside_m : 0.0;
    take_metals(job, parts);
    struct lame_press press;
    parts->rings_known = lame_press(&parts->rings, 0.0, &press);
    make_wanted(job, parts);
    parts->bushing_given = job_known(job, FIELD_press_fit_bushing_outside);
    parts->bushing_min_m = parts->bushing_given ? job->press_fit.bushing_outside.min_m : parts->wanted_min_m;
    parts->bushing_max_m = parts->bushing_given ? job->press_fit.bushing_outside.max_m : parts->wanted_max_m;
}

double
press_hot_interference_m(const struct press_parts *parts, double interference_m, double temperature_degC)
{
    return interference_m + parts->rings.interface_m *
                                (parts->bushing_expansion_per_K - parts->housing_expansion_per_K) *
                                (temperature_degC - THERMAL_REFERENCE_degC);
}
