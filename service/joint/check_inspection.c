#include "joint/check.h"

#include <math.h>

#include "joint/inspection.h"
#include "joint/measure.h"

/*
 * A part as measured against the limits it was made to: size, with the
 * uncertainty of the readings kept back at each end, taper and out-of-round.
 */

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

static bool
of_hole(const struct job *job)
{
    return job->inspection.part == CHOICE_part_HOLE;
}

/* ---- size ---- */

/* What the mating part may be made to, so that every place of this one has the
 * clearance wanted: none where this one varies more than the clearance may. */
static struct limits
mate_of(const struct clearance_rule *wanted, bool hole, double least_m, double most_m)
{
    const struct limits mate = {
        .min_m = hole ? most_m - wanted->max_m : most_m + wanted->min_m,
        .max_m = hole ? least_m - wanted->min_m : least_m + wanted->max_m,
    };

    return mate;
}

/* Too little metal. A part that varies too much for any mate is first brought
 * to one size, the one it has where most metal is missing. */
static void
advise_mate(const struct job *job, const struct inspection *inspection, struct finding *finding)
{
    const struct clearance_rule wanted = inspection_wanted(job, inspection);
    const bool hole = of_hole(job);
    const double worst_m = hole ? inspection->size_max_m : inspection->size_min_m;
    struct limits mate = mate_of(&wanted, hole, inspection->size_min_m, inspection->size_max_m);

    if (mate.min_m < mate.max_m) {
        finding_advise(finding,
                       hole ? "Too large: {0.} at the widest, where {1.} is the most, and metal cannot be put back. "
                              "Turn a pin of {2.} to {3.} to suit this hole, or press in a new bushing and hone it."
                            : "Too small: {0.} at the thinnest, where {1.} is the least, and metal cannot be put "
                              "back. Press in a new bushing and hone it to {2.} to {3.} to suit this pin, or make a "
                              "new pin.");
    } else {
        mate = mate_of(&wanted, hole, worst_m, worst_m);
        finding_advise(finding,
                       hole ? "Too large: {0.} at the widest, where {1.} is the most, and metal cannot be put back. "
                              "It varies too much for any pin: press in a new bushing and hone it, or bore this "
                              "hole true at its widest and turn a pin of {2.} to {3.} to suit."
                            : "Too small: {0.} at the thinnest, where {1.} is the least, and metal cannot be put "
                              "back. It varies too much for any hole: make a new pin, or true this one up at its "
                              "thinnest and hone a new bushing to {2.} to {3.} to suit.");
    }
    finding_advise_value(finding, 0, worst_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, hole ? inspection->accept_max_m : inspection->accept_min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, mate.min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 3, mate.max_m, DIMENSION_LENGTH);
}

static void
advise_doubt(const struct inspection *inspection, bool hole, struct finding *finding)
{
    finding_fix(finding, FIELD_inspection_uncertainty);
    finding_advise_value(finding, 0, inspection->uncertainty_m, DIMENSION_LENGTH);
    if (inspection->coarse) {
        finding_advise(finding,
                       "This micrometer is too coarse for these limits: a reading is sure to {0} either way and "
                       "the limits are only {1} apart. Measure with a finer one, set on a gauge block of this "
                       "size, part and block at one temperature, and give its uncertainty.");
        finding_advise_value(finding, 1, inspection->accept_max_m - inspection->accept_min_m, DIMENSION_LENGTH);
        return;
    }
    finding_advise(finding,
                   hole ? "Too near its largest size to tell: the widest reading is {1.}, the most is {2.}, and "
                          "a reading may be {0} out. Measure again with a finer gauge, set on a ring of this "
                          "size, before cutting or scrapping.{a}"
                        : "Too near its least size to tell: the thinnest reading is {1.}, the least is {2.}, "
                          "and a reading may be {0} out. Measure again with a finer micrometer, set on a gauge "
                          "block of this size, before cutting or scrapping.{a}");
    const double u_m = inspection->uncertainty_m;
    const bool excess = hole ? inspection->size_min_m < inspection->accept_min_m + u_m - slack_m
                             : inspection->size_max_m > inspection->accept_max_m - u_m + slack_m;
    finding_advise_word(finding, 0, excess ? " If it is sound there, the rest of the metal can still come off." : "");
    finding_advise_value(finding, 1, hole ? inspection->size_max_m : inspection->size_min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, hole ? inspection->accept_max_m : inspection->accept_min_m, DIMENSION_LENGTH);
}

/* The sizes that pass, to the step that the instrument shows, rounded inward. */
static struct limits
shown(const struct job *job, const struct finding *finding)
{
    const struct limits pass = {.min_m = finding->advised_low, .max_m = finding->advised_high};

    return measure_inward(&pass, job->inspection.resolution_m);
}

