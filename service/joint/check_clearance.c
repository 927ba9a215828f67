#include "joint/check.h"

#include <math.h>

#include "joint/clearance_rule.h"

/*
 * Running clearance between pin and hole, on the diameter, cold (20 degC) and
 * at the running temperatures.
 *
 * The windows are trade rules with no source of their own; they span the fits
 * printed in engine manuals read for them (see clearance_rule.h). The hot check
 * looks at the least clearance only: what a warm engine must not lose.
 */

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

/* A size that is advised clears its own check by this much: more than an answer
 * is rounded by. */
static const double rounding_m = 5.0e-8;

/* The pin is what gets made: its size is what is changed. */
static void
fix_pin(const struct job *job, const struct running *running, struct finding *finding)
{
    const double hole_m = 0.5 * (running->hole_min_m + running->hole_max_m);
    const double clearance_m = 0.5 * (running->wanted_min_m + running->wanted_max_m);
    finding_fix_to(finding, job_known(job, FIELD_running_fit_pin) ? FIELD_running_fit_pin : FIELD_pin_diameter,
                   hole_m - clearance_m);
}

static double
window_utilization(double value_low, double value_high, double limit_low, double limit_high)
{
    const double middle = 0.5 * (limit_low + limit_high), half = 0.5 * (limit_high - limit_low);
    return fmin(fmax(fabs(value_low - middle), fabs(value_high - middle)) / half, UTILIZATION_MAX);
}

/* ---- cold ---- */

static void
advise_cold_tight(const struct running *running, struct finding *finding)
{
    if (finding->verdict == VERDICT_FAILS) {
        finding_advise(finding, "The largest pin is {0} larger than the smallest hole and will not enter. Turn or lap "
                                "the pin, or hone the hole, until the least clearance is {1}.");
        finding_advise_value(finding, 0, -running->clearance_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, running->wanted_min_m, DIMENSION_LENGTH);
        return;
    }
    finding_advise(finding, "Just tight: {0} at the least, {1} wanted. A pin that still turns by hand under oil will "
                            "wear in (common practice): give it oil from the first turn, feel for heat, and stop at "
                            "the first sign of pick-up. Otherwise take {2} off the pin or out of the hole.");
    finding_advise_value(finding, 0, running->clearance_min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, running->wanted_min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, running->wanted_min_m - running->clearance_min_m, DIMENSION_LENGTH);
}

static void
advise_cold_loose(const struct running *running, struct finding *finding)
{
    if (finding->verdict == VERDICT_FAILS) {
        finding_advise(finding, "Worn out: as much as {0} of play, where {1} is the most. Fit a pin turned to {2} to "
                                "{3} for this hole, or rebush.");
    } else {
        finding_advise(finding, "Loose: as much as {0} of play. It runs up to {1}, but expect a knock and faster wear; "
                                "a pin of {2} to {3} suits this hole.");
    }
    const double low_m = running->hole_max_m - running->wanted_max_m;
    const double high_m = running->hole_min_m - running->wanted_min_m;
    const double middle_m = 0.5 * (low_m + high_m);
    finding_advise_value(finding, 0, running->clearance_max_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, running->worn_max_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, low_m <= high_m ? low_m : middle_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 3, low_m <= high_m ? high_m : middle_m, DIMENSION_LENGTH);
}

/* Pin and hole vary more than the window allows: no shift of size helps. */
static bool
too_wide(const struct running *running)
{
    return running->clearance_max_m - running->clearance_min_m > running->wanted_max_m - running->wanted_min_m;
}

