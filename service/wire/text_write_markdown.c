#include "wire/text_write.h"

#include "base/text.h"
#include "base/version.h"
#include "quantity/quantity.h"
#include "wire/check_write.h"
#include "wire/markup.h"
#include "wire/message.h"
#include "wire/result_write.h"
#include "wire/size_text.h"
#include "wire/text_order.h"
#include "wire/text_part.h"
#include "wire/text_pass.h"
#include "wire/text_station.h"

enum { TABLE_ROWS_MAX = 8, RANKED_MAX = 5, NOT_JUDGED_MAX = 12 };

static void
add_message(struct buffer *out, const struct message *message, enum unit_system system)
{
    struct message_text rendered;
    message_render(&rendered, message, system);
    markup_escape_markdown(out, rendered.at);
}

static void
add_head(struct buffer *out, const struct job *job, const struct report *report)
{
    buffer_join(out, "**", text_part_verdict(report->verdict), "**");
    if (job->label[0] != '\0') {
        char label[JOB_LABEL_SIZE];
        struct text text;
        text_init(&text, label, sizeof label);
        text_part_label(&text, job->label);
        buffer_join(out, " `", label, "`");
    }
    buffer_add(out, "\n\n");
    add_message(out, &report->summary, job->units);
    buffer_add(out, "\n");
}

/* ---- why: the checks nearest their limits ---- */

static void
add_cell(struct buffer *out, const char *text)
{
    buffer_add(out, " ");
    markup_escape_markdown(out, text);
    buffer_add(out, " |");
}

static void
add_check(struct buffer *out, const struct check *check, const struct finding *finding, enum unit_system system)
{
    char cell[TEXT_PART_SIZE];
    buffer_add(out, "|");
    add_cell(out, check->name);
    text_part_value(cell, sizeof cell, check, finding, system);
    add_cell(out, cell);
    text_part_advised(cell, sizeof cell, check, finding, system);
    add_cell(out, cell);
    text_part_limit(cell, sizeof cell, check, finding, system);
    add_cell(out, cell);
    text_part_share(cell, sizeof cell, finding);
    add_cell(out, cell);
    add_cell(out, verdict_text(finding->verdict));
    buffer_add(out, "\n");
}

static void
add_checks(struct buffer *out, const struct job *job, const struct report *report)
{
    size_t worst[TABLE_ROWS_MAX];
    const size_t count = text_part_worst(report, worst, TABLE_ROWS_MAX);
    if (count == 0) {
        return;
    }
    size_t judged = 0;
    for (size_t i = 0; i < check_count(); i++) {
        judged += report->finding[i].judged && check_is_asked(check_row(i), report);
    }
    buffer_add(out, "\n| Check | Value | Advised | Limit | Share of limit | Verdict |\n|---|---|---|---|---|---|\n");
    for (size_t i = 0; i < count; i++) {
        add_check(out, check_row(worst[i]), &report->finding[worst[i]], job->units);
    }
    if (judged > count) {
        buffer_format(out, "\n%zu more checks are further from their limits.\n", judged - count);
    }
}

static void
add_next_steps(struct buffer *out, const struct job *job, const struct report *report)
{
    if (report->next_step_count == 0) {
        return;
    }
    buffer_add(out, "\n**What to do**\n\n");
    for (size_t i = 0; i < report->next_step_count; i++) {
        buffer_format(out, "%zu. ", i + 1);
        add_message(out, &report->next_step[i].text, job->units);
        buffer_add(out, "\n");
    }
}

/* ---- key figures ---- */

