#include "joint/conclude.h"

#include <math.h>

#include "joint/thermal.h"
#include "joint/turn_formula.h"
#include "joint/turning.h"

/* A turning answer: what to do at the lathe, in the order it is done, with
 * sizes as they stand on the dial. */

static void
put(struct message *message, size_t place, double si, enum dimension dimension)
{
    message->value[place].si = si;
    message->value[place].dimension = dimension;
}

static void
put_lengths(struct message *message, double a_m, double b_m, double c_m, double d_m)
{
    put(message, 0, a_m, DIMENSION_LENGTH);
    put(message, 1, b_m, DIMENSION_LENGTH);
    put(message, 2, c_m, DIMENSION_LENGTH);
    put(message, 3, d_m, DIMENSION_LENGTH);
}

/* A next step to fill; where the list is full, one that nobody reads. */
static struct message *
step(struct report *report, struct next_step *spare, enum job_field at, const char *text)
{
    struct next_step *place =
        report->next_step_count < NEXT_STEP_MAX ? &report->next_step[report->next_step_count++] : spare;

    *place = (struct next_step){.text = {.text = text}, .at = at};
    return &place->text;
}

/* Spindles are read to whole turns a minute; the lower one is the safe one. */
static double
whole_rpm(double spindle_rad_s)
{
    const double rpm_rad_s = unit_to_si(unit_of(DIMENSION_ROTATION, UNITS_INCH), 1.0);

    return fmax(1.0, floor(spindle_rad_s / rpm_rad_s + 1e-6)) * rpm_rad_s;
}

/* ---- summary ---- */

static void
summarize(const struct job *job, const struct turning *turning, struct message *summary)
{
    const struct limits *pin = &job->pin.diameter;

    *summary = (struct message){0};
    put_lengths(summary, turning->blank_diameter_m, turning->turn_to_m, pin->min_m, pin->max_m);
    summary->word[0] = turning->to_grind ? "grind" : "polish";
    if (turning->at_size) {
        summary->text = pin->max_m > pin->min_m
                            ? "Nothing to turn: buy or use bar between {2.} and {3.}, saw it off and face the ends."
                            : "Nothing to turn: buy or use bar of {2.}, saw it off and face the ends.";
    } else if (!turning->passes_known) {
        summary->text = turning->rough_passes > 0.0 ? "At this depth of cut {0} bar takes more cuts than are listed."
                                                    : "There is no cut to take from this bar.";
    } else {
        summary->text = pin->max_m > pin->min_m
                            ? "Turn {0} bar down to {1.}, in the cuts listed, then {a} it to between {2.} and {3.}."
                            : "Turn {0} bar down to {1.}, in the cuts listed, then {a} it to {2.}.";
    }
}

/* ---- steps on the lathe ---- */

/* No grip to hold it by, and none to part it from. */
static bool
stock_is_short(const struct job *job, const struct turning *turning)
{
    return job_given(job, FIELD_turning_stock_length) && job->turning.stock_length_m < turning->blank_length_m;
}

static void
step_to_saw(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    struct message *message;

    if (!turning->length_known) {
        message =
            step(report, spare, FIELD_pin_length,
                 "Saw off the pin's length (give it), {0} to face off each end, {1} for parting and {2} to hold it "
                 "by.");
        const struct turning_practice *practice = turning_practice(job->units);
        put_lengths(message, practice->facing_m, practice->parting_m, practice->grip_m, 0.0);
        return;
    }
    if (stock_is_short(job, turning)) {
        step(report, spare, FIELD_NONE,
             "Face and center-drill both ends of the bar and turn it between centers, end for end.");
        return;
    }
    message =
        step(report, spare, FIELD_NONE,
             turning->at_size
                 ? "Saw off {1} of {0} bar and face both ends to leave {2}; break the edges."
                 : "Saw off {1} of {0} bar: {2} for the pin, the rest to face, to part and to hold it by. Face an end, "
                   "center-drill it and run it on the tailstock center.");
    put_lengths(message, turning->blank_diameter_m, turning->blank_length_m, job->pin.length_m, 0.0);
}

