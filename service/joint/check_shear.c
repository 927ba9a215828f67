#include "joint/check.h"

#include <math.h>

#include "joint/clamp.h"

/*
 * Does the pin shear in the side gaps? Greatest, not mean, transverse stress
 * (VQ/It): 4/3 of the mean for a solid round, near twice for a thin tube. The
 * exact value at the center of a solid round is 4 % higher.
 */

#define FACTOR_ADVISED 2.0
#define FACTOR_LIMIT 1.5

static void
judge_shear(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const double shear_yield = SHEAR_YIELD_RATIO * s->yield_Pa;
    const struct allowable factor =
        allowable_factor(job, FIELD_limits_shear_factor, job->limits.shear_factor_ratio, FACTOR_ADVISED, FACTOR_LIMIT);

    if (!s->fatigue_known) {
        return;
    }
    finding_ceiling(finding, s->shear_stress_Pa, shear_yield / factor.advised, shear_yield / factor.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding, "Thicken the pin to {0^}, or take a steel with a yield strength of {1^} or more.");
    finding_advise_value(finding, 0, s->d_m * sqrt(s->shear_stress_Pa * factor.advised / shear_yield),
                         DIMENSION_LENGTH);
    finding_advise_value(finding, 1, s->shear_stress_Pa * factor.advised / SHEAR_YIELD_RATIO, DIMENSION_PRESSURE);
    finding_fix_to(finding, FIELD_pin_diameter, s->d_m * sqrt(s->shear_stress_Pa * factor.advised / shear_yield));
}

static const enum job_field reads[] = {READS_FORCE, FIELD_pin_diameter, FIELD_pin_inside_diameter, FIELD_pin_steel,
                                       FIELD_limits_shear_factor};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter), NEED1(pin_steel)};

const struct check check_shear = {
    .id = "shear",
    .name = "shear of the pin",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Does the pin shear in the gaps between eye and bosses?",
    .basis = "greatest transverse shear stress of half the load: 4/3 V/A solid, (4/3)(V/A)(D2+Dd+d2)/(D2+d2) hollow",
    .limit_rule = "0.577 of the minimum yield strength over 1.5; advised over 2.0 (judgement)",
    .source = "VQ/It; von Mises shear yield",
    .override_field = FIELD_limits_shear_factor,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_shear,
};
