#include "wire/part_write.h"

#include "wire/message.h"

static void
write_length(struct writer *writer, const struct job *job, const char *key, double length_m)
{
    writer_quantity(writer, key, length_m, DIMENSION_LENGTH, job->units);
}

static void
write_limits(struct writer *writer, const char *key, const struct limits *limits, enum unit_system system)
{
    writer_limits(writer, key, limits->min_m, limits->max_m, DIMENSION_LENGTH, system);
}

/* ---- buy ---- */

static void
write_material(struct writer *writer, const struct order_part *part)
{
    const struct steel *steel = part->steel;
    if (steel == NULL) {
        return;
    }
    writer_object(writer, "material");
    writer_text(writer, "id", steel->id);
    writer_text_if(writer, "grade", steel->grade);
    writer_text_if(writer, "condition", steel->condition);
    writer_text_if(writer, "uns", steel->uns);
    writer_text_if(writer, "designation", steel->designation);
    writer_text_if(writer, "near_equivalent", steel->near_equivalent);
    writer_text_if(writer, "bar_sizes", steel->bar_sizes);
    writer_text(writer, "basis", strength_basis_text(steel->basis));
    writer_text_if(writer, "certificate", part->certificate);
    writer_text_if(writer, "hardening", steel->hardening);
    writer_text_if(writer, "note", steel->note);
    writer_object_end(writer);
}

static void
write_blank(struct writer *writer, const struct job *job, const struct order_part *part)
{
    if (!part->blank_known) {
        return;
    }
    writer_object(writer, "blank");
    write_length(writer, job, "diameter", part->blank_diameter_m);
    if (part->blank_length_known) {
        write_length(writer, job, "length", part->blank_length_m);
    }
    writer_flag(writer, "at_size", part->as_drawn);
    writer_object_end(writer);
}

static void
write_fastening(struct writer *writer, const struct job *job, const struct order_fastening *fastening)
{
    if (fastening->kind == NULL) {
        return;
    }
    writer_object(writer, "fastening");
    writer_text(writer, "kind", fastening->kind);
    writer_text(writer, "thread", fastening->thread);
    writer_text_if(writer, "grade", fastening->grade);
    writer_number(writer, "count", fastening->count);
    if (fastening->torque_known) {
        writer_quantity(writer, "torque", fastening->torque_Nm, DIMENSION_TORQUE, job->units);
    }
    writer_object_end(writer);
}

/* ---- make ---- */

/* In both unit systems: the drawing may be in one and the micrometer in the
 * other. */
static void
write_sizes(struct writer *writer, const struct job *job, const struct order_part *part)
{
    write_limits(writer, "diameter", &part->diameter, job->units);
    write_limits(writer, "diameter_inch", &part->diameter, UNITS_INCH);
    write_limits(writer, "diameter_metric", &part->diameter, UNITS_METRIC);
    writer_text_if(writer, "diameter_class", part->diameter.class_name);
    writer_quantity(writer, "at_temperature", 20.0, DIMENSION_TEMPERATURE, job->units);
    write_length(writer, job, "inside_diameter", part->inside_m);
    if (part->length_known) {
        write_limits(writer, "length", &part->length, job->units);
    }
    write_length(writer, job, "taper", part->taper_m);
    write_length(writer, job, "out_of_round", part->out_of_round_m);
    writer_number(writer, "stations", part->stations);
}

static void
write_surface(struct writer *writer, const struct job *job, const struct order_part *part)
{
    size_t count = 0;
    writer_text(writer, "finish", choice_table(CHOICE_SET_finish, &count)[part->finish].text);
    writer_quantity(writer, "roughness", part->roughness_m, DIMENSION_ROUGHNESS, job->units);
    if (part->hardness.known) {
        writer_object(writer, "hardness");
        writer_number(writer, "min", part->hardness.min);
        if (part->hardness.max > 0.0) {
            writer_number(writer, "max", part->hardness.max);
        }
        writer_text(writer, "scale", choice_table(CHOICE_SET_hardness_scale, &count)[part->hardness.scale].text);
        writer_object_end(writer);
    }
    if (part->case_known) {
        write_length(writer, job, "case_depth", part->case_depth_m);
    }
}

static void
write_slot(struct writer *writer, const struct job *job, const struct order_slot *slot)
{
    if (!slot->known) {
        return;
    }
    writer_object(writer, "slot");
    write_limits(writer, "depth", &slot->depth, job->units);
    write_length(writer, job, "cutter_diameter", slot->cutter_diameter_m);
    if (slot->mouth_known) {
        write_length(writer, job, "mouth", slot->mouth_m);
        write_length(writer, job, "chord", slot->chord_m);
    }
    if (slot->at_known) {
        write_length(writer, job, "at", slot->at_m);
        write_length(writer, job, "within", slot->at_within_m);
    }
    writer_object_end(writer);
}

static void
write_flats(struct writer *writer, const struct job *job, const struct order_flats *flats)
{
    if (!flats->known) {
        return;
    }
    writer_object(writer, "flats");
    writer_number(writer, "count", flats->count);
    write_length(writer, job, "depth", flats->depth_m);
    if (flats->width_m > 0.0) {
        write_length(writer, job, "width", flats->width_m);
    }
    writer_object_end(writer);
}

static void
write_notes(struct writer *writer, const struct job *job, const char *key, const struct order_note *note, size_t count)
{
    writer_list(writer, key);
    for (size_t i = 0; i < count; i++) {
        struct message_text text;
        message_render(&text, &note[i].text, job->units);
        writer_object(writer, NULL);
        writer_text(writer, "id", note[i].id);
        writer_text(writer, "text", text.at);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

void
part_write(struct writer *writer, const struct job *job, const struct order_part *part)
{
    if (!part->known) {
        return;
    }
    writer_object(writer, "part");
    writer_text(writer, "name", "wrist pin");
    write_material(writer, part);
    write_blank(writer, job, part);
    write_sizes(writer, job, part);
    write_surface(writer, job, part);
    write_slot(writer, job, &part->slot);
    write_flats(writer, job, &part->flats);
    write_fastening(writer, job, &part->fastening);
    write_notes(writer, job, "notes", part->note, part->note_count);
    write_notes(writer, job, "inspection", part->inspection, part->inspection_count);
    writer_object_end(writer);
}