static void
advise_cold(const struct job *job, const struct running *running, struct finding *finding)
{
    const struct clearance_rule aim = clearance_rule_aim(running->pin_mean_m);
    const bool tight = running->clearance_min_m < running->wanted_min_m - slack_m;
    const bool loose = running->clearance_max_m > running->wanted_max_m + slack_m;
    if (!tight && !loose) {
        finding_advise(finding, "Inside the {0} to {1} wanted; the usual aim for a new joint is {2} to {3}.");
        finding_advise_value(finding, 0, running->wanted_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, running->wanted_max_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 2, aim.min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 3, aim.max_m, DIMENSION_LENGTH);
        return;
    }
    fix_pin(job, running, finding);
    if (finding->verdict == VERDICT_MARGINAL && tight && loose && too_wide(running)) {
        finding_advise(finding, "The limits of pin and hole let the clearance vary by {0}; {1} is wanted at the least "
                                "and {2} at the most. Measure the finished hole and turn the pin to suit it.");
        finding_advise_value(finding, 0, running->clearance_max_m - running->clearance_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, running->wanted_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 2, running->wanted_max_m, DIMENSION_LENGTH);
        return;
    }
    const bool worn = running->clearance_max_m > finding->limit_high + slack_m;
    if (tight && !worn) {
        advise_cold_tight(running, finding);
    } else {
        advise_cold_loose(running, finding);
    }
}

static void
judge_cold(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct running *running = &derived->running;
    if (!running->cold_known) {
        return;
    }
    finding->judged = true;
    finding->two_sided = finding->has_value = finding->has_limits = finding->has_utilization = true;
    finding->value = running->clearance_min_m;
    finding->value_high = running->clearance_max_m;
    finding->advised_low = running->wanted_min_m;
    finding->advised_high = running->wanted_max_m;
    /* An interference that the client asks for is not refused. */
    finding->limit_low = fmin(0.0, running->wanted_min_m);
    finding->limit_high = running->worn_max_m;
    finding->utilization =
        window_utilization(finding->value, finding->value_high, finding->limit_low, finding->limit_high);
    const double low_m = finding->value + slack_m, high_m = finding->value_high - slack_m;
    if (low_m >= finding->advised_low && high_m <= finding->advised_high) {
        finding->verdict = VERDICT_OK;
    } else if (low_m >= finding->limit_low && high_m <= finding->limit_high) {
        finding->verdict = VERDICT_MARGINAL;
    } else {
        finding->verdict = VERDICT_FAILS;
    }
    advise_cold(job, running, finding);
}

static const enum job_field cold_reads[] = {FIELD_running_fit_pin, FIELD_pin_diameter, FIELD_running_fit_hole,
                                            FIELD_running_fit_wanted};
static const struct need cold_needs[] = {NEED2(running_fit_pin, pin_diameter), NEED1(running_fit_hole)};

const struct check check_clearance_cold = {
    .id = "clearance_cold",
    .name = "running clearance",
    .section = SECTION_fit,
    .sense = SENSE_WINDOW,
    .dimension = DIMENSION_LENGTH,
    .asks = "Does the pin have the right clearance in the hole it turns in, at 20 degC?",
    .basis = "least clearance = smallest hole - largest pin; greatest clearance = largest hole - smallest pin; both on "
             "the diameter",
    .limit_rule = "wanted: as given, else from the larger of 0.0005 d and 0.0004 in to the larger of 0.0015 d and "
                  "0.0010 in, d the mean pin size; limits: zero, and the larger of 0.003 d, 0.003 in and the greatest "
                  "clearance wanted",
    .source = "common practice, no source; spans the fits and wear limits printed in engine and military manuals",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(cold_reads),
    .needs = CHECK_LIST(cold_needs),
    .judge = judge_cold,
};

/* ---- hot ---- */

