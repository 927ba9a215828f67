#include "joint/conclude.h"

#include <math.h>

#include "joint/inspection.h"
#include "joint/measure.h"

/* An inspection's answer: the decision in plain words, and where to take off
 * how much. */

/* How many stations get a step of their own; the table has them all. */
enum { STEPS_FOR_STATIONS = 4 };

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

/* `message` may be NULL: a full list takes no more. */
static void
say(struct message *message, const char *text, double a_m, double b_m, double c_m, double d_m)
{
    const double value_m[] = {a_m, b_m, c_m, d_m};

    if (message == NULL) {
        return;
    }
    message->text = text;
    for (size_t i = 0; i < sizeof value_m / sizeof value_m[0]; i++) {
        message->value[i].si = value_m[i];
        message->value[i].dimension = DIMENSION_LENGTH;
    }
}

static struct message *
add_step(struct report *report, enum job_field at)
{
    if (report->next_step_count == NEXT_STEP_MAX) {
        return NULL;
    }
    struct next_step *step = &report->next_step[report->next_step_count++];
    *step = (struct next_step){.at = at};
    return &step->text;
}

/* ---- summary ---- */

/* Is every reading inside the limits, the uncertainty kept back? Then pin and
 * hole are alike. */
static bool
size_is_proved(const struct inspection *inspection)
{
    const struct measure_window window = {inspection->accept_min_m, inspection->accept_max_m,
                                          inspection->uncertainty_m};

    return measure_zone(&window, inspection->size_min_m, inspection->size_max_m) == MEASURE_PROVED;
}

/* What fails beside a size that is undecided. */
static const char *
form_too(const struct report *report)
{
    const struct finding *taper = &report->finding[CHECK_taper];
    const struct finding *round = &report->finding[CHECK_out_of_round];
    const bool tapered = finding_counts(taper) && taper->verdict == VERDICT_FAILS;
    const bool oval = finding_counts(round) && round->verdict == VERDICT_FAILS;

    if (tapered && oval) {
        return " Taper and out-of-round are beyond what is allowed.";
    }
    return tapered ? " Its taper is beyond what is allowed."
           : oval  ? " It is out of round beyond what is allowed."
                   : "";
}

static void
summarize(const struct job *job, const struct inspection *inspection, const struct report *report,
          struct message *summary)
{
    const bool hole = job->inspection.part == CHOICE_part_HOLE;
    const double low_m = inspection->size_min_m, high_m = inspection->size_max_m;
    const double least_m = inspection->accept_min_m, most_m = inspection->accept_max_m;

    *summary = (struct message){0};
    summary->word[0] = hole ? "hole" : "pin";
    summary->word[1] = form_too(report);
    if (inspection->decision == NULL) {
        say(summary, "The {a} measures {01.} at 20 degC (68 degF), but no limits to accept it by are known.", low_m,
            high_m, 0.0, 0.0);
    } else if (inspection->decision == inspection_accept) {
        say(summary, "Accept: the {a} measures {01.} at 20 degC (68 degF), inside its limits of {2.} to {3.}.", low_m,
            high_m, least_m, most_m);
    } else if (inspection->decision == inspection_rework && size_is_proved(inspection)) {
        say(summary,
            hole ? "Rework for its form: the {a} is inside its limits, {01.} at 20 degC (68 degF), but take up "
                   "to {2} out of it."
                 : "Rework for its form: the {a} is inside its limits, {01.} at 20 degC (68 degF), but take up "
                   "to {2} off it.",
            low_m, high_m, inspection->to_remove_m, 0.0);
    } else if (inspection->decision == inspection_rework) {
        say(summary,
            hole ? "Rework: take up to {2} out of the {a}, which measures {01.} at 20 degC (68 degF)."
                 : "Rework: take up to {2} off the {a}, which measures {01.} at 20 degC (68 degF).",
            low_m, high_m, inspection->to_remove_m, 0.0);
    } else if (inspection->decision == inspection_reject) {
        say(summary,
            hole ? "Reject: the {a} is too large, {0.} where {1.} is the most."
                 : "Reject: the {a} is too small, {0.} where {1.} is the least.",
            hole ? high_m : low_m, hole ? most_m : least_m, 0.0, 0.0);
    } else if (inspection->coarse) {
        say(summary,
            "Undecided: the {a} measures {01.} at 20 degC (68 degF); these readings are too coarse for limits "
            "of {2.} to {3.}.{b}",
            low_m, high_m, least_m, most_m);
    } else {
        say(summary,
            hole ? "Undecided: the {a} measures {01.} at 20 degC (68 degF), at its widest too near the {2.} "
                   "that is the most for these readings to tell.{b}"
                 : "Undecided: the {a} measures {01.} at 20 degC (68 degF), at its thinnest too near the {2.} "
                   "that is the least for these readings to tell.{b}",
            low_m, high_m, hole ? most_m : least_m, 0.0);
    }
}

