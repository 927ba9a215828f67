#include "wire/schema_answer.h"

#include <string.h>

#include "joint/inspection.h"
#include "joint/report.h"
#include "wire/curves.h"
#include "wire/material_write.h"
#include "wire/result_write.h"
#include "wire/schema_order.h"
#include "wire/schema_quantity.h"

/* The lists and objects that result_write.c, size_write.c and
 * material_write.c put beside the rows of result.def; the contract tests hold
 * every member of real answers against them. */

static const struct part fit_class_part[] = {
    {"designation", PART_TEXT, true, 0, NULL, "hole and shaft of ISO 286, or a class of ANSI B4.1"},
    {"clearance_min", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "least clearance on the diameter"},
    {"clearance_max", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "greatest clearance on the diameter"},
};

static const struct part ranking_part[] = {
    {"id", PART_TEXT, true, 0, NULL, "id of the steel or metal"},
    {"verdict", PART_REF, true, 0, "Verdict", NULL},
    {"governing", PART_REF, false, 0, "CheckId", "the check nearest to its limit"},
    {"utilization", PART_UTILIZATION, false, 0, NULL, "of that check"},
    {"note", PART_TEXT, false, 0, NULL, "what speaks for or against it"},
};

static const struct part chosen_part[] = {
    {"id", PART_TEXT, true, 0, NULL, "id of the table, or certificate for own figures"},
    {"grade", PART_TEXT, true, 0, NULL, "generic grade"},
    {"condition", PART_TEXT, true, 0, NULL, "how it is supplied or treated"},
    {"uns", PART_TEXT, false, 0, NULL, "number of the unified numbering system"},
    {"tensile", PART_QUANTITY, false, DIMENSION_PRESSURE, NULL, "tensile strength as tabled"},
    {"yield", PART_QUANTITY, false, DIMENSION_PRESSURE, NULL, "yield strength as tabled"},
    {"hardness_hb", PART_REF, false, 0, "Hardness", "Brinell hardness, of the core where it is case hardened"},
    {"hardness_hrc", PART_REF, false, 0, "Hardness", "Rockwell C hardness, of the case if there is one"},
    {"case_hardened", PART_FLAG, true, 0, NULL, "the strengths are then those of the core"},
    {"basis", PART_REF, true, 0, "StrengthBasis", NULL},
    {"basis_text", PART_TEXT, false, 0, NULL, "the same as its source, or the certificate, words it"},
    {"slot", PART_REF, true, 0, "SlotSuitability", NULL},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
    {"designation", PART_TEXT, false, 0, NULL, "what to write on the order"},
    {"sources", PART_TEXTS, true, 0, NULL, "keys of GET /v1/sources that the figures rest on"},
};

static const struct part station_part[] = {
    {"at", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "place, from one end"},
    {"size_min", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "smallest size read there, at 20 degC"},
    {"size_max", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "largest"},
    {"size_mean", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "mean"},
    {"out_of_round", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "difference of the diameters read there"},
    {"to_remove", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "metal to take off there, on the diameter"},
};

static const struct part pass_part[] = {
    {"purpose", PART_TEXT, true, 0, NULL, "what the cut is for"},
    {"diameter_before", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "diameter before the cut"},
    {"diameter_after", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "diameter after it"},
    {"depth_of_cut", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "on the radius"},
    {"dial", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "travel that the cross-slide dial shows"},
    {"spindle_speed", PART_QUANTITY, false, DIMENSION_ROTATION, NULL, "absent where the steel is not known"},
    {"feed", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "per revolution"},
};

static const struct part slot_pass_part[] = {
    {"depth", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "depth reached, from the surface as turned"},
    {"step", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "depth of this cut"},
    {"effective_diameter", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "of the cutter at that depth"},
    {"spindle_speed", PART_QUANTITY, false, DIMENSION_ROTATION, NULL, "absent where the steel is not known"},
};

static const struct part sensitivity_part[] = {
    {"at", PART_PATH, true, 0, NULL, "member of the job"},
    {"utilization_per_percent", PART_NUMBER, true, 0, NULL,
     "change of the governing check's utilization for one percent more of it"},
};