static void
advise_rework(const struct job *job, const struct inspection *inspection, struct finding *finding)
{
    const bool hole = of_hole(job);
    const struct limits pass = shown(job, finding);

    finding_advise_value(finding, 0, inspection->to_remove_m, DIMENSION_LENGTH);
    finding_advise_word(finding, 0,
                        inspection->true_up ? inspection_method_to_true_up(hole)
                                            : inspection_method(hole, inspection->to_remove_m));
    if (inspection->coarse) {
        finding_fix(finding, FIELD_inspection_uncertainty);
        finding_advise(finding,
                       hole ? "Take up to {0} out of the hole, on the diameter, toward {1.}, the middle of the limits: "
                              "{a}. A reading may be {2} out, too much to prove the hole: finish with a finer gauge."
                            : "Take up to {0} off the diameter, toward {1.}, the middle of the limits: {a}. A reading "
                              "may be {2} out, too much to prove the pin: finish with a finer micrometer.");
        finding_advise_value(finding, 1, finding->advised_low, DIMENSION_LENGTH);
        finding_advise_value(finding, 2, inspection->uncertainty_m, DIMENSION_LENGTH);
        return;
    }
    finding_advise(finding, hole ? "Take up to {0} out of the hole, on the diameter: {a}. At {12.} it "
                                   "passes; stop short, let it cool and measure again."
                                 : "Take up to {0} off the diameter: {a}. At {12.} it passes; "
                                   "stop short, let it cool and measure again.");
    finding_advise_value(finding, 1, pass.min_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 2, pass.max_m, DIMENSION_LENGTH);
}

static void
advise_size(const struct job *job, const struct inspection *inspection, struct finding *finding)
{
    if (inspection->decision == inspection_reject) {
        advise_mate(job, inspection, finding);
    } else if (finding->verdict == VERDICT_OK) {
        finding_advise(finding,
                       "Every reading lies inside the limits with {0} kept back at each end for what a reading "
                       "may be out.");
        finding_advise_value(finding, 0, inspection->uncertainty_m, DIMENSION_LENGTH);
    } else if (inspection->decision == inspection_rework) {
        advise_rework(job, inspection, finding);
    } else {
        advise_doubt(inspection, of_hole(job), finding);
    }
}

static double
window_utilization(const struct inspection *inspection)
{
    const double middle_m = (inspection->accept_min_m + inspection->accept_max_m) / 2.0;
    const double half_m = (inspection->accept_max_m - inspection->accept_min_m) / 2.0;
    const double off_m = fmax(fabs(inspection->size_min_m - middle_m), fabs(inspection->size_max_m - middle_m));

    return off_m < UTILIZATION_MAX * half_m ? off_m / half_m : UTILIZATION_MAX;
}

static void
judge_size(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct inspection *inspection = &derived->inspection;

    if (!inspection->accept_known) {
        return;
    }
    const struct measure_window window = {inspection->accept_min_m, inspection->accept_max_m,
                                          inspection->uncertainty_m};
    const struct limits pass = measure_pass(&window);
    const bool inside =
        inspection->size_min_m >= pass.min_m - slack_m && inspection->size_max_m <= pass.max_m + slack_m;

    finding->judged = true;
    finding->two_sided = finding->has_value = finding->has_limits = finding->has_utilization = true;
    finding->value = inspection->size_min_m;
    finding->value_high = inspection->size_max_m;
    finding->limit_low = inspection->accept_min_m;
    finding->limit_high = inspection->accept_max_m;
    finding->advised_low = pass.min_m;
    finding->advised_high = pass.max_m;
    finding->utilization = window_utilization(inspection);
    if (inspection->decision == inspection_reject) {
        finding->verdict = VERDICT_FAILS;
    } else {
        /* Rework for its form alone leaves the size as good as it is. */
        finding->verdict = inside && !inspection->coarse ? VERDICT_OK : VERDICT_MARGINAL;
    }
    advise_size(job, inspection, finding);
}

/* The growth of the metal is left out where it does not enter (check.c). */
#define READS_SIZES                                                                                                    \
    FIELD_inspection_part, FIELD_inspection_readings, FIELD_inspection_part_temperature,                               \
        FIELD_inspection_instrument_temperature, FIELD_pin_steel, FIELD_running_fit_hole_metal

static const enum job_field size_reads[] = {READS_SIZES, FIELD_inspection_accept, FIELD_inspection_resolution,
                                            FIELD_inspection_uncertainty};
static const struct need size_needs[] = {NEED1(inspection_readings), NEED1(inspection_accept)};

const struct check check_size_in_limits = {
    .id = "size_in_limits",
    .name = "size within its limits",
    .section = SECTION_inspection,
    .sense = SENSE_WINDOW,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is every reading, at 20 degC, inside the limits of size?",
    .basis =
        "reading x (1 + growth of the instrument) / (1 + growth of the part); smallest and largest of all readings",
    .limit_rule = "limits: those to accept by; advised: the uncertainty U kept back at each end. Accept inside; a pin "
                  "below the lower limit by more than U, or a hole above the upper, is rejected; what lies between, or "
                  "limits no wider than 2 U, is undecided; else metal that can come off is rework",
    .source = "ISO 14253-1 (default of 1998 and 2013, U with k = 2), from memory; uncertainty by the GUM",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(size_reads),
    .needs = CHECK_LIST(size_needs),
    .judge = judge_size,
};