static const char *
dial_words(const struct job *job)
{
    return job->turning.dial == CHOICE_dial_DIAMETER ? "which reads the diameter" : "which reads the radius";
}

static void
step_to_rough(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const size_t count = (size_t)turning->rough_passes;
    struct message *message;

    if (count == 0) {
        return;
    }
    message = step(report, spare, FIELD_NONE,
                   count == 1 ? "Rough it in one cut: {0.} on the dial, {a}, leaves {1.}; feed {2} a turn."
                              : "Rough it in {3} equal cuts: {0.} each on the dial, {a}, leave {1.}; feed {2} a turn.");
    put_lengths(message, turning->pass[0].dial_m, turning->pass[count - 1].after_m, turning->feed_m, 0.0);
    put(message, 3, (double)count, DIMENSION_COUNT);
    message->word[0] = dial_words(job);
}

static void
step_for_speed(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    struct message *message;

    if (!turning->speed_known) {
        step(report, spare, FIELD_pin_steel,
             job_steel(job) == NULL ? "Name the steel, so that spindle speeds can be given."
                                    : "Give the steel's hardness, so that spindle speeds can be given.");
        return;
    }
    if (turning->too_fast) {
        message =
            step(report, spare, FIELD_turning_spindle_speeds,
                 "The slowest speed, {0}, is above the {1} that {2} at the surface allows: engage the back gear, or "
                 "take {a}lighter cuts and plenty of oil.");
        message->word[0] = job->turning.tool == CHOICE_tool_HSS ? "a carbide tool, " : "";
    } else if (job_given(job, FIELD_turning_spindle_speeds)) {
        message =
            step(report, spare, FIELD_NONE,
                 "Start at {0}, the fastest of the machine's speeds within the {1} that {2} at the surface allows, "
                 "with plenty of oil. Where it chatters, slow down or feed more.");
    } else {
        message =
            step(report, spare, FIELD_NONE,
                 "Start at {1} or the machine's next slower speed, {2} at the surface, with plenty of oil. Where it "
                 "chatters, slow down or feed more.");
    }
    put(message, 0, whole_rpm(turning->spindle_rad_s), DIMENSION_ROTATION);
    put(message, 1, whole_rpm(turn_spindle_rad_s(turning->cutting_speed_m_s, turning->blank_diameter_m)),
        DIMENSION_ROTATION);
    put(message, 2, turning->cutting_speed_m_s, DIMENSION_CUTTING_SPEED);
}

/* Over the pin's length. Half the width of the limits may be left alone, as the
 * inspection would, and a quarter of what the grinder takes off (judgement). */
static bool
taper_matters(const struct job *job, const struct turning *turning)
{
    const double width_m = job->pin.diameter.max_m - job->pin.diameter.min_m;
    const double allowed_m = turning->to_grind ? turning->finishing_allowance_m / 4.0 : width_m / 2.0;

    return !turning->length_known || fabs(turning->taper_correction_m) > allowed_m;
}

static void
step_for_tailstock(const struct turning *turning, struct report *report, struct next_step *spare)
{
    struct message *message = step(
        report, spare, FIELD_machine_taper_amount,
        turning->tailstock_offset_m > 0.0
            ? "The lathe leaves the tailstock end larger: before the finishing cuts move the tailstock {0} toward the "
              "operator, by an indicator on its barrel. Take a cut and measure both ends again."
            : "The lathe leaves the tailstock end smaller: before the finishing cuts move the tailstock {0} away from "
              "the operator, by an indicator on its barrel. Take a cut and measure both ends again.");

    put(message, 0, fabs(turning->tailstock_offset_m), DIMENSION_LENGTH);
}

