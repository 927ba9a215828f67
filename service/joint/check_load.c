#include "joint/check.h"

/*
 * Does the load on the pin reverse? A load that never lifts never lets oil
 * back under the pin, so the bearing pressures allowed are lower. A warning,
 * never a refusal: slow two-strokes run so.
 */

static void
judge_reverses(const struct job *job, const struct derived *derived, struct finding *finding)
{
    (void)job;
    if (!derived->load.known) {
        return;
    }
    finding->judged = finding->has_value = finding->has_limits = true;
    finding->value = derived->load.pin_load_min_N;
    finding->verdict = derived->load.reverses ? VERDICT_OK : VERDICT_MARGINAL;
    finding_advise(finding, derived->load.reverses
                                ? "Nothing to change: the load lifts once a cycle and lets oil in."
                                : "The load never lifts, so oil reaches the pin badly: give the eye generous oil "
                                  "grooves and a steady feed; lower pressures are allowed here.");
}

static const enum job_field reads[] = {READS_FORCE};
static const struct need needs[] = {NEED_FORCE, NEED1(engine_speed)};

const struct check check_load_reverses = {
    .id = "load_reverses",
    .name = "load reversal",
    .section = SECTION_load,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_FORCE,
    .asks = "Does the load on the pin change its direction in every cycle?",
    .basis = "least of gas force plus inertia force over the cycle, against zero",
    .limit_rule = "below zero is ok, otherwise marginal; never fails",
    .source = "slider-crank dynamics; lower pressures without reversal after Khurmi and Gupta table 26.3 (from memory)",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .whole_cycle = true,
    .judge = judge_reverses,
};
