#include "joint/check.h"

#include <math.h>

#include "joint/pin_reads.h"

/*
 * Does the pin keep its shape at the peak load? Bending stress at mid-length of
 * the unslotted pin, pressure uniform in eye and bosses: five elastic contact
 * runs gave 0.64 to 0.72 of this moment, so it is on the safe side. `bending`
 * gives the stress against what is allowed, `yield` the factor that is left.
 *
 * Not covered: the slot (slot_bending), fretting, a bent pin.
 */

/* Factors on yield: judgement, usual for pins whose load is known only
 * roughly. */
#define FACTOR_ADVISED 2.0
#define FACTOR_LIMIT 1.5

static void
advise(const struct derived *derived, double share, struct finding *finding)
{
    const double d = derived->strength.d_m;

    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding,
                   "Thicken the pin to {0^}, or take a steel with a yield strength of {1^} or more, or close up "
                   "the side gaps.");
    finding_advise_value(finding, 0, d * cbrt(share), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, derived->strength.yield_Pa * share, DIMENSION_PRESSURE);
    finding_fix_to(finding, FIELD_pin_diameter, d * cbrt(share));
}

static void
judge_bending(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const struct allowable factor = allowable_factor(job, FIELD_limits_bending_factor, job->limits.bending_factor_ratio,
                                                     FACTOR_ADVISED, FACTOR_LIMIT);

    if (!s->fatigue_known) {
        return;
    }
    finding_ceiling(finding, s->bending_stress_Pa, s->yield_Pa / factor.advised, s->yield_Pa / factor.limit);
    advise(derived, s->bending_stress_Pa * factor.advised / s->yield_Pa, finding);
}

static void
judge_yield(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const struct allowable factor = allowable_factor(job, FIELD_limits_bending_factor, job->limits.bending_factor_ratio,
                                                     FACTOR_ADVISED, FACTOR_LIMIT);

    if (!s->fatigue_known) {
        return;
    }
    finding_floor(finding, s->yield_factor, factor.advised, factor.limit);
    advise(derived, s->bending_stress_Pa * factor.advised / s->yield_Pa, finding);
}

static const enum job_field reads[] = {READS_BENDING, FIELD_pin_steel, FIELD_limits_bending_factor};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter), NEED1(pin_steel)};

const struct check check_bending = {
    .id = "bending",
    .name = "bending of the pin",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Does the pin keep its shape under the peak load?",
    .basis = "F (w + 4 g + 2 b) / 8 over the section modulus, w eye, g gap, b boss",
    .limit_rule = "minimum yield strength over 1.5; advised over 2.0 (judgement)",
    .source = "statics of a short beam with uniform pressure; the lug-joint arm (F/2)(t1/2 + t2/4 + g) (from memory)",
    .override_field = FIELD_limits_bending_factor,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_bending,
};

const struct check check_yield = {
    .id = "yield",
    .repeats = true,
    .name = "margin to yield",
    .section = SECTION_strength,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "How many times the peak load would bend the pin for good?",
    .basis = "minimum yield strength over mean plus alternating bending stress at the peak",
    .limit_rule = "at least 1.5; advised 2.0 (judgement)",
    .source = "Shigley, yield check Sy / (sa + sm)",
    .override_field = FIELD_limits_bending_factor,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_yield,
};
