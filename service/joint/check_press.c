#include "joint/check.h"

#include <math.h>

#include "joint/press.h"

/*
 * A bushing pressed into its housing: does it hold, cold and hot, has it wall
 * enough, does pressing crush it. Thick rings by Lame (lame.h); the shares of
 * the diameter are trade rules with no source. Where the bushing's outside is
 * not given, the bushing is judged as the answer says to make it.
 */

/* ---- least interference ---- */

static void
advise_press(const struct press *press, const struct press_parts *parts, struct finding *finding)
{
    if (finding->verdict != VERDICT_OK && parts->housing_too_wide) {
        finding_advise(finding,
                       "The housing bore may vary by {0}, more than the press allows. Measure it, and turn the "
                       "bushing {1} to {2} larger than measured.");
        finding_advise_value(finding, 0, parts->housing_max_m - parts->housing_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, parts->wanted_press_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 2, parts->wanted_press_max_m, DIMENSION_LENGTH);
        finding_fix(finding, FIELD_press_fit_housing_bore);
        return;
    }
    if (finding->verdict == VERDICT_OK && !press->known) {
        finding_advise(finding, "The loosest bushing has {0} of press, enough to hold.");
        finding_advise_value(finding, 0, finding->value, DIMENSION_LENGTH);
        return;
    }
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, press->outside_wanted
                                    ? "Turn the bushing to {2} to {3}. Its bore closes by {0} to {1} when it is "
                                      "pressed in: leave stock and hone or ream afterwards."
                                    : "The bore closes by {0} to {1} when the bushing is pressed in: leave stock and "
                                      "hone or ream afterwards.");
        finding_advise_value(finding, 0, press->closure_min_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, press->closure_max_m, DIMENSION_LENGTH);
    } else {
        finding_advise(finding, finding->value > 0.0
                                    ? "The loosest bushing has {0} of press, {1} is wanted. Turn its outside to {2} to "
                                      "{3}."
                                    : "The loosest bushing drops into its housing and will turn or walk. Turn its "
                                      "outside to {2} to {3}.");
        finding_advise_value(finding, 0, finding->value, DIMENSION_LENGTH);
        finding_advise_value(finding, 1, finding->advised, DIMENSION_LENGTH);
        finding_fix_to(finding, FIELD_press_fit_bushing_outside, 0.5 * (parts->wanted_min_m + parts->wanted_max_m));
    }
    finding_advise_value(finding, 2, parts->wanted_min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 3, parts->wanted_max_m, DIMENSION_LENGTH);
}

static void
judge_press(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct press *press = &derived->press;
    if (!press->interference_known) {
        return;
    }
    struct press_parts parts;
    press_parts_of(job, &parts);
    finding_floor(finding, press->interference_min_m, PRESS_ADVISED_RATIO * press->interface_m,
                  PRESS_LIMIT_RATIO * press->interface_m);
    advise_press(press, &parts, finding);
}

static const enum job_field press_reads[] = {
    FIELD_press_fit_housing_bore,    FIELD_press_fit_bushing_outside, FIELD_press_fit_bushing_bore,
    FIELD_press_fit_housing_outside, FIELD_press_fit_bushing_metal,   FIELD_press_fit_housing_metal,
    FIELD_press_fit_temperature,
};
static const struct need press_needs[] = {NEED1(press_fit_housing_bore)};

const struct check check_press = {
    .id = "press",
    .name = "press of the bushing",
    .section = SECTION_fit,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the bushing tight enough in its housing?",
    .basis =
        "least interference = smallest bushing outside - largest housing bore, on the diameter; where no outside is "
        "given, the one that the answer says to make",
    .limit_rule =
        "limit 0.00025 d, advised 0.0005 d, d the mean housing bore; too much interference shows in the stress "
        "of the bushing",
    .source = "common practice, no source; what to make after ANSI B4.1 classes FN1 and FN2",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(press_reads),
    .needs = CHECK_LIST(press_needs),
    .judge = judge_press,
};

/* ---- least interference at the running temperature ---- */

static void
judge_press_hot(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct press *press = &derived->press;
    if (!press->hot_known) {
        return;
    }
    const double lost_m = press->interference_min_m - press->interference_hot_min_m;
    finding_floor(finding, press->interference_hot_min_m, PRESS_HOT_ADVISED_RATIO * press->interface_m,
                  PRESS_HOT_LIMIT_RATIO * press->interface_m);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, lost_m > 0.0 ? "The housing grows {0} more than the bushing; {1} of press remains."
                                             : "The bushing grows {0} more than its housing and sits tighter hot.");
        finding_advise_value(finding, 0, fabs(lost_m), DIMENSION_LENGTH);
        finding_advise_value(finding, 1, press->interference_hot_min_m, DIMENSION_LENGTH);
        return;
    }
    struct press_parts parts;
    press_parts_of(job, &parts);
    const double more_m = finding->advised - press->interference_hot_min_m + PRESS_ROUNDING_m;
    if (lost_m > 0.0) {
        finding_advise(finding, "The housing grows {0} more than the bushing and lets go of it: make the bushing {1} "
                                "larger, or pin it against turning.");
    } else {
        finding_advise(finding, "Heat adds {0} of press and still leaves too little: make the bushing {1} larger.");
    }
    finding_advise_value(finding, 0, fabs(lost_m), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, more_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_press_fit_bushing_outside,
                   0.5 * (parts.bushing_min_m + parts.bushing_max_m) + more_m);
}