static void
step_for_dial(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const bool metric = job->units == UNITS_METRIC, larger = turning->taper_per_length > 0.0;
    const double share = job->turning.dial == CHOICE_dial_DIAMETER ? 1.0 : 0.5;
    const double per_m = metric ? 10e-3 : unit_to_si(unit_of(DIMENSION_LENGTH, UNITS_INCH), 1.0);
    struct message *message = step(
        report, spare, FIELD_turning_between_centres,
        larger
            ? "The lathe leaves the tailstock end larger: in the last cut start there with the dial {0} further in "
              "than at the headstock end and back it off evenly, {1} in each {2} of travel; or give the distance "
              "between centers and move the tailstock."
            : "The lathe leaves the tailstock end smaller: in the last cut start there with the dial {0} further out "
              "than at the headstock end and wind it in evenly, {1} in each {2} of travel; or give the distance "
              "between centers and move the tailstock.");

    put_lengths(message, fabs(turning->dial_correction_m), fabs(turning->taper_per_length) * share * per_m, per_m, 0.0);
}

static void
step_for_taper(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    if (!turning->taper_known) {
        return;
    }
    if (!taper_matters(job, turning)) {
        struct message *message =
            step(report, spare, FIELD_NONE,
                 fabs(turning->taper_correction_m) > 0.0
                     ? "The lathe's taper makes {0} over the pin, little enough to leave the tailstock alone."
                     : "The lathe turns parallel: leave the tailstock alone.");
        put(message, 0, fabs(turning->taper_correction_m), DIMENSION_LENGTH);
    } else if (turning->tailstock_known) {
        step_for_tailstock(turning, report, spare);
    } else if (turning->length_known) {
        step_for_dial(job, turning, report, spare);
    }
}

static void
step_to_finish_cut(const struct turning *turning, struct report *report, struct next_step *spare)
{
    const struct turning_pass *last = &turning->pass[turning->pass_count - 1];
    struct message *message = step(
        report, spare, FIELD_NONE,
        "Finish in two equal cuts of {0.} on the dial, feed {1} a turn, with a freshly honed tool. Let the work cool "
        "and measure after the first: if it took more or less than the dial said, allow for that in the second, which "
        "ends at {2.}.");

    put_lengths(message, last->dial_m, turning->finish_feed_m, turning->turn_to_m, 0.0);
}

static void
step_for_roughness(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const double wanted_m = job->turning.roughness_m, nose_m = job->turning.nose_radius_m;
    struct message *message;

    if (turning->roughness_m <= wanted_m * (1.0 + 1e-6)) {
        return;
    }
    message =
        step(report, spare, FIELD_turning_nose_radius,
             "At the finest feed that still cuts, {0}, a nose of {1} leaves Ra {2} in theory, not the {3} wanted: hone "
             "a larger nose, or leave the rest to the cloth.");
    put_lengths(message, turning->finish_feed_m, nose_m, 0.0, 0.0);
    put(message, 2, turning->roughness_m, DIMENSION_ROUGHNESS);
    put(message, 3, wanted_m, DIMENSION_ROUGHNESS);
}

static void
steps_on_the_lathe(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    if (!turning->passes_known) {
        if (turning->rough_passes > 0.0) {
            struct message *message = step(
                report, spare, FIELD_turning_depth_of_cut,
                "At this depth it takes {0} roughing cuts, more than are listed: give a deeper cut or thinner stock.");
            put(message, 0, turning->rough_passes, DIMENSION_COUNT);
        }
        return;
    }
    step_for_speed(job, turning, report, spare);
    step_to_rough(job, turning, report, spare);
    if (job->pin.inside_diameter_m > 0.0) {
        put(step(report, spare, FIELD_pin_inside_diameter,
                 "Drill and bore it to {0} before the finishing cuts: the wall moves when the core comes out."),
            0, job->pin.inside_diameter_m, DIMENSION_LENGTH);
    }
    step_for_taper(job, turning, report, spare);
    step_to_finish_cut(turning, report, spare);
    step_for_roughness(job, turning, report, spare);
}

/* ---- steps after it ---- */

static void
step_to_polish(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const struct limits *pin = &job->pin.diameter;
    struct message *message = step(report, spare, FIELD_NONE,
                                   pin->max_m > pin->min_m ? "Take off the last {0} with a fine file, then abrasive "
                                                             "cloth of 180 to 400 grit and oil, measuring at both "
                                                             "ends and the middle: anything from {12:} is right."
                                                           : "Take off the last {0} with a fine file, then abrasive "
                                                             "cloth of 180 to 400 grit and oil, measuring at both "
                                                             "ends and the middle, down to {1.}.");

    put_lengths(message, turning->finishing_allowance_m, pin->min_m, pin->max_m, 0.0);
}

