#include "joint/check.h"

#include "joint/clearance_rule.h"

/* A size that is advised clears its own check by this much: more than an answer
 * is rounded by. */
static const double rounding_m = 5.0e-8;

/*
 * Clearance of the pin in the split eye that holds it: the eye must close by
 * that much before it grips, and springs open again if the bolt slackens. On
 * the diameter, at 20 degC. Not covered: how far the eye can close, bores out
 * of round.
 */
static void
judge_held(const struct job *job, const struct derived *derived, struct finding *finding)
{
    if (!derived->slot.held_known || !derived->strength.diameter_known) {
        return;
    }
    const double value_m = derived->slot.held_clearance_max_m;
    const struct clearance_rule rule = clearance_rule_held(derived->strength.d_m);
    finding_ceiling(finding, value_m, rule.max_m, rule.worn_m);
    if (finding->utilization < 0.0) {
        finding->utilization = 0.0; /* a drive fit has no clearance to use up */
    }
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "The pin fills its hole: {0} at the most to take up before it is gripped.");
        finding_advise_value(finding, 0, value_m, DIMENSION_LENGTH);
        return;
    }
    const struct limits *hole = &job->held_fit.hole;
    finding_advise(finding,
                   "The eye must close by as much as {0} before it grips; {1} is enough to fit a pin. A pin of "
                   "{2} suits this hole: step it there, or sleeve the eye.");
    finding_advise_value(finding, 0, value_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, rule.max_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, hole->max_m - rule.max_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_held_fit_hole, hole->max_m - (value_m - rule.max_m) - rounding_m);
}

static const enum job_field held_reads[] = {FIELD_held_fit_hole, FIELD_pin_diameter};
static const struct need held_needs[] = {NEED1(held_fit_hole), NEED1(pin_diameter)};

const struct check check_held_clearance = {
    .id = "held_clearance",
    .name = "clearance where the pin is held",
    .section = SECTION_slot,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the pin close enough in the hole that holds it?",
    .basis = "greatest clearance = largest hole - smallest pin, on the diameter",
    .limit_rule =
        "advised the larger of 0.0005 d and 0.0003 in, limit the larger of 0.0015 d and 0.0010 in: a split eye "
        "must close that far before it grips",
    .source = "judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(held_reads),
    .needs = CHECK_LIST(held_needs),
    .judge = judge_held,
};