/* ---- steps ---- */

/* What the decision rests on comes first, whichever check stands worse. */
static void
size_step_first(struct report *report)
{
    const struct finding *finding = &report->finding[CHECK_size_in_limits];

    for (size_t i = 0; i < report->next_step_count; i++) {
        if (finding->advice.text != NULL && report->next_step[i].text.text == finding->advice.text) {
            const struct next_step step = report->next_step[i];

            for (; i > 0; i--) {
                report->next_step[i] = report->next_step[i - 1];
            }
            report->next_step[0] = step;
            return;
        }
    }
}

/* Does the station belong to the few with most to take off? */
static bool
among_most(const struct report *report, size_t index)
{
    size_t above = 0;

    for (size_t i = 0; i < report->station_count; i++) {
        const double other_m = report->station[i].to_remove_m, own_m = report->station[index].to_remove_m;

        above += other_m > own_m || (other_m >= own_m && i < index);
    }
    return above < STEPS_FOR_STATIONS;
}

static void
step_for_station(const struct station *station, bool hole, struct report *report)
{
    struct message *step = add_step(report, FIELD_NONE);

    if (step == NULL) {
        return;
    }
    if (station->true_up && station->has_at) {
        say(step,
            hole ? "True it up at {1} from the end, {0} out of the narrow side, to leave {2.} all round: {a}."
                 : "True it up at {1} from the end, {0} off the high side, to leave {2.} all round: {a}.",
            station->to_remove_m, station->at_m, station->leave_m, 0.0);
    } else if (station->true_up) {
        say(step,
            hole ? "True it up, {0} out of the narrow side, to leave {2.} all round: {a}."
                 : "True it up, {0} off the high side, to leave {2.} all round: {a}.",
            station->to_remove_m, 0.0, station->leave_m, 0.0);
    } else if (station->has_at) {
        say(step,
            hole ? "Take {0} out at {1} from the end, to leave {2.}: {a}."
                 : "Take {0} off at {1} from the end, to leave {2.}: {a}.",
            station->to_remove_m, station->at_m, station->leave_m, 0.0);
    } else {
        say(step, hole ? "Take {0} out, to leave {2.}: {a}." : "Take {0} off, to leave {2.}: {a}.",
            station->to_remove_m, 0.0, station->leave_m, 0.0);
    }
    step->word[0] =
        station->true_up ? inspection_method_to_true_up(hole) : inspection_method(hole, station->to_remove_m);
}

static void
steps_for_stations(bool hole, struct report *report)
{
    for (size_t i = 0; i < report->station_count; i++) {
        const struct station *station = &report->station[i];
        /* One station to bring down: the advice of the size has said it. */
        const bool said = report->station_count == 1 && !station->true_up;

        if (station->to_remove_m > 0.0 && !said && among_most(report, i)) {
            step_for_station(station, hole, report);
        }
    }
}

/* The sizes told hold at 20 degC: what the dial shows before the part has
 * cooled. Said where the dial would tell the difference. */
static void
step_for_temperature(const struct job *job, const struct inspection *inspection, struct report *report)
{
    const double more_m = -inspection->correction_m;

    if (fabs(more_m) < 0.5 * job->inspection.resolution_m || fabs(more_m) < slack_m) {
        return;
    }
    say(add_step(report, FIELD_inspection_part_temperature),
        more_m > 0.0 ? "These sizes hold at 20 degC (68 degF). With part and micrometer as warm as they were, the dial "
                       "shows {0} more: let both come to 20 degC, or allow for it."
                     : "These sizes hold at 20 degC (68 degF). With part and micrometer as they were, the dial shows "
                       "{0} less: let both come to 20 degC, or allow for it.",
        fabs(more_m), 0.0, 0.0, 0.0);
}