static const enum job_field press_hot_reads[] = {
    FIELD_press_fit_housing_bore,  FIELD_press_fit_bushing_outside, FIELD_press_fit_bushing_bore,
    FIELD_press_fit_bushing_metal, FIELD_press_fit_housing_metal,   FIELD_press_fit_housing_outside,
    FIELD_press_fit_temperature,
};
static const struct need press_hot_needs[] = {NEED1(press_fit_housing_bore), NEED1(press_fit_bushing_metal),
                                              NEED1(press_fit_housing_metal), NEED1(press_fit_temperature)};

const struct check check_press_hot = {
    .id = "press_hot",
    .name = "press of the bushing when hot",
    .section = SECTION_fit,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the bushing still tight at the running temperature?",
    .basis = "least interference hot = least interference + d (alpha of bushing - alpha of housing) (T - 20 degC)",
    .limit_rule = "limit 0.0001 d, advised 0.00025 d, d the mean housing bore",
    .source = "common practice, no source; expansion by the metals' rows",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(press_hot_reads),
    .needs = CHECK_LIST(press_hot_needs),
    .judge = judge_press_hot,
};

/* ---- wall ---- */

static void
judge_wall(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct press *press = &derived->press;
    if (!press->wall_known) {
        return;
    }
    const double bore_m = job->press_fit.bushing_bore_m;
    finding_floor(finding, press->wall_m, PRESS_WALL_ADVISED_RATIO * bore_m, PRESS_WALL_LIMIT_RATIO * bore_m);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "A wall of {0} keeps its shape when pressed and honed.");
    } else {
        const double outside_m = bore_m + 2.0 * (finding->advised + PRESS_ROUNDING_m);
        finding_advise(finding, "A wall of {0} is thin for its bore: it creeps, works loose and cannot be honed twice. "
                                "Bore the housing for a bushing of {1} outside, which has a wall of {2}.");
        finding_advise_value(finding, 1, outside_m, DIMENSION_LENGTH);
        finding_advise_value(finding, 2, finding->advised, DIMENSION_LENGTH);
        finding_fix_to(finding, press->outside_wanted ? FIELD_press_fit_housing_bore : FIELD_press_fit_bushing_outside,
                       outside_m);
    }
    finding_advise_value(finding, 0, press->wall_m, DIMENSION_LENGTH);
}

static const enum job_field wall_reads[] = {FIELD_press_fit_bushing_bore, FIELD_press_fit_bushing_outside,
                                            FIELD_press_fit_housing_bore};
static const struct need wall_needs[] = {NEED1(press_fit_bushing_bore), NEED1(press_fit_housing_bore)};

const struct check check_bushing_wall = {
    .id = "bushing_wall",
    .name = "wall of the bushing",
    .section = SECTION_fit,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the bushing's wall thick enough?",
    .basis = "wall = (smallest outside - bore) / 2, before pressing",
    .limit_rule = "limit 0.05, advised 0.08 of the bushing's bore",
    .source = "judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(wall_reads),
    .needs = CHECK_LIST(wall_needs),
    .judge = judge_wall,
};

/* ---- stress ---- */

static void
judge_stress(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct press *press = &derived->press;
    (void)job;
    if (!press->known) {
        return;
    }
    if (!(press->bushing_yield_Pa > 0.0)) {
        finding_not_applicable(finding, "no yield strength is known for the bushing's metal");
        return;
    }
    finding_ceiling(finding, press->bushing_stress_max_Pa, PRESS_STRESS_ADVISED_RATIO * press->bushing_yield_Pa,
                    press->bushing_yield_Pa);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "The tightest press leaves the bushing elastic: {0} at its bore, yield {1}.");
        finding_advise_value(finding, 0, press->bushing_stress_max_Pa, DIMENSION_PRESSURE);
        finding_advise_value(finding, 1, press->bushing_yield_Pa, DIMENSION_PRESSURE);
        return;
    }
    /* Stress goes with the interference. */
    const double most_m =
        press->interference_max_m * finding->advised / press->bushing_stress_max_Pa - PRESS_ROUNDING_m;
    finding_advise(finding, "As much as {0} of press crushes the bushing's bore: it yields, and loosens for good after "
                            "the first heat. Keep the press under {1}, or give the bushing a thicker wall or a "
                            "stronger bronze.");
    finding_advise_value(finding, 0, press->interference_max_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, most_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_press_fit_bushing_outside,
                   press->interface_m + 0.5 * (press->interference_min_m + press->interference_max_m) -
                       (press->interference_max_m - most_m));
}

static const enum job_field stress_reads[] = {
    FIELD_press_fit_housing_bore,    FIELD_press_fit_bushing_outside, FIELD_press_fit_bushing_bore,
    FIELD_press_fit_housing_outside, FIELD_press_fit_bushing_metal,   FIELD_press_fit_housing_metal,
    FIELD_press_fit_temperature,
};
static const struct need stress_needs[] = {NEED1(press_fit_housing_bore), NEED1(press_fit_bushing_bore),
                                           NEED1(press_fit_housing_outside), NEED1(press_fit_bushing_metal),
                                           NEED1(press_fit_housing_metal)};

const struct check check_bushing_stress = {
    .id = "bushing_stress",
    .name = "stress of the pressed bushing",
    .section = SECTION_fit,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Does pressing in crush the bushing?",
    .basis =
        "hoop stress at the bushing's bore, 2 p b2 / (b2 - a2) with a the bore, b the interface (squares), p Lame's "
        "pressure at the greatest interference",
    .limit_rule = "limit the yield strength of the bushing's metal, advised 0.9 of it (judgement)",
    .source = "Lame's thick rings, as in Shigley, Mechanical Engineering Design, press and shrink fits",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(stress_reads),
    .needs = CHECK_LIST(stress_needs),
    .judge = judge_stress,
};
