#include "wire/result_write.h"

#include <math.h>
#include <stddef.h>

#include "wire/material_write.h"
#include "wire/order_write.h"
#include "wire/size_write.h"

section_set
result_sections(const struct report *report)
{
    section_set known = 0;
    for (int i = 0; i < RESULT_COUNT; i++) {
        if (report->result[i].known) {
            known |= 1u << result_row((enum result)i)->section;
        }
    }
    if (report->match_count > 0) {
        known |= SECTION_BIT(fit);
    }
    if (report->chosen != NULL || report->ranking_count > 0 || report->metal_ranking_count > 0) {
        known |= SECTION_BIT(material);
    }
    return known & call_row(report->call)->sections;
}

static void
write_value(struct writer *writer, const struct result_row *row, const struct result_value *value,
            enum unit_system system)
{
    switch (row->kind) {
    case RESULT_IS_NUMBER:
        writer_quantity(writer, row->name, value->si, row->dimension, system);
        break;
    case RESULT_IS_FLAG:
        writer_flag(writer, row->name, value->si > 0.5);
        break;
    case RESULT_IS_WORD:
        writer_text(writer, row->name, value->word);
        break;
    case RESULT_IS_LIMITS:
        writer_limits(writer, row->name, value->si, value->high, row->dimension, system);
        break;
    }
}