static const struct part size_part[] = {
    {"what", PART_TEXT, true, 0, NULL, "the member sought, as asked"},
    {"outcome", PART_REF, true, 0, "SizeOutcome", NULL},
    {"found", PART_REF, false, 0, "QuantityOrWord",
     "the value, or of pin.steel the id, that was sought; absent if none passes"},
    {"found_low", PART_REF, false, 0, "Quantity", "lower end of what passes"},
    {"found_high", PART_REF, false, 0, "Quantity", "upper end of what passes"},
    {"next_practical", PART_REF, false, 0, "Quantity", "the next size that a shop would work to"},
    {"passing", PART_TEXTS, false, 0, NULL, "of pin.steel: every id that passes, best first"},
    {"governing", PART_REF, false, 0, "CheckId", "the check that stops it just beyond"},
    {"governing_utilization", PART_UTILIZATION, false, 0, NULL, "of that check"},
    {"contradiction", PART_TEXT, false, 0, NULL, "beyond it the job contradicts itself: how"},
    {"sensitivities", PART_REFS, true, 0, "Sensitivity", "what else moves the governing check, most first"},
};

/* ---- words that the core answers ---- */

static const char *
form_at(size_t index)
{
    const char *const words[] = {measure_straight, measure_tapered, measure_barrel, measure_waist};
    return words[index];
}

static const char *
decision_at(size_t index)
{
    const char *const words[] = {inspection_accept, inspection_rework, inspection_reject, inspection_undecided};
    return words[index];
}

static const char *
outcome_at(size_t index)
{
    return size_outcome_text((enum size_outcome)index);
}

static const char *
basis_at(size_t index)
{
    return strength_basis_text((enum strength_basis)index);
}

static const char *
slot_at(size_t index)
{
    return material_slot_text((enum slot_suitability)index);
}

static const char *
hardness_unit_at(size_t index)
{
    static const char *const words[] = {"HB", "HRC"};
    return words[index];
}

static void
write_hardness(struct writer *writer)
{
    static const struct part part[] = {
        {"value", PART_NUMBER, true, 0, NULL, "the number on that scale"},
        {"unit", PART_OTHER, true, 0, NULL, NULL},
    };
    schema_object_begin(writer, "Hardness", "a hardness", PARTS(part));
    schema_enum(writer, "unit", "the scale", hardness_unit_at, 2);
    schema_object_end(writer);
}

/* ---- curves ---- */

static void
write_curve(struct writer *writer)
{
    static const struct part part[] = {
        {"unit", PART_TEXT, true, 0, NULL, "of every value"},
        {"values", PART_OTHER, true, 0, NULL, NULL},
    };
    schema_object_begin(writer, "Curve", "one quantity over the cycle", PARTS(part));
    schema_begin(writer, "values", "array", "one for each step, from the firing dead center on");
    schema_begin(writer, "items", "number", NULL);
    writer_text(writer, "format", "double");
    writer_object_end(writer);
    writer_object_end(writer);
    schema_object_end(writer);
}

static void
write_trace(struct writer *writer)
{
    size_t count = 0;
    const struct result_curve *curve = result_curves(&count);
    schema_begin(writer, "Trace", "object", "curves over the cycle, in equal steps, as many as trace asked for");
    writer_list(writer, "required");
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, curve[i].name);
    }
    writer_list_end(writer);
    writer_object(writer, "properties");
    for (size_t i = 0; i < count; i++) {
        schema_refer(writer, curve[i].name, "Curve", dimension_name(curve[i].dimension));
    }
    schema_object_end(writer);
}

/* ---- sections ---- */

static void
write_row(struct writer *writer, enum result result)
{
    const struct result_row *row = result_row(result);
    char name[SCHEMA_NAME_SIZE];
    switch (row->kind) {
    case RESULT_IS_NUMBER:
        schema_quantity_name(name, row->dimension, SCHEMA_WRITTEN);
        schema_refer(writer, row->name, name, row->meaning);
        break;
    case RESULT_IS_LIMITS:
        schema_refer(writer, row->name, "LengthValueLimits", row->meaning);
        break;
    case RESULT_IS_FLAG:
        schema_begin(writer, row->name, "boolean", row->meaning);
        writer_object_end(writer);
        break;
    case RESULT_IS_WORD:
        schema_enum(writer, row->name, row->meaning, result == RESULT_inspection_form ? form_at : decision_at, 4);
        break;
    }
}

