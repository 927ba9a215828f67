#include "joint/turning.h"

#include <math.h>

#include "joint/printed.h"
#include "joint/stock.h"
#include "joint/turn_formula.h"

/* From the bar to the pin: what to buy, how to cut it, at what speed. */

const struct turning_practice *
turning_practice(enum unit_system units)
{
    static const struct turning_practice inch = {
        .skin_m = 60.0 * SI_PER_THOU,
        .polish_m = 0.75 * SI_PER_THOU,
        .grind_m = 12.0 * SI_PER_THOU,
        .depth_m = 30.0 * SI_PER_THOU,
        .finish_depth_m = 5.0 * SI_PER_THOU,
        .rough_feed_m = 7.0 * SI_PER_THOU,
        .finish_feed_m = 2.0 * SI_PER_THOU,
        .nose_radius_m = SI_PER_INCH / 32.0,
        .roughness_m = 32e-6 * SI_PER_INCH,
        .facing_m = SI_PER_INCH / 16.0,
        .parting_m = SI_PER_INCH / 8.0,
        .grip_m = SI_PER_INCH,
        .dial_line_m = SI_PER_THOU,
        .slot_step_m = 30.0 * SI_PER_THOU,
    };
    static const struct turning_practice metric = {
        .skin_m = 1.5 * SI_PER_MM,
        .polish_m = 0.02 * SI_PER_MM,
        .grind_m = 0.3 * SI_PER_MM,
        .depth_m = 0.75 * SI_PER_MM,
        .finish_depth_m = 0.125 * SI_PER_MM,
        .rough_feed_m = 0.18 * SI_PER_MM,
        .finish_feed_m = 0.05 * SI_PER_MM,
        .nose_radius_m = 0.8 * SI_PER_MM,
        .roughness_m = 0.8 * SI_PER_UM,
        .facing_m = 1.5 * SI_PER_MM,
        .parting_m = 3.0 * SI_PER_MM,
        .grip_m = 25.0 * SI_PER_MM,
        .dial_line_m = 0.01 * SI_PER_MM,
        .slot_step_m = 0.75 * SI_PER_MM,
    };

    return units == UNITS_METRIC ? &metric : &inch;
}

/* A micrometer: closer than bar is measured. */
static const double same_size_m = SI_PER_UM;

double
turning_finish_m(const struct job *job)
{
    return (job->pin.diameter.min_m + job->pin.diameter.max_m) / 2.0;
}

double
turning_finishing_allowance_m(const struct job *job)
{
    const struct turning_practice *practice = turning_practice(job->units);

    return turning_to_grind(job) ? practice->grind_m : practice->polish_m;
}

bool
turning_to_grind(const struct job *job)
{
    return job->pin.finish == CHOICE_finish_GROUND || turning_hardened_later(job);
}

double
turning_bar_m(const struct job *job)
{
    return stock_next_m(turning_finish_m(job) + turning_practice(job->units)->skin_m, job->units);
}

/* The stock needs no turning: it lies within the pin's limits, and the pin is
 * not called turned. Where no stock is given: the pin's surface is as drawn. */
static bool
at_size(const struct job *job)
{
    const bool called_turned = job_given(job, FIELD_pin_finish) && job->pin.finish == CHOICE_finish_TURNED;
    const double stock_m = job->turning.stock_diameter_m;

    if (!job_given(job, FIELD_turning_stock_diameter)) {
        return job->pin.finish == CHOICE_finish_DRAWN;
    }
    return !called_turned && stock_m >= job->pin.diameter.min_m - same_size_m &&
           stock_m <= job->pin.diameter.max_m + same_size_m;
}

/* The least that makes the pin, and all there is to it where nothing is turned. */
static double
least_length_m(const struct job *job)
{
    return job->pin.length_m + 2.0 * turning_practice(job->units)->facing_m;
}

double
turning_blank_length_m(const struct job *job)
{
    const struct turning_practice *practice = turning_practice(job->units);

    return least_length_m(job) + (at_size(job) ? 0.0 : practice->parting_m + practice->grip_m);
}