static void
advise_hot(const struct job *job, const struct running *running, struct finding *finding)
{
    if (finding->verdict == VERDICT_OK) {
        if (running->hot_clearance_max_m > running->worn_max_m) {
            finding_advise(finding, "Enough at running heat, but as much as {0} of play: expect it to knock when hot.");
            finding_advise_value(finding, 0, running->hot_clearance_max_m, DIMENSION_LENGTH);
        } else {
            finding_advise(finding, "At running heat {0} to {1} of clearance remain.");
            finding_advise_value(finding, 0, running->hot_clearance_min_m, DIMENSION_LENGTH);
            finding_advise_value(finding, 1, running->hot_clearance_max_m, DIMENSION_LENGTH);
        }
        return;
    }
    finding_advise(finding, finding->verdict == VERDICT_FAILS
                                ? "The pin seizes when hot: {0} of interference at running heat. Open the cold "
                                  "clearance by {1^}."
                                : "Only {0} of clearance is left at running heat. Open the cold clearance by {1^}, or "
                                  "watch oil and heat while it runs in.");
    finding_advise_value(finding, 0, fabs(running->hot_clearance_min_m), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, finding->advised - running->hot_clearance_min_m, DIMENSION_LENGTH);
    finding_fix_to(finding, job_known(job, FIELD_running_fit_pin) ? FIELD_running_fit_pin : FIELD_pin_diameter,
                   running->pin_mean_m - (finding->advised - running->hot_clearance_min_m) - rounding_m);
}

/*
 * limit / value has no meaning at a limit of zero: what heat has taken of the
 * least clearance wanted, so that nothing left is 1. Where an interference is
 * wanted, counted from a worn-out joint down.
 */
static double
hot_utilization(const struct running *running, double value_m, double limit_m)
{
    const double from_m = running->wanted_min_m > 0.0 ? running->wanted_min_m : running->worn_max_m;

    return fmin(fmax((from_m - value_m) / (from_m - limit_m), 0.0), UTILIZATION_MAX);
}

static void
judge_hot(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct running *running = &derived->running;
    if (!running->hot_known) {
        return;
    }
    const double value_m = running->hot_clearance_min_m;
    finding->judged = true;
    finding->has_value = finding->has_limits = finding->has_utilization = true;
    finding->value = value_m;
    /* An interference that the client asks for is not refused. */
    finding->limit = fmin(0.0, running->wanted_min_m);
    finding->advised = running->wanted_min_m > 0.0 ? 0.5 * running->wanted_min_m : running->wanted_min_m;
    finding->utilization = hot_utilization(running, value_m, finding->limit);
    if (value_m + slack_m >= finding->advised) {
        finding->verdict = VERDICT_OK;
    } else if (value_m + slack_m >= finding->limit) {
        finding->verdict = VERDICT_MARGINAL;
    } else {
        finding->verdict = VERDICT_FAILS;
    }
    advise_hot(job, running, finding);
}

static const enum job_field hot_reads[] = {
    FIELD_running_fit_pin,
    FIELD_pin_diameter,
    FIELD_running_fit_hole,
    FIELD_running_fit_wanted,
    FIELD_running_fit_pin_temperature,
    FIELD_running_fit_hole_temperature,
    FIELD_running_fit_hole_metal,
    FIELD_running_fit_at,
    FIELD_pin_held_in,
    FIELD_pin_steel,
    FIELD_boss_metal,
    FIELD_eye_metal,
    FIELD_press_fit_bushing_outside,
    FIELD_press_fit_housing_bore,
    FIELD_press_fit_bushing_bore,
    FIELD_press_fit_housing_outside,
    FIELD_press_fit_bushing_metal,
    FIELD_press_fit_housing_metal,
};
static const struct need hot_needs[] = {NEED2(running_fit_pin, pin_diameter), NEED1(running_fit_hole),
                                        NEED2(running_fit_pin_temperature, running_fit_hole_temperature)};

const struct check check_clearance_hot = {
    .id = "clearance_hot",
    .name = "running clearance when hot",
    .section = SECTION_fit,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is clearance left at the running temperatures?",
    .basis = "pin and hole grown from 20 degC by their own expansion; a pressed bushing grows as its metal does, less "
             "what its housing holds back (Lame, interference + d (alpha of bushing - alpha of housing) (T - 20 degC))",
    .limit_rule = "limit: zero; advised: half the least clearance wanted cold; utilization: what heat has taken of the "
                  "least clearance wanted, so that no clearance left is 1; one temperature given stands for both parts",
    .source = "common practice, no source; expansion by the steel's and the metals' rows, reference temperature ISO 1",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(hot_reads),
    .needs = CHECK_LIST(hot_needs),
    .judge = judge_hot,
};
