#include "wire/text_order.h"

#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/markup.h"
#include "wire/message.h"
#include "wire/size_text.h"
#include "wire/text_part.h"

enum { LINE_SIZE = MESSAGE_SIZE };

/* What every line needs to know. */
struct sheet {
    struct buffer *out;
    const struct job *job;
    enum text_dress dress;
};

/* A line being put together. */
struct line {
    char at[LINE_SIZE];
    struct text text;
};

static void
begin(struct line *line)
{
    text_init(&line->text, line->at, sizeof line->at);
}

static void
end(const struct sheet *sheet, const struct line *line)
{
    buffer_add(sheet->out, "- ");
    if (sheet->dress == TEXT_MARKDOWN) {
        markup_escape_markdown(sheet->out, line->at);
    } else {
        buffer_add(sheet->out, line->at);
    }
    buffer_add(sheet->out, "\n");
}

static void
heading(const struct sheet *sheet, const char *words)
{
    if (sheet->dress == TEXT_MARKDOWN) {
        buffer_format(sheet->out, "\n**%s**\n\n", words);
    } else {
        buffer_format(sheet->out, "%s:\n", words);
    }
}

static void
message_line(const struct sheet *sheet, const struct message *message)
{
    struct line line;
    begin(&line);
    message_write(&line.text, message, sheet->job->units);
    end(sheet, &line);
}

static void
add_quantity(struct text *text, double si, enum dimension dimension, enum unit_system system)
{
    char quantity[TEXT_PART_SIZE];
    quantity_write(quantity, sizeof quantity, si, dimension, system);
    text_add(text, quantity);
}

static void
add_limits(struct text *text, const struct limits *limits, enum unit_system system)
{
    char range[SIZE_TEXT_RANGE_MAX];
    size_text_limits(range, sizeof range, limits, system);
    text_add(text, range);
}

/* ---- why ---- */

static void
add_reasons(const struct sheet *sheet, const struct order *order)
{
    heading(sheet, order->released ? "Released because" : "On hold because");
    for (size_t i = 0; i < order->reason_count; i++) {
        message_line(sheet, &order->reason[i].text);
    }
}

/* ---- what to buy ---- */

static void
add_steel(const struct sheet *sheet, const struct order_part *part)
{
    const struct steel *steel = part->steel;
    struct line line;
    if (steel == NULL) {
        return;
    }
    begin(&line);
    text_add(&line.text, "steel: ");
    if (part->certificate != NULL) {
        text_add(&line.text, "as certified, ");
        text_part_label(&line.text, part->certificate);
    } else {
        text_format(&line.text, "%s (%s, %s; UNS %s)", steel->designation, steel->grade, steel->condition, steel->uns);
        text_format(&line.text, "; near: %s", steel->near_equivalent);
    }
    end(sheet, &line);
}

static void
add_blank(const struct sheet *sheet, const struct order_part *part)
{
    struct line line;
    if (!part->blank_known) {
        return;
    }
    begin(&line);
    text_add(&line.text, part->as_drawn ? "round bar at size: " : "round bar: ");
    add_quantity(&line.text, part->blank_diameter_m, DIMENSION_LENGTH, sheet->job->units);
    if (part->blank_length_known) {
        text_add(&line.text, " x ");
        add_quantity(&line.text, part->blank_length_m, DIMENSION_LENGTH, sheet->job->units);
    }
    if (job_known(sheet->job, FIELD_order_quantity)) {
        text_format(&line.text, ", for each of %.0f", sheet->job->order.quantity_count);
    }
    end(sheet, &line);
}

static void
add_fastening(const struct sheet *sheet, const struct order_fastening *fastening)
{
    struct line line;
    if (fastening->kind == NULL) {
        return;
    }
    begin(&line);
    const bool several = fastening->count > 1.5;
    const bool bolt = strcmp(fastening->kind, "clamp_bolt") == 0;
    text_format(&line.text, "%s: %s", bolt ? "clamp bolt" : several ? "set screws" : "set screw", fastening->thread);
    if (several) {
        text_format(&line.text, ", %.0f of them", fastening->count);
    }
    if (fastening->grade != NULL) {
        text_format(&line.text, ", %s or stronger", fastening->grade);
    }
    if (fastening->torque_known) {
        text_add(&line.text, ", tightened to ");
        add_quantity(&line.text, fastening->torque_Nm, DIMENSION_TORQUE, sheet->job->units);
    }
    end(sheet, &line);
}

/* ---- what to make ---- */