/* ---- form ---- */

/* A ceiling with a nanometer of grace, so that a limit met is met; a limit of
 * zero is allowed. */
static void
form_ceiling(struct finding *finding, double value_m, double limit_m)
{
    finding_ceiling(finding, value_m, 0.9 * limit_m + slack_m, limit_m + slack_m);
    finding->advised = 0.9 * limit_m;
    finding->limit = limit_m;
    if (limit_m > slack_m) {
        finding->utilization = fmin(value_m / limit_m, UTILIZATION_MAX);
    }
}

static const char *
form_in_words(const char *form)
{
    if (form == measure_barrel) {
        return "a barrel, largest in the middle";
    }
    if (form == measure_waist) {
        return "a waist, smallest in the middle";
    }
    return form == measure_straight ? "straight, as far as the readings tell" : measure_tapered;
}

/* What to do follows the decision: a part to be scrapped or measured again is
 * not to be cut. */
static const char *
taper_advice(const struct inspection *inspection, bool hole, enum verdict verdict)
{
    if (verdict == VERDICT_OK) {
        return "{0} larger at {a} by the straight line through the stations ({1} allowed); the form is {b}.";
    }
    if (inspection->decision != inspection_rework) {
        return "{0} larger at {a}, where {1} is allowed; the form is {b}.";
    }
    if (hole) {
        return "{0} wider at {a}, where {1} is allowed; the form is {b}. Hone the narrow end longer, with short "
               "strokes there.";
    }
    return "{0} larger at {a}, where {1} is allowed; the form is {b}. Bring the high stations down as listed; before "
           "the next cut set the tailstock over by half the taper that the bar shows between centers.";
}

static void
judge_taper(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct inspection *inspection = &derived->inspection;
    const double taper_m = fabs(inspection->taper_m);

    if (!inspection->taper_known) {
        finding_not_applicable(finding, "the readings stand at fewer than two places along the part");
        return;
    }
    form_ceiling(finding, taper_m, inspection->taper_limit_m);
    finding_advise(finding, taper_advice(inspection, of_hole(job), finding->verdict));
    finding_advise_value(finding, 0, taper_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, inspection->taper_limit_m, DIMENSION_LENGTH);
    finding_advise_word(finding, 0, inspection->taper_m >= 0.0 ? "the far end" : "the end the stations count from");
    finding_advise_word(finding, 1, form_in_words(inspection->form));
}

static const enum job_field taper_reads[] = {READS_SIZES, FIELD_inspection_accept_taper};
static const struct need taper_needs[] = {NEED1(inspection_readings), NEED1(inspection_accept_taper)};

const struct check check_taper = {
    .id = "taper",
    .name = "taper",
    .section = SECTION_inspection,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the part straight enough along its length?",
    .basis = "least-squares slope of the stations' mean diameters, times the span from the first to the last",
    .limit_rule = "limit: accept_taper, else half the width of the limits of size; advised: 0.9 of it",
    .source = "least squares; limit: judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(taper_reads),
    .needs = CHECK_LIST(taper_needs),
    .judge = judge_taper,
};

static void
judge_round(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct inspection *inspection = &derived->inspection;
    const bool hole = of_hole(job);

    if (!inspection->round_known) {
        finding_not_applicable(finding, "no station has two readings around the part");
        return;
    }
    form_ceiling(finding, inspection->out_of_round_m, inspection->round_limit_m);
    finding_advise_value(finding, 0, inspection->out_of_round_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, inspection->round_limit_m, DIMENSION_LENGTH);
    finding_advise_word(finding, 0,
                        hole ? "Two-point gauges do not show three or five lobes: try a three-point gauge or "
                               "a plug."
                             : "A micrometer does not show three or five lobes: turn the pin under an "
                               "indicator in a V-block, or try it in a ring.");
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Diameters at a station differ by {0} at most ({1} allowed). {a}");
    } else if (inspection->decision != inspection_rework) {
        finding_advise(finding, "Diameters at a station differ by {0}, where {1} is allowed. {a}");
    } else {
        finding_advise(finding, hole ? "Diameters at a station differ by {0}, where {1} is allowed: {b}. {a}"
                                     : "Diameters at a station differ by {0}, where {1} is allowed: {b}; cloth only "
                                       "follows the shape it finds. {a}");
        finding_advise_word(finding, 1, inspection_method_to_true_up(hole));
    }
}

static const enum job_field round_reads[] = {READS_SIZES, FIELD_inspection_accept_out_of_round};
static const struct need round_needs[] = {NEED1(inspection_readings), NEED1(inspection_accept_out_of_round)};

const struct check check_out_of_round = {
    .id = "out_of_round",
    .name = "out-of-round",
    .section = SECTION_inspection,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the part round enough, as far as two points can tell?",
    .basis = "largest less smallest diameter at one station; an odd number of lobes stays unseen",
    .limit_rule = "limit: accept_out_of_round, else half the width of the limits of size; advised: 0.9 of it",
    .source = "two-point method; limit: judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(round_reads),
    .needs = CHECK_LIST(round_needs),
    .judge = judge_round,
};