static void
step_to_grind(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const struct limits *pin = &job->pin.diameter;
    const bool two_sizes = pin->max_m > pin->min_m;
    struct message *message = step(
        report, spare, FIELD_NONE,
        turning->before_hardening
            ? (two_sizes ? "Harden it, keeping the slot soft if the steel allows, then grind off the {0} that were "
                           "left: anything from {12:} is right."
                         : "Harden it, keeping the slot soft if the steel allows, then grind off the {0} that were "
                           "left, down to {1.}.")
            : (two_sizes ? "Grind off the {0} that were left, cool, with light passes: anything from {12:} is right."
                         : "Grind off the {0} that were left, cool, with light passes, down to {1.}."));

    put_lengths(message, turning->finishing_allowance_m, pin->min_m, pin->max_m, 0.0);
}

static void
step_to_part(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    if (!turning->length_known) {
        return;
    }
    put(step(report, spare, FIELD_NONE,
             stock_is_short(job, turning) ? "Face it to {0}; break the edges."
                                          : "Part it off, turn it end for end and face it to {0}; break the edges."),
        0, job->pin.length_m, DIMENSION_LENGTH);
}

static void
step_to_mill(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    const bool proud = turning->to_grind && !turning->at_size;
    struct message *message;

    if (!turning->slot_known) {
        return;
    }
    message =
        step(report, spare, FIELD_slot_depth,
             turning->slot_spindle_rad_s > 0.0
                 ? (proud ? "Mill the slot before hardening or grinding, with a ball-nosed cutter of {0} run straight "
                            "across: {1.} deep from the turned surface, at {2} or less, {3} at most a cut, about {a} a "
                            "tooth."
                          : "Mill the slot with a ball-nosed cutter of {0} run straight across: {1.} deep from the "
                            "surface, at {2} or less, {3} at most a cut, about {a} a tooth.")
                 : "Mill the slot with a ball-nosed cutter of {0} run straight across: {1.} deep from the surface as "
                   "turned, {3} at most a cut.");
    put_lengths(message, job->slot.cutter_diameter_m, turning->slot_depth_m, 0.0,
                turning_practice(job->units)->slot_step_m);
    message->word[0] = job->units == UNITS_METRIC ? "0.03 mm" : "a thou";
    put(message, 2, turning->slot_spindle_rad_s > 0.0 ? whole_rpm(turning->slot_spindle_rad_s) : 0.0,
        DIMENSION_ROTATION);
}

static void
steps_after(const struct job *job, const struct turning *turning, struct report *report, struct next_step *spare)
{
    if (turning->passes_known && !turning->to_grind) {
        step_to_polish(job, turning, report, spare);
    }
    if (turning->passes_known) {
        step_to_part(job, turning, report, spare);
    }
    step_to_mill(job, turning, report, spare);
    if (turning->passes_known && turning->to_grind) {
        step_to_grind(job, turning, report, spare);
    }
    if (turning->passes_known) {
        put(step(report, spare, FIELD_inspection_readings,
                 "Measure it at {0} at three places and two angles, and give the readings to the inspection."),
            0, THERMAL_REFERENCE_degC, DIMENSION_TEMPERATURE);
    }
}

void
conclude_turning(const struct job *job, const struct derived *derived, struct report *report)
{
    const struct turning *turning = &derived->turning;
    struct next_step spare;

    if (!turning->known) {
        step(report, &spare, FIELD_pin_diameter, "Give the pin's diameter, with its limits.");
        return;
    }
    if (report->verdict == VERDICT_FAILS) {
        report->summary = (struct message){.text = "This bar does not hold the pin; take a larger one."};
        return; /* no bar to cut yet: the check says what to buy */
    }
    summarize(job, turning, &report->summary);
    step_to_saw(job, turning, report, &spare);
    steps_on_the_lathe(job, turning, report, &spare);
    steps_after(job, turning, report, &spare);
}
