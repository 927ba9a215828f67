#include "joint/check.h"

#include <math.h>

#include "joint/pin_reads.h"

/*
 * Does the unslotted pin last? Goodman at mid-length with the load ratio of
 * the cycle; a floating pin creeps round and sees full reversal. Case-hardened
 * pins are judged on their core, with no credit for the case.
 */

#define FACTOR_ADVISED 1.5
#define FACTOR_LIMIT 1.0

static void
judge_fatigue(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const struct allowable factor = allowable_factor(job, FIELD_limits_fatigue_factor, job->limits.fatigue_factor_ratio,
                                                     FACTOR_ADVISED, FACTOR_LIMIT);
    double share;

    if (!s->fatigue_known) {
        return;
    }
    finding_floor(finding, s->fatigue_factor, factor.advised, factor.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    share = factor.advised / s->fatigue_factor;
    finding_advise(finding,
                   "Thicken the pin to about {0^}, or take a steel with a tensile strength near {1^}; a ground finish "
                   "helps too.");
    finding_advise_value(finding, 0, s->d_m * cbrt(share), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, s->tensile_Pa * share, DIMENSION_PRESSURE);
    finding_fix_to(finding, FIELD_pin_diameter, s->d_m * cbrt(share));
}

static const enum job_field reads[] = {READS_BENDING, FIELD_pin_steel, FIELD_pin_finish, FIELD_limits_fatigue_factor};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter), NEED1(pin_steel)};

const struct check check_fatigue = {
    .id = "fatigue",
    .name = "fatigue of the pin",
    .section = SECTION_strength,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Does the pin last, leaving the slot aside?",
    .basis =
        "Goodman 1 / (sa/Se + sm/Sut), Se = ka kb 0.5 Sut, load ratio of the cycle (full reversal for a floating pin)",
    .limit_rule = "at least 1.0; advised 1.5",
    .source = "Shigley's Mechanical Engineering Design, 8th to 10th editions, ch. 6",
    .override_field = FIELD_limits_fatigue_factor,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_fatigue,
};