/* Good as far as the readings go: what they did not show. */
static void
step_for_unseen_form(const struct inspection *inspection, struct report *report)
{
    const bool taper = inspection->taper_known, round = inspection->round_known;

    if (!taper || !round) {
        say(add_step(report, FIELD_inspection_readings),
            !taper && !round
                ? "Accepted for its size alone: these readings show neither taper nor out-of-round. Measure "
                  "at both ends and the middle, two ways across each, before it is used."
            : !taper ? "These readings show no taper: measure at both ends and the middle before it is used."
                     : "These readings show no out-of-round: measure each place two ways across before it is "
                       "used.",
            0.0, 0.0, 0.0, 0.0);
    }
}

static const char *
in_words(const struct clearance_rule *wanted, double low_m, double high_m)
{
    if (high_m > wanted->worn_m) {
        return "worn out, do not run it";
    }
    if (low_m < wanted->min_m) {
        return low_m < 0.0 ? "it will not go together" : "tighter than wanted";
    }
    return high_m > wanted->max_m ? "loose, but it will run, with a knock and faster wear"
                                  : "within the clearance wanted, so the two can run together";
}

/* The clearance that the part makes as it is, in the words of the fit; what
 * would not go together has no running fit. */
static void
step_for_clearance(const struct job *job, const struct inspection *inspection, struct report *report)
{
    const bool hole = job->inspection.part == CHOICE_part_HOLE;
    const double basic_m = hole ? inspection->size_min_m : job->running_fit.hole.min_m;
    const double low_m = inspection->clearance_min_m, high_m = inspection->clearance_max_m;
    const struct clearance_rule wanted = inspection_wanted(job, inspection);

    report->match_count = low_m >= 0.0 ? fit_nearest(basic_m, low_m, high_m, report->match, 1) : 0;
    struct message *step = add_step(report, FIELD_NONE);
    if (step == NULL) {
        return;
    }
    const char *named = "As it is it gives {0} to {1} of clearance with its mate, nearest the standard fit {a}: {b}.";
    const char *plain = "As it is it gives {0} to {1} of clearance with its mate: {b}.";
    say(step, report->match_count > 0 ? named : plain, low_m, high_m, 0.0, 0.0);
    step->word[0] = report->match_count > 0 ? report->match[0].designation : NULL;
    step->word[1] = in_words(&wanted, low_m, high_m);
}

static void
steps(const struct job *job, const struct derived *derived, struct report *report)
{
    const struct inspection *inspection = &derived->inspection;

    if (!inspection->known) {
        say(add_step(report, FIELD_inspection_readings),
            "Give the micrometer's readings, each with its place from one end and its angle around: three stations and "
            "two angles at least.",
            0.0, 0.0, 0.0, 0.0);
        return;
    }
    if (!inspection->accept_known) {
        say(add_step(report, FIELD_inspection_accept), "Give the limits of size to accept the part by.", 0.0, 0.0, 0.0,
            0.0);
    }
    if (inspection->decision == inspection_rework) {
        steps_for_stations(job->inspection.part == CHOICE_part_HOLE, report);
        step_for_temperature(job, inspection, report);
    }
    if (inspection->decision == inspection_accept) {
        step_for_unseen_form(inspection, report);
        say(add_step(report, FIELD_NONE),
            job->inspection.part == CHOICE_part_HOLE
                ? "Use it. Try it with a plug or a three-point gauge first: two points do not show three or five lobes."
                : "Use it. Turn it under an indicator in a V-block, or try it in a ring, first: a micrometer does not "
                  "show three or five lobes.",
            0.0, 0.0, 0.0, 0.0);
    }
    if (inspection->clearance_known &&
        (inspection->decision == inspection_accept || inspection->decision == inspection_reject)) {
        step_for_clearance(job, inspection, report);
    }
}

void
conclude_inspection(const struct job *job, const struct derived *derived, struct report *report)
{
    if (derived->inspection.known) {
        summarize(job, &derived->inspection, report, &report->summary);
    } else {
        report->summary = (struct message){.text = "No readings are given, so there is nothing to judge."};
    }
    size_step_first(report);
    steps(job, derived, report);
}