static void
add_diameter(const struct sheet *sheet, const struct order_part *part)
{
    const enum unit_system own = sheet->job->units, other = own == UNITS_INCH ? UNITS_METRIC : UNITS_INCH;
    struct line line;
    begin(&line);
    text_add(&line.text, "diameter ");
    add_limits(&line.text, &part->diameter, own);
    text_add(&line.text, " (");
    add_limits(&line.text, &part->diameter, other);
    text_format(&line.text, "%s%s) at 20 degC", part->diameter.class_name[0] != '\0' ? "; " : "",
                part->diameter.class_name);
    end(sheet, &line);
}

static void
add_form(const struct sheet *sheet, const struct order_part *part)
{
    struct line line;
    begin(&line);
    if (part->length_known) {
        text_add(&line.text, "length ");
        add_limits(&line.text, &part->length, sheet->job->units);
        text_add(&line.text, ", ");
    }
    text_add(&line.text, part->inside_m > 0.0 ? "hollow, bore " : "solid");
    if (part->inside_m > 0.0) {
        add_quantity(&line.text, part->inside_m, DIMENSION_LENGTH, sheet->job->units);
    }
    end(sheet, &line);
}

static void
add_surface(const struct sheet *sheet, const struct order_part *part)
{
    size_t count = 0;
    struct line line;
    begin(&line);
    text_format(&line.text, "surface %s, Ra ", choice_table(CHOICE_SET_finish, &count)[part->finish].text);
    add_quantity(&line.text, part->roughness_m, DIMENSION_ROUGHNESS, sheet->job->units);
    text_add(&line.text, " or better");
    end(sheet, &line);
}

static void
add_slot(const struct sheet *sheet, const struct order_slot *slot)
{
    struct line line;
    if (!slot->known) {
        return;
    }
    begin(&line);
    text_add(&line.text, "slot ");
    add_limits(&line.text, &slot->depth, sheet->job->units);
    text_add(&line.text, " deep, cutter ");
    add_quantity(&line.text, slot->cutter_diameter_m, DIMENSION_LENGTH, sheet->job->units);
    if (slot->at_known) {
        text_add(&line.text, ", center ");
        add_quantity(&line.text, slot->at_m, DIMENSION_LENGTH, sheet->job->units);
        text_add(&line.text, " from either end, within ");
        add_quantity(&line.text, slot->at_within_m, DIMENSION_LENGTH, sheet->job->units);
    }
    end(sheet, &line);
}

static void
add_part(const struct sheet *sheet, const struct order_part *part)
{
    heading(sheet, "Buy");
    add_steel(sheet, part);
    add_blank(sheet, part);
    add_fastening(sheet, &part->fastening);
    heading(sheet, "Make");
    add_diameter(sheet, part);
    add_form(sheet, part);
    add_surface(sheet, part);
    add_slot(sheet, &part->slot);
    for (size_t i = 0; i < part->note_count; i++) {
        message_line(sheet, &part->note[i].text);
    }
    heading(sheet, "Inspect, to pass");
    for (size_t i = 0; i < part->inspection_count; i++) {
        message_line(sheet, &part->inspection[i].text);
    }
}

/* ---- which record ---- */

static void
id_line(const struct sheet *sheet, const char *what, const char *id)
{
    struct line line;
    if (id == NULL || id[0] == '\0') {
        return;
    }
    begin(&line);
    text_format(&line.text, "%s %s", what, id);
    end(sheet, &line);
}

/* A text of the buyer's own, made harmless. */
static void
buyer_line(const struct sheet *sheet, const char *what, const char *words)
{
    struct line line;
    if (words[0] == '\0') {
        return;
    }
    begin(&line);
    text_format(&line.text, "%s ", what);
    text_part_label(&line.text, words);
    end(sheet, &line);
}

static void
add_record(const struct sheet *sheet, const struct order *order)
{
    static const char *const replaced[] = {
        [CHOICE_action_NEW] = "supersedes", [CHOICE_action_REPLACE] = "replaces", [CHOICE_action_CANCEL] = "cancels"};
    heading(sheet, "Record");
    id_line(sheet, "record", order->record_id);
    id_line(sheet, "part", order->part_id);
    id_line(sheet, replaced[order->action], order->supersedes);
    buyer_line(sheet, "reference", sheet->job->order.reference);
    buyer_line(sheet, "date", sheet->job->order.date);
    id_line(sheet, "signed with the key", order->key_id);
    if (order->key_id == NULL) {
        id_line(sheet, "not signed:", "this service has no signing key");
    }
}

void
text_order_add(struct buffer *out, const struct job *job, const struct report *report, enum text_dress dress)
{
    const struct sheet sheet = {out, job, dress};
    if (!report->order.known) {
        return;
    }
    add_reasons(&sheet, &report->order);
    if (report->order.part.known && report->order.action != CHOICE_action_CANCEL) {
        add_part(&sheet, &report->order.part);
    }
    add_record(&sheet, &report->order);
}