/* What a reader wants beside the checks, in this order. */
static const enum result key_figures[] = {
    RESULT_load_peak_pressure,
    RESULT_load_pin_load_max,
    RESULT_load_pin_load_min,
    RESULT_load_side_thrust_max,
    RESULT_load_rubbing_speed_mean,
    RESULT_strength_bending_stress,
    RESULT_strength_fatigue_factor,
    RESULT_strength_deflection,
    RESULT_strength_pin_mass,
    RESULT_slot_bottom_clearance,
    RESULT_slot_axial_play,
    RESULT_slot_notch_stress,
    RESULT_slot_hold_axial,
    RESULT_slot_grip_torque,
    RESULT_set_screw_hold_axial,
    RESULT_set_screw_hold_torque,
    RESULT_fit_clearance_min,
    RESULT_fit_clearance_max,
    RESULT_fit_hot_clearance_min,
    RESULT_fit_hot_clearance_max,
    RESULT_fit_bushing_outside_wanted,
    RESULT_fit_press_interference_min,
    RESULT_fit_press_interference_max,
    RESULT_fit_hone_to_min,
    RESULT_fit_hone_to_max,
    RESULT_inspection_decision,
    RESULT_inspection_size_mean,
    RESULT_inspection_form,
    RESULT_inspection_taper,
    RESULT_inspection_out_of_round,
    RESULT_inspection_correction,
    RESULT_inspection_to_remove,
    RESULT_inspection_clearance_min,
    RESULT_inspection_clearance_max,
    RESULT_turning_blank_diameter,
    RESULT_turning_blank_length,
    RESULT_turning_cutting_speed,
    RESULT_turning_turn_to,
    RESULT_turning_finishing_allowance,
    RESULT_turning_roughness,
    RESULT_turning_taper_correction,
    RESULT_turning_tailstock_offset,
    RESULT_turning_slot_spindle_speed,
};

static void
add_figures_of(struct buffer *out, enum section section, const struct job *job, const struct report *report)
{
    const char *before = "";
    for (size_t i = 0; i < sizeof key_figures / sizeof key_figures[0]; i++) {
        const enum result result = key_figures[i];
        if (result_row(result)->section != section || !report->result[result].known) {
            continue;
        }
        char name[TEXT_PART_SIZE], value[TEXT_PART_SIZE];
        text_part_name(name, sizeof name, result_row(result)->name);
        text_part_result(value, sizeof value, result, &report->result[result], job->units);
        buffer_join(out, before, name, " ");
        markup_escape_markdown(out, value);
        before = "; ";
    }
}

static void
add_matches(struct buffer *out, const struct job *job, const struct report *report)
{
    buffer_add(out, "- nearest standard fits: ");
    for (size_t i = 0; i < report->match_count; i++) {
        char range[TEXT_PART_SIZE];
        quantity_write_range(range, sizeof range, report->match[i].clearance_min_m, report->match[i].clearance_max_m,
                             DIMENSION_LENGTH, job->units);
        buffer_join(out, i > 0 ? ", " : "", report->match[i].designation, " (", range, ")");
    }
    buffer_add(out, "\n");
}

static void
add_ranking(struct buffer *out, const char *what, const struct ranking *ranking, size_t count)
{
    buffer_join(out, "- ", what, ": ");
    for (size_t i = 0; i < count && i < RANKED_MAX; i++) {
        buffer_join(out, i > 0 ? ", " : "", ranking[i].id, " (", verdict_text(ranking[i].verdict), ")");
    }
    buffer_add(out, "\n");
}

static bool
has_key_figure(enum section section, const struct report *report)
{
    for (size_t i = 0; i < sizeof key_figures / sizeof key_figures[0]; i++) {
        if (result_row(key_figures[i])->section == section && report->result[key_figures[i]].known) {
            return true;
        }
    }
    return false;
}

static void
add_figures(struct buffer *out, const struct job *job, const struct report *report)
{
    const section_set shown = result_sections(report);
    if (shown == 0) {
        return;
    }
    buffer_add(out, "\n**Figures**\n\n");
    for (int section = 0; section < SECTION_COUNT; section++) {
        if ((shown & (1u << section)) && has_key_figure((enum section)section, report)) {
            char name[TEXT_PART_SIZE];
            text_part_name(name, sizeof name, section_text((enum section)section));
            buffer_join(out, "- ", name, ": ");
            add_figures_of(out, (enum section)section, job, report);
            buffer_add(out, "\n");
        }
    }
    if ((shown & SECTION_BIT(fit)) && report->match_count > 0) {
        add_matches(out, job, report);
    }
    if ((shown & SECTION_BIT(material)) && report->ranking_count > 0) {
        add_ranking(out, "steels, best first", report->ranking, report->ranking_count);
    }
    if ((shown & SECTION_BIT(material)) && report->metal_ranking_count > 0) {
        add_ranking(out, "bearing metals, best first", report->metal_ranking, report->metal_ranking_count);
    }
}

