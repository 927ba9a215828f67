#include "wire/part_text.h"

#include <math.h>

/* A change of what stands in the text, or of its form, takes another number:
 * names of parts must not come to mean another thing. */
#define FORM "smallend wrist_pin 1\n"

#define LENGTH_STEP_m 1e-10
#define STRENGTH_STEP_Pa 1.0
#define NUMBER_STEP 1e-3

/*
 * Sizes come from inches or from millimeters, a last bit apart. Binary
 * fractions of an inch can fall half-way between two steps; such a pair must not
 * be torn apart, so the boundary lies a little beside the middle, where no
 * fraction and no decimal of either falls.
 */
static void
add_number(struct buffer *out, const char *name, double value, double step)
{
    buffer_format(out, "%s %.0f\n", name, floor(value / step + 0.5 + 1e-3) + 0.0);
}

static void
add_length(struct buffer *out, const char *name, double length_m)
{
    add_number(out, name, length_m, LENGTH_STEP_m);
}

static void
add_steel(struct buffer *out, const struct job *job)
{
    const struct steel *steel = job_steel(job);
    if (steel == NULL) {
        return;
    }
    buffer_format(out, "steel %s\n", steel->id);
    if (job->pin.steel.row == NULL) {
        add_number(out, "tensile", steel->tensile.si, STRENGTH_STEP_Pa);
        add_number(out, "yield", steel->yield.si, STRENGTH_STEP_Pa);
        add_number(out, "bar_hrc", steel->hardness_hrc.si, NUMBER_STEP);
        add_number(out, "bar_hb", steel->hardness_hb.si, NUMBER_STEP);
        buffer_format(out, "certificate %s\n", job->pin.steel.basis);
    }
}

void
part_text_write(struct buffer *out, const struct job *job, const struct report *report)
{
    const struct order_part *part = &report->order.part;
    size_t count = 0;
    buffer_add(out, FORM);
    add_length(out, "diameter_min", part->diameter.min_m);
    add_length(out, "diameter_max", part->diameter.max_m);
    add_length(out, "inside_diameter", part->inside_m);
    if (part->length_known) {
        add_length(out, "length", part->length.max_m);
    }
    add_steel(out, job);
    buffer_format(out, "finish %s\n", choice_table(CHOICE_SET_finish, &count)[part->finish].text);
    if (part->hardness.asked) {
        add_number(out, part->hardness.scale == CHOICE_hardness_scale_HRC ? "hrc" : "hb", part->hardness.min,
                   NUMBER_STEP);
    }
    if (job_known(job, FIELD_pin_roughness)) {
        add_length(out, "roughness", job->pin.roughness_m);
    }
    if (part->slot.known) {
        add_length(out, "slot_depth", job->slot.depth_m);
        add_length(out, "slot_cutter", part->slot.cutter_diameter_m);
    }
    if (part->flats.known) {
        add_number(out, "flats", part->flats.count, 1.0);
        add_length(out, "flat_depth", part->flats.depth_m);
    }
}
