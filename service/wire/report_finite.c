#include "wire/report_write.h"

#include <math.h>

#include "joint/check.h"

static bool
message_is_finite(const struct message *message)
{
    for (size_t i = 0; i < sizeof message->value / sizeof message->value[0]; i++) {
        if (!isfinite(message->value[i].si)) {
            return false;
        }
    }
    return true;
}

static bool
finding_is_finite(const struct finding *finding)
{
    const double shown[] = {
        finding->value,      finding->advised,     finding->limit,        finding->value_high,  finding->limit_low,
        finding->limit_high, finding->advised_low, finding->advised_high, finding->utilization, finding->fix_to,
    };
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (!isfinite(shown[i])) {
            return false;
        }
    }
    return message_is_finite(&finding->advice);
}

static bool
rankings_are_finite(const struct ranking *ranking, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(ranking[i].utilization)) {
            return false;
        }
    }
    return true;
}

static bool
stations_are_finite(const struct report *report)
{
    for (size_t i = 0; i < report->station_count; i++) {
        const struct station *station = &report->station[i];
        if (!isfinite(station->at_m) || !isfinite(station->size_min_m) || !isfinite(station->size_max_m) ||
            !isfinite(station->size_mean_m) || !isfinite(station->out_of_round_m) || !isfinite(station->to_remove_m) ||
            !isfinite(station->leave_m)) {
            return false;
        }
    }
    return true;
}

static bool
passes_are_finite(const struct report *report)
{
    for (size_t i = 0; i < report->pass_count; i++) {
        const struct turning_pass *pass = &report->pass[i];
        if (!isfinite(pass->before_m) || !isfinite(pass->after_m) || !isfinite(pass->depth_m) ||
            !isfinite(pass->dial_m) || !isfinite(pass->spindle_rad_s) || !isfinite(pass->feed_m)) {
            return false;
        }
    }
    for (size_t i = 0; i < report->slot_pass_count; i++) {
        const struct slot_pass *pass = &report->slot_pass[i];
        if (!isfinite(pass->depth_m) || !isfinite(pass->step_m) || !isfinite(pass->effective_diameter_m) ||
            !isfinite(pass->spindle_rad_s)) {
            return false;
        }
    }
    return true;
}

static bool
notes_are_finite(const struct order_note *note, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!message_is_finite(&note[i].text)) {
            return false;
        }
    }
    return true;
}

static bool
order_is_finite(const struct order *order)
{
    const struct order_part *part = &order->part;
    const double shown[] = {
        part->diameter.min_m,   part->diameter.max_m,   part->inside_m,
        part->length.min_m,     part->length.max_m,     part->blank_diameter_m,
        part->blank_length_m,   part->roughness_m,      part->taper_m,
        part->out_of_round_m,   part->stations,         part->hardness.min,
        part->hardness.max,     part->case_depth_m,     part->slot.depth.min_m,
        part->slot.depth.max_m, part->slot.mouth_m,     part->slot.chord_m,
        part->slot.at_m,        part->slot.at_within_m, part->slot.cutter_diameter_m,
        part->flats.depth_m,    part->flats.width_m,    part->fastening.torque_Nm,
    };
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        if (!isfinite(shown[i])) {
            return false;
        }
    }
    for (size_t i = 0; i < order->reason_count; i++) {
        if (!message_is_finite(&order->reason[i].text)) {
            return false;
        }
    }
    return notes_are_finite(part->note, part->note_count) && notes_are_finite(part->inspection, part->inspection_count);
}

static bool
lists_are_finite(const struct report *report)
{
    bool finite = message_is_finite(&report->summary);
    for (size_t i = 0; i < report->assumption_count; i++) {
        finite = finite && isfinite(report->assumption[i].si) && isfinite(report->assumption[i].high) &&
                 message_is_finite(&report->assumption[i].because);
    }
    for (size_t i = 0; i < report->next_step_count; i++) {
        finite = finite && isfinite(report->next_step[i].to) && message_is_finite(&report->next_step[i].text);
    }
    for (size_t i = 0; i < report->match_count; i++) {
        finite = finite && isfinite(report->match[i].clearance_min_m) && isfinite(report->match[i].clearance_max_m);
    }
    return finite && stations_are_finite(report) && passes_are_finite(report) &&
           rankings_are_finite(report->ranking, report->ranking_count) &&
           rankings_are_finite(report->metal_ranking, report->metal_ranking_count);
}

bool
report_is_finite(const struct report *report)
{
    for (int i = 0; i < RESULT_COUNT; i++) {
        if (report->result[i].known && (!isfinite(report->result[i].si) || !isfinite(report->result[i].high))) {
            return false;
        }
    }
    for (size_t i = 0; i < check_count(); i++) {
        if (report->finding[i].judged && !finding_is_finite(&report->finding[i])) {
            return false;
        }
    }
    return lists_are_finite(report) && order_is_finite(&report->order);
}