static void
write_matches(struct writer *writer, const struct report *report, enum unit_system system)
{
    writer_list(writer, "classes");
    for (size_t i = 0; i < report->match_count; i++) {
        const struct fit_match *match = &report->match[i];
        writer_object(writer, NULL);
        writer_text(writer, "designation", match->designation);
        writer_quantity(writer, "clearance_min", match->clearance_min_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "clearance_max", match->clearance_max_m, DIMENSION_LENGTH, system);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_stations(struct writer *writer, const struct report *report, enum unit_system system)
{
    writer_list(writer, "stations");
    for (size_t i = 0; i < report->station_count; i++) {
        const struct station *station = &report->station[i];
        writer_object(writer, NULL);
        if (station->has_at) {
            writer_quantity(writer, "at", station->at_m, DIMENSION_LENGTH, system);
        }
        writer_quantity(writer, "size_min", station->size_min_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "size_max", station->size_max_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "size_mean", station->size_mean_m, DIMENSION_LENGTH, system);
        if (station->reading_count > 1) {
            writer_quantity(writer, "out_of_round", station->out_of_round_m, DIMENSION_LENGTH, system);
        }
        if (report->result[RESULT_inspection_to_remove].known) {
            writer_quantity(writer, "to_remove", station->to_remove_m, DIMENSION_LENGTH, system);
        }
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_passes(struct writer *writer, const struct report *report, enum unit_system system)
{
    writer_list(writer, "passes");
    for (size_t i = 0; i < report->pass_count; i++) {
        const struct turning_pass *pass = &report->pass[i];
        writer_object(writer, NULL);
        writer_text(writer, "purpose", pass->purpose);
        writer_quantity(writer, "diameter_before", pass->before_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "diameter_after", pass->after_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "depth_of_cut", pass->depth_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "dial", pass->dial_m, DIMENSION_LENGTH, system);
        if (pass->spindle_rad_s > 0.0) { /* 0 where the steel is not known */
            writer_quantity(writer, "spindle_speed", pass->spindle_rad_s, DIMENSION_ROTATION, system);
        }
        writer_quantity(writer, "feed", pass->feed_m, DIMENSION_LENGTH, system);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_slot_passes(struct writer *writer, const struct report *report, enum unit_system system)
{
    writer_list(writer, "slot_passes");
    for (size_t i = 0; i < report->slot_pass_count; i++) {
        const struct slot_pass *pass = &report->slot_pass[i];
        writer_object(writer, NULL);
        writer_quantity(writer, "depth", pass->depth_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "step", pass->step_m, DIMENSION_LENGTH, system);
        writer_quantity(writer, "effective_diameter", pass->effective_diameter_m, DIMENSION_LENGTH, system);
        if (pass->spindle_rad_s > 0.0) { /* 0 where the steel is not known */
            writer_quantity(writer, "spindle_speed", pass->spindle_rad_s, DIMENSION_ROTATION, system);
        }
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_ranking(struct writer *writer, const char *key, const struct ranking *ranking, size_t count)
{
    writer_list(writer, key);
    for (size_t i = 0; i < count; i++) {
        writer_object(writer, NULL);
        writer_word(writer, "id", ranking[i].id);
        writer_word(writer, "verdict", verdict_text(ranking[i].verdict));
        if (ranking[i].governing != NULL) {
            writer_word(writer, "governing", ranking[i].governing);
            writer_number(writer, "utilization", ranking[i].utilization);
        }
        writer_text_if(writer, "note", ranking[i].note);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

static void
write_material(struct writer *writer, const struct job *job, const struct report *report)
{
    if (report->chosen != NULL) {
        material_write_chosen(writer, job, report->chosen);
    }
    if (report->ranking_count > 0) {
        write_ranking(writer, "ranking", report->ranking, report->ranking_count);
    }
    if (report->metal_ranking_count > 0) {
        write_ranking(writer, "bearing_metals", report->metal_ranking, report->metal_ranking_count);
    }
}

/* ---- curves over the cycle ---- */

static const struct result_curve curves_written[] = {
    {"crank_angle", DIMENSION_ANGLE, offsetof(struct trace_point, crank_angle_rad)},
    {"cylinder_pressure", DIMENSION_PRESSURE, offsetof(struct trace_point, cylinder_pressure_Pa)},
    {"gas_force", DIMENSION_FORCE, offsetof(struct trace_point, gas_force_N)},
    {"inertia_force", DIMENSION_FORCE, offsetof(struct trace_point, inertia_force_N)},
    {"pin_load", DIMENSION_FORCE, offsetof(struct trace_point, pin_load_N)},
    {"side_thrust", DIMENSION_FORCE, offsetof(struct trace_point, side_thrust_N)},
};

const struct result_curve *
result_curves(size_t *count)
{
    *count = sizeof curves_written / sizeof curves_written[0];
    return curves_written;
}

static double
curve_value(const struct result_curve *curve, const struct report_curves *curves, size_t i)
{
    return *(const double *)(const void *)((const char *)&curves->point[i] + curve->offset);
}

/* What is smaller than rounding leaves of the curve's greatest value is zero. */
static double
curve_residue(const struct result_curve *curve, const struct report_curves *curves)
{
    double greatest = 0.0;
    for (size_t i = 0; i < curves->count; i++) {
        greatest = fmax(greatest, fabs(curve_value(curve, curves, i)));
    }
    return 1.0e-12 * greatest;
}

static void
write_curve(struct writer *writer, const struct result_curve *curve, const struct report_curves *curves,
            enum unit_system system)
{
    const struct unit *unit = unit_of(curve->dimension, system);
    const double residue = curve_residue(curve, curves);
    writer_object(writer, curve->name);
    writer_word(writer, "unit", unit->symbol);
    writer_list(writer, "values");
    for (size_t i = 0; i < curves->count; i++) {
        const double si = curve_value(curve, curves, i);
        writer_number(writer, NULL, unit_from_si(unit, fabs(si) <= residue ? 0.0 : si));
    }
    writer_list_end(writer);
    writer_object_end(writer);
}

static void
write_curves(struct writer *writer, const struct report_curves *curves, enum unit_system system)
{
    writer_object(writer, "trace");
    for (size_t i = 0; i < sizeof curves_written / sizeof curves_written[0]; i++) {
        write_curve(writer, &curves_written[i], curves, system);
    }
    writer_object_end(writer);
}

/* ---- sections ---- */

static void
write_section(struct writer *writer, enum section section, const struct job *job, const struct report *report,
              const struct report_curves *curves)
{
    writer_object(writer, section_text(section));
    for (int i = 0; i < RESULT_COUNT; i++) {
        const struct result_row *row = result_row((enum result)i);
        if (row->section == section && report->result[i].known) {
            write_value(writer, row, &report->result[i], job->units);
        }
    }
    if (section == SECTION_load && curves->count > 0) {
        write_curves(writer, curves, job->units);
    }
    if (section == SECTION_fit && report->match_count > 0) {
        write_matches(writer, report, job->units);
    }
    if (section == SECTION_inspection && report->station_count > 0) {
        write_stations(writer, report, job->units);
    }
    if (section == SECTION_turning && report->pass_count > 0) {
        write_passes(writer, report, job->units);
    }
    if (section == SECTION_turning && report->slot_pass_count > 0) {
        write_slot_passes(writer, report, job->units);
    }
    if (section == SECTION_material) {
        write_material(writer, job, report);
    }
    writer_object_end(writer);
}

void
result_write(struct writer *writer, const struct job *job, const struct report *report,
             const struct report_curves *curves)
{
    const section_set shown = result_sections(report);
    writer_object(writer, "results");
    for (int section = 0; section < SECTION_COUNT; section++) {
        if (shown & (1u << section)) {
            write_section(writer, (enum section)section, job, report, curves);
        }
    }
    if (report->size.searched) {
        size_write(writer, job, &report->size);
    }
    if (report->order.known) {
        order_write(writer, job, &report->order);
    }
    writer_object_end(writer);
}
