#include "wire/text_pass.h"

#include <math.h>

#include "quantity/quantity.h"
#include "wire/size_text.h"
#include "wire/text_part.h"

/* Sizes and travels in the digits of the dial. */
static void
add_size(struct buffer *out, double size_m, enum unit_system system)
{
    char cell[SIZE_TEXT_MAX];

    size_text_write(cell, sizeof cell, size_m, system);
    buffer_join(out, " ", cell, " |");
}

static void
add_travel(struct buffer *out, double travel_m, enum unit_system system)
{
    char cell[SIZE_TEXT_MAX];

    size_text_difference(cell, sizeof cell, travel_m, system);
    buffer_join(out, " ", cell, " |");
}

/* Whole turns a minute, the lower ones; nothing where the steel, and so the speed, is unknown. */
static void
add_speed(struct buffer *out, double speed_rad_s, enum unit_system system)
{
    const struct unit *const unit = unit_of(DIMENSION_ROTATION, system);

    if (speed_rad_s > 0.0) {
        buffer_format(out, " %.0f %s |", floor(unit_from_si(unit, speed_rad_s) + 1e-6), unit->symbol);
    } else {
        buffer_add(out, " - |");
    }
}

static void
add_passes(struct buffer *out, const struct job *job, const struct report *report)
{
    buffer_add(out, "\n| Cut | On the dial | From | To | Spindle | Feed a turn |\n|---|---|---|---|---|---|\n");
    for (size_t i = 0; i < report->pass_count; i++) {
        const struct turning_pass *pass = &report->pass[i];
        char feed[TEXT_PART_SIZE];

        buffer_format(out, "| %zu %s |", i + 1, pass->purpose);
        add_travel(out, pass->dial_m, job->units);
        add_size(out, pass->before_m, job->units);
        add_size(out, pass->after_m, job->units);
        add_speed(out, pass->spindle_rad_s, job->units);
        quantity_write(feed, sizeof feed, pass->feed_m, DIMENSION_LENGTH, job->units);
        buffer_join(out, " ", feed, " |\n");
    }
}

static void
add_slot_passes(struct buffer *out, const struct job *job, const struct report *report)
{
    buffer_add(out,
               "\n| Slot cut | Down by | Depth reached | Cutter cuts at | Spindle at most |\n|---|---|---|---|---|\n");
    for (size_t i = 0; i < report->slot_pass_count; i++) {
        const struct slot_pass *pass = &report->slot_pass[i];

        buffer_format(out, "| %zu |", i + 1);
        add_travel(out, pass->step_m, job->units);
        add_size(out, pass->depth_m, job->units);
        add_size(out, pass->effective_diameter_m, job->units);
        add_speed(out, pass->spindle_rad_s, job->units);
        buffer_add(out, "\n");
    }
}

void
text_pass_table(struct buffer *out, const struct job *job, const struct report *report)
{
    if (report->pass_count > 0) {
        add_passes(out, job, report);
    }
    if (report->slot_pass_count > 0) {
        add_slot_passes(out, job, report);
    }
}