bool
turning_hardened_later(const struct job *job)
{
    const struct steel *steel = job_steel(job);
    struct machining machining;

    if (job_given(job, FIELD_pin_hardness)) {
        const double given = job->pin.hardness_number;
        const bool hrc = job->pin.hardness_scale == CHOICE_hardness_scale_HRC;

        if ((hrc ? hardness_HB_from_HRC(given) : given) > MACHINING_HARDEST_HB) {
            return true;
        }
    }
    return steel != NULL && machining_find(steel, CHOICE_tool_HSS, 0.0, &machining) && machining.before_hardening;
}

/* ---- derive ---- */

static void
derive_sizes(const struct job *job, struct turning *turning)
{
    const struct turning_practice *practice = turning_practice(job->units);

    turning->finish_m = turning_finish_m(job);
    turning->to_grind = turning_to_grind(job);
    turning->at_size = at_size(job);
    turning->before_hardening = turning_hardened_later(job);
    turning->finishing_allowance_m = turning_finishing_allowance_m(job);
    turning->turn_to_m = turning->finish_m + turning->finishing_allowance_m;
    turning->stock_allowance_wanted_m = practice->skin_m;
    turning->stock_allowance_least_m = 4.0 * practice->finish_depth_m + turning->finishing_allowance_m;
    turning->stock_known = job_known(job, FIELD_turning_stock_diameter);
    turning->blank_diameter_m = turning->stock_known ? job->turning.stock_diameter_m : turning->finish_m;
    turning->stock_allowance_m = turning->blank_diameter_m - turning->finish_m;
    turning->length_known = job_known(job, FIELD_pin_length);
    if (turning->length_known) {
        turning->blank_length_m = turning_blank_length_m(job);
        turning->length_least_m = least_length_m(job);
    }
}

/* The wanted Ra sets the finishing feed, within what cuts at all and what
 * roughs; the nose holds up to a feed of half its radius (common practice). */
static void
derive_feeds(const struct job *job, struct turning *turning)
{
    const struct turning_practice *practice = turning_practice(job->units);
    const double nose_m = job->turning.nose_radius_m;
    const double wanted_m = turn_feed_m(job->turning.roughness_m, nose_m);

    turning->feed_m = fmin(practice->rough_feed_m, nose_m / 2.0);
    turning->finish_feed_m = fmin(fmax(wanted_m, practice->finish_feed_m), turning->feed_m);
    turning->roughness_m = turn_roughness_m(turning->finish_feed_m, nose_m);
}

static void
derive_speed(const struct job *job, struct turning *turning)
{
    struct machining machining;

    if (job_steel(job) == NULL ||
        !machining_find(job_steel(job), (enum choice_tool)job->turning.tool, job->turning.depth_of_cut_m, &machining)) {
        return;
    }
    turning->speed_known = true;
    turning->speed_row = machining.row;
    turning->table_speed_m_s = machining.speed_m_s;
    turning->cutting_speed_m_s = TURNING_LIGHT_SHARE * machining.speed_m_s;
    turning->spindle_rad_s = turning_spindle_rad_s(
        job, turn_spindle_rad_s(turning->cutting_speed_m_s, turning->blank_diameter_m), &turning->too_fast);
}

static void
derive_taper(const struct job *job, struct turning *turning)
{
    const struct job_machine_taper *taper = &job->machine_taper;

    if (!job_known(job, FIELD_machine_taper_amount) || !job_known(job, FIELD_machine_taper_over)) {
        return;
    }
    turning->taper_known = true;
    turning->taper_per_length = taper->amount_m / taper->over_m;
    if (turning->length_known) {
        const double pin_taper_m = turning->taper_per_length * job->pin.length_m;

        turning->taper_correction_m = 0.0 - pin_taper_m;
        turning->dial_correction_m = job->turning.dial == CHOICE_dial_DIAMETER ? pin_taper_m : pin_taper_m / 2.0;
    }
    if (job_known(job, FIELD_turning_between_centres)) {
        turning->tailstock_known = true;
        turning->tailstock_offset_m =
            turn_tailstock_offset_m(taper->amount_m, taper->over_m, job->turning.between_centres_m);
    }
}