/* ---- what the answer rests on ---- */

/* Limits of a part, in the digits of the dial, rather than of a clearance. */
static bool
is_size(enum job_field field)
{
    return field < FIELD_COUNT && field != FIELD_running_fit_wanted && job_field_row(field)->kind == KIND_LIMITS;
}

static void
add_assumptions(struct buffer *out, const struct job *job, const struct report *report)
{
    if (report->assumption_count == 0) {
        return;
    }
    buffer_add(out, "\n**Taken for granted**\n\n");
    for (size_t i = 0; i < report->assumption_count; i++) {
        const struct assumption *assumption = &report->assumption[i];
        char value[TEXT_PART_SIZE] = "";
        if (assumption->kind == ASSUMED_QUANTITY) {
            quantity_write(value, sizeof value, assumption->si, assumption->dimension, job->units);
        } else if (assumption->kind == ASSUMED_LIMITS && is_size(assumption->at)) {
            size_text_range(value, sizeof value, assumption->si, assumption->high, job->units);
        } else if (assumption->kind == ASSUMED_LIMITS) {
            quantity_write_range(value, sizeof value, assumption->si, assumption->high, assumption->dimension,
                                 job->units);
        } else if (assumption->kind == ASSUMED_WORD && assumption->word != NULL) {
            text_copy(value, sizeof value, assumption->word);
        }
        buffer_add(out, "- ");
        if (assumption->at < FIELD_COUNT) {
            buffer_join(out, "`", job_field_row(assumption->at)->path, "` ");
        } else if (assumption->at == FIELD_units) {
            buffer_add(out, "`units` ");
        }
        markup_escape_markdown(out, value);
        buffer_add(out, value[0] != '\0' ? ": " : "");
        add_message(out, &assumption->because, job->units);
        buffer_add(out, "\n");
    }
}

static void
add_not_judged(struct buffer *out, const struct job *job, const struct report *report)
{
    size_t count = 0;
    for (size_t i = 0; i < check_count(); i++) {
        const struct check *check = check_row(i);
        const struct finding *finding = &report->finding[i];
        if (finding->judged || !check_is_asked(check, report) ||
            check_not_judged_because(check, job, finding) != NULL) {
            continue;
        }
        if (count < NOT_JUDGED_MAX) {
            buffer_add(out, count == 0 ? "\n**Not checked, for want of figures:** " : ", ");
            markup_escape_markdown(out, check->name);
        }
        count++;
    }
    if (count > NOT_JUDGED_MAX) {
        buffer_format(out, " and %zu more", count - NOT_JUDGED_MAX);
    }
    buffer_add(out, count > 0 ? "\n" : "");
}

void
text_write_markdown(struct buffer *out, const struct job *job, const struct report *report, const char *link)
{
    add_head(out, job, report);
    text_order_add(out, job, report, TEXT_MARKDOWN);
    add_checks(out, job, report);
    add_next_steps(out, job, report);
    text_station_table(out, job, report);
    text_pass_table(out, job, report);
    add_figures(out, job, report);
    add_assumptions(out, job, report);
    add_not_judged(out, job, report);
    buffer_add(out, "\n" SMALLEND_NAME " " SMALLEND_VERSION ", rules " SMALLEND_RULES);
    if (link != NULL) {
        buffer_join(out, ": <", link, ">");
    }
    buffer_add(out, "\n\n**Cautions**\n\n");
    for (size_t i = 0; i < report->caution_count; i++) {
        buffer_add(out, "- ");
        markup_escape_markdown(out, report->caution[i]);
        buffer_add(out, "\n");
    }
}