/* What stands in a section beside the rows of result.def. */
static void
write_lists(struct writer *writer, enum section section)
{
    switch (section) {
    case SECTION_fit:
        schema_refer_list(writer, "classes", "FitClassMatch", "standard fits nearest to these clearances");
        break;
    case SECTION_material:
        schema_refer(writer, "chosen", "ChosenSteel", "the steel of the job");
        schema_refer_list(writer, "ranking", "Ranking", "every steel for this joint, best first");
        schema_refer_list(writer, "bearing_metals", "Ranking", "every bearing metal for this joint, best first");
        break;
    case SECTION_inspection:
        schema_refer_list(writer, "stations", "Station", "the part place by place");
        break;
    case SECTION_turning:
        schema_refer_list(writer, "passes", "TurningPass", "the cuts on the lathe, in order");
        schema_refer_list(writer, "slot_passes", "SlotPass", "the cuts of the slot on the mill, in order");
        break;
    default:
        break;
    }
}

/* Of the load there are two: /v1/load alone can be asked for the curves. */
static void
results_name(char name[SCHEMA_NAME_SIZE], enum section section, bool traced)
{
    schema_camel(name, "", section_text(section), traced ? "TraceResults" : "Results");
}

static const char *
section_meaning(enum section section)
{
    static const char *const meaning[] = {
#define SECTION(id, meaning) meaning,
#include "joint/section.def"
    };
    return meaning[section];
}

static void
write_section(struct writer *writer, enum section section, bool traced)
{
    char name[SCHEMA_NAME_SIZE];
    if (section == SECTION_order) { /* no row of result.def: see schema_order.c */
        schema_order(writer);
        return;
    }
    results_name(name, section, traced);
    schema_begin(writer, name, "object", section_meaning(section));
    writer_count(writer, "minProperties", 1);
    writer_object(writer, "properties");
    for (int i = 0; i < RESULT_COUNT; i++) {
        if (result_row((enum result)i)->section == section) {
            write_row(writer, (enum result)i);
        }
    }
    write_lists(writer, section);
    if (traced) {
        schema_refer(writer, "trace", "Trace", "given where trace asks for it");
    }
    schema_object_end(writer);
}

void
schema_sections(struct writer *writer, section_set sections, enum call call)
{
    char name[SCHEMA_NAME_SIZE];
    for (int i = 0; i < SECTION_COUNT; i++) {
        if (sections & (1u << i)) {
            results_name(name, (enum section)i, curves_of(call));
            schema_refer(writer, section_text((enum section)i), name, NULL);
        }
    }
    if (call == CALL_size || call == CALL_COUNT) {
        schema_refer(writer, "size", "SizeResults", NULL);
    }
}

static void
write_results(struct writer *writer)
{
    schema_begin(writer, "Results", "object",
                 "one member for each section that the call answers and that could be computed. What a job does not "
                 "give enough for is left out");
    writer_object(writer, "properties");
    schema_sections(writer, ((1u << SECTION_COUNT) - 1) & ~SECTION_BIT(order), CALL_COUNT);
    schema_object_end(writer);
}

void
schema_results(struct writer *writer)
{
    write_results(writer);
    for (int i = 0; i < SECTION_COUNT; i++) {
        write_section(writer, (enum section)i, false);
    }
    write_section(writer, SECTION_load, true);
    write_trace(writer);
    write_curve(writer);
    schema_object(writer, "FitClassMatch", "a standard fit", PARTS(fit_class_part));
    schema_object(writer, "ChosenSteel", "the steel of the pin", PARTS(chosen_part));
    write_hardness(writer);
    schema_object(writer, "Ranking", "a steel or a metal as it would do in this joint", PARTS(ranking_part));
    schema_object(writer, "Station", "one place along an inspected part", PARTS(station_part));
    schema_object(writer, "TurningPass", "a cut on the lathe", PARTS(pass_part));
    schema_object(writer, "SlotPass", "a cut of the slot on the mill", PARTS(slot_pass_part));
    schema_object(writer, "SizeResults", "the unknown that was solved for", PARTS(size_part));
    schema_object(writer, "Sensitivity", "how a member of the job moves the governing check", PARTS(sensitivity_part));
    schema_enum(
        writer, "SizeOutcome",
        "limit: passes up to the value found; window: passes between two values; none_passes: none that was tried "
        "does, or none could be judged, where the verdict is incomplete; all_pass: every one in the range does",
        outcome_at, SIZE_ALL_PASS + 1);
    schema_enum(writer, "StrengthBasis", "what kind of figure the strengths are", basis_at, BASIS_CERTIFICATE + 1);
    schema_enum(writer, "SlotSuitability", "whether a slotted, locked pin may be of this steel", slot_at,
                SLOT_UNSUITABLE + 1);
}