void
turning_derive(const struct job *job, struct derived *derived)
{
    struct turning *turning = &derived->turning;

    *turning = (struct turning){0};
    if (!job_known(job, FIELD_pin_diameter) || !job_known(job, FIELD_turning_depth_of_cut) ||
        !job_known(job, FIELD_turning_nose_radius) || !job_known(job, FIELD_turning_roughness)) {
        return; /* all but the pin has a default */
    }
    turning->known = true;
    derive_sizes(job, turning);
    derive_speed(job, turning);
    derive_feeds(job, turning);
    derive_taper(job, turning);
    if (turning->stock_known && !turning->at_size && turning->stock_allowance_m >= turning->stock_allowance_least_m) {
        turning_plan(job, turning);
    }
    if (job_known(job, FIELD_slot_depth) && job_known(job, FIELD_slot_cutter_diameter) && job->slot.depth_m > 0.0) {
        turning_plan_slot(job, turning);
    }
}

/* ---- report ---- */

static void
report_cuts(const struct turning *turning, struct report *report)
{
    report_put(report, RESULT_turning_turn_to, turning->turn_to_m);
    report_put(report, RESULT_turning_finishing_allowance, turning->finishing_allowance_m);
    report_put(report, RESULT_turning_feed, turning->feed_m);
    report_put(report, RESULT_turning_finish_feed, turning->finish_feed_m);
    report_put(report, RESULT_turning_roughness, turning->roughness_m);
    if (turning->passes_known || turning->rough_passes > 0.0) {
        report_put(report, RESULT_turning_rough_passes, turning->rough_passes);
    }
    if (turning->speed_known) {
        report_put(report, RESULT_turning_spindle_speed, turning->spindle_rad_s);
        report_put(report, RESULT_turning_cutting_speed, turning->cutting_speed_m_s);
        report_put(report, RESULT_turning_printed_cutting_speed, turning->table_speed_m_s);
    }
    report->pass_count = turning->pass_count;
    for (size_t i = 0; i < turning->pass_count; i++) {
        report->pass[i] = turning->pass[i];
    }
}

static void
report_taper(const struct turning *turning, struct report *report)
{
    if (turning->taper_known && turning->length_known) {
        report_put(report, RESULT_turning_taper_correction, turning->taper_correction_m);
        report_put(report, RESULT_turning_dial_correction, turning->dial_correction_m);
    }
    if (turning->tailstock_known) {
        report_put(report, RESULT_turning_tailstock_offset, turning->tailstock_offset_m);
    }
}

static void
report_slot(const struct turning *turning, struct report *report)
{
    if (turning->slot_spindle_rad_s > 0.0) {
        report_put(report, RESULT_turning_slot_spindle_speed, turning->slot_spindle_rad_s);
    }
    report->slot_pass_count = turning->slot_pass_count;
    for (size_t i = 0; i < turning->slot_pass_count; i++) {
        report->slot_pass[i] = turning->slot_pass[i];
    }
}

void
turning_report(const struct derived *derived, struct report *report)
{
    const struct turning *turning = &derived->turning;

    if (!turning->known) {
        return;
    }
    report_put(report, RESULT_turning_finish_diameter, turning->finish_m);
    report_put(report, RESULT_turning_blank_diameter, turning->blank_diameter_m);
    if (turning->stock_known) {
        report_put(report, RESULT_turning_stock_allowance, turning->stock_allowance_m);
    }
    if (!turning->at_size) {
        report_put(report, RESULT_turning_stock_allowance_wanted, turning->stock_allowance_wanted_m);
        report_cuts(turning, report);
    }
    if (turning->length_known) {
        report_put(report, RESULT_turning_blank_length, turning->blank_length_m);
    }
    report_taper(turning, report);
    report_slot(turning, report);
}
