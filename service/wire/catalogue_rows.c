#include "wire/catalogue_write.h"

#include <string.h>

#include "joint/material.h"
#include "wire/material_write.h"
#include "wire/problem.h"

/* An SI value in a named unit. */
static void
write_in(struct writer *writer, const char *key, double si, enum dimension dimension, const char *symbol)
{
    const struct unit *unit = unit_find(symbol, strlen(symbol), dimension);
    writer_value(writer, key, unit != NULL ? unit_from_si(unit, si) : si, symbol);
}

/* ---- steels ---- */

static size_t
steel_count(void)
{
    size_t count = 0;
    (void)steel_table(&count);
    return count;
}

static const char *
steel_id(size_t index)
{
    size_t count = 0;
    return steel_table(&count)[index].id;
}

static void
steel_row(struct writer *writer, size_t index)
{
    size_t count = 0;
    material_write_steel(writer, &steel_table(&count)[index]);
}

static size_t
steel_by_grade(const char *name)
{
    size_t count = 0;
    const struct steel *table = steel_table(&count);
    bool by_grade = false;
    const struct steel *row = steel_find(name, &by_grade);
    return row != NULL ? (size_t)(row - table) : count;
}

/* ---- metals: the bearing metals, then the structural ones ---- */

static const struct metal *
metal_at(size_t index)
{
    size_t bearing = 0, structural = 0;
    const struct metal *bearing_metals = bearing_metal_table(&bearing);
    const struct metal *structural_metals = structural_metal_table(&structural);
    return index < bearing ? &bearing_metals[index] : &structural_metals[index - bearing];
}

static size_t
metal_count(void)
{
    size_t bearing = 0, structural = 0;
    (void)bearing_metal_table(&bearing);
    (void)structural_metal_table(&structural);
    return bearing + structural;
}

static const char *
metal_id(size_t index)
{
    return metal_at(index)->id;
}

static void
metal_row(struct writer *writer, size_t index)
{
    material_write_metal(writer, metal_at(index));
}

/* ---- bolts: one row per grade, its ranges of diameter inside ---- */

/* The first table row of the index-th grade; the count of rows past the last.
 * A grade's rows stand together. */
static size_t
grade_begin(const struct bolt_grade *table, size_t count, size_t index)
{
    size_t row = 0;
    for (; row < count; row++) {
        if (row == 0 || strcmp(table[row].id, table[row - 1].id) != 0) {
            if (index == 0) {
                return row;
            }
            index--;
        }
    }
    return count;
}

static size_t
bolt_count(void)
{
    size_t rows = 0, grades = 0;
    const struct bolt_grade *table = bolt_grade_table(&rows);
    while (grade_begin(table, rows, grades) < rows) {
        grades++;
    }
    return grades;
}

static const char *
bolt_id(size_t index)
{
    size_t rows = 0;
    const struct bolt_grade *table = bolt_grade_table(&rows);
    return table[grade_begin(table, rows, index)].id;
}

static void
write_bolt_size(struct writer *writer, const struct bolt_grade *row)
{
    writer_object(writer, NULL);
    write_in(writer, "diameter_max", row->diameter_max_m, DIMENSION_LENGTH, "mm");
    write_in(writer, "proof", row->proof_Pa, DIMENSION_PRESSURE, "MPa");
    write_in(writer, "yield", row->yield_Pa, DIMENSION_PRESSURE, "MPa");
    write_in(writer, "tensile", row->tensile_Pa, DIMENSION_PRESSURE, "MPa");
    writer_text(writer, "source", row->source);
    writer_text(writer, "obtained", provenance_text(row->provenance));
    writer_text_if(writer, "note", row->note);
    writer_object_end(writer);
}

static void
bolt_row(struct writer *writer, size_t index)
{
    size_t rows = 0;
    const struct bolt_grade *table = bolt_grade_table(&rows);
    const size_t begin = grade_begin(table, rows, index);
    writer_text(writer, "id", table[begin].id);
    writer_list(writer, "sizes");
    for (size_t i = begin; i < rows && strcmp(table[i].id, table[begin].id) == 0; i++) {
        write_bolt_size(writer, &table[i]);
    }
    writer_list_end(writer);
}

/* ---- fit classes ---- */

static size_t
fit_count(void)
{
    size_t count = 0;
    (void)fit_class_table(&count);
    return count;
}

static const char *
fit_id(size_t index)
{
    size_t count = 0;
    return fit_class_table(&count)[index].id;
}

/* Plain numbers, or the table would be three times as long: the row names
 * their units. */
static void
write_fit_step(struct writer *writer, const struct fit_step *step, const struct unit *size,
               const struct unit *deviation)
{
    writer_object(writer, NULL);
    writer_number(writer, "over", unit_from_si(size, step->over_m));
    writer_number(writer, "to", unit_from_si(size, step->to_m));
    if (step->has_hole) {
        writer_number(writer, "hole_lower", unit_from_si(deviation, step->hole_lower_m));
        writer_number(writer, "hole_upper", unit_from_si(deviation, step->hole_upper_m));
    }
    if (step->has_shaft) {
        writer_number(writer, "shaft_lower", unit_from_si(deviation, step->shaft_lower_m));
        writer_number(writer, "shaft_upper", unit_from_si(deviation, step->shaft_upper_m));
    }
    writer_text_if(writer, "obtained", step->provenance);
    writer_object_end(writer);
}

const char *
catalogue_side_text(enum fit_side side)
{
    static const char *const text[] = {[FIT_SIDE_NONE] = "both", [FIT_SIDE_SHAFT] = "shaft", [FIT_SIDE_HOLE] = "hole"};
    return text[side];
}

static void
fit_row(struct writer *writer, size_t index)
{
    size_t count = 0;
    const struct fit_class *row = &fit_class_table(&count)[index];
    writer_text(writer, "id", row->id);
    writer_text(writer, "system", row->system);
    writer_text(writer, "side", catalogue_side_text(row->side));
    writer_text_if(writer, "description", row->description);
    writer_text_if(writer, "source", row->source);
    const struct unit *size = unit_of(DIMENSION_LENGTH, UNITS_METRIC);
    const struct unit *deviation = unit_of(DIMENSION_ROUGHNESS, UNITS_METRIC);
    writer_text(writer, "size_unit", size->symbol);
    writer_text(writer, "deviation_unit", deviation->symbol);
    writer_list(writer, "steps");
    struct fit_step step;
    for (size_t i = 0; fit_class_step(row, i, &step); i++) {
        write_fit_step(writer, &step, size, deviation);
    }
    writer_list_end(writer);
}

/* ---- units ---- */

static size_t
unit_count(void)
{
    size_t count = 0;
    (void)unit_table(&count);
    return count;
}

static const char *
unit_id(size_t index)
{
    size_t count = 0;
    return unit_table(&count)[index].symbol;
}

static void
unit_row(struct writer *writer, size_t index)
{
    size_t count = 0, aliases = 0;
    const struct unit *unit = &unit_table(&count)[index];
    const struct unit_alias *alias = unit_alias_table(&aliases);
    writer_text(writer, "id", unit->symbol);
    writer_text(writer, "dimension", dimension_name(unit->dimension));
    writer_exact(writer, "factor", unit->factor);
    writer_exact(writer, "offset", unit->offset);
    writer_text(writer, "ucum", unit->ucum);
    writer_text(writer, "source", unit->source);
    writer_list(writer, "spellings");
    for (size_t i = 0; i < aliases; i++) {
        if (strcmp(alias[i].symbol, unit->symbol) == 0) {
            writer_text(writer, NULL, alias[i].spelling);
        }
    }
    writer_list_end(writer);
}

/* ---- sources ---- */

static size_t
source_count(void)
{
    size_t count = 0;
    (void)source_table(&count);
    return count;
}

static const char *
source_id(size_t index)
{
    size_t count = 0;
    return source_table(&count)[index].key;
}

static void
source_row(struct writer *writer, size_t index)
{
    size_t count = 0;
    const struct source *source = &source_table(&count)[index];
    writer_text(writer, "id", source->key);
    writer_text(writer, "citation", source->citation);
    writer_text(writer, "obtained", provenance_text(source->provenance));
}

/* ---- checks ---- */

static const char *
check_id(size_t index)
{
    return check_row(index)->id;
}

static void
write_needs(struct writer *writer, const struct check *check)
{
    writer_list(writer, "needs_one_of_each"); /* not as an answer's "needs", where one whole list will do */
    for (size_t i = 0; i < check->needs_count; i++) {
        const struct need *need = &check->needs[i];
        writer_list(writer, NULL);
        for (size_t k = 0; k < sizeof need->any / sizeof need->any[0]; k++) {
            writer_text_if(writer, NULL, job_field_pointer(need->any[k]));
        }
        writer_list_end(writer);
    }
    writer_list_end(writer);
}

const char *
catalogue_sense_text(enum check_sense sense)
{
    switch (sense) {
    case SENSE_CEILING:
        return "at_most";
    case SENSE_FLOOR:
        return "at_least";
    case SENSE_WINDOW:
        return "between";
    case SENSE_WORD:
        break;
    }
    return "word";
}

static void
check_members(struct writer *writer, size_t index)
{
    const struct check *check = check_row(index);
    writer_text(writer, "id", check->id);
    writer_text(writer, "name", check->name);
    writer_text(writer, "section", section_text(check->section));
    writer_text(writer, "asks", check->asks);
    writer_list(writer, "reads");
    for (size_t i = 0; i < check->reads_count; i++) {
        writer_text(writer, NULL, job_field_pointer(check->reads[i]));
    }
    writer_list_end(writer);
    write_needs(writer, check);
    writer_text(writer, "basis", check->basis);
    writer_text(writer, "limit_rule", check->limit_rule);
    writer_text(writer, "sense", catalogue_sense_text(check->sense));
    writer_text(writer, "source", check->source);
    writer_text_if(writer, "override", job_field_pointer(check->override_field));
    if (check->sense != SENSE_WORD) {
        writer_object(writer, "units");
        writer_text(writer, "inch", unit_of(check->dimension, UNITS_INCH)->symbol);
        writer_text(writer, "metric", unit_of(check->dimension, UNITS_METRIC)->symbol);
        writer_object_end(writer);
    }
}

/* ---- problems ---- */

static size_t
problem_count(void)
{
    return PROBLEM_COUNT;
}

static const char *
problem_id(size_t index)
{
    return problem_row((enum problem)index)->name;
}

static void
problem_members(struct writer *writer, size_t index)
{
    const struct problem_row *row = problem_row((enum problem)index);
    char type[PROBLEM_TYPE_SIZE];
    problem_type((enum problem)index, type);
    writer_text(writer, "id", row->name);
    writer_text(writer, "type", type);
    writer_count(writer, "status", (size_t)row->status);
    writer_text(writer, "title", row->title);
    writer_text(writer, "meaning", row->meaning);
}

/* ---- the tables ---- */

static const struct catalogue catalogues[] = {
    {"steels", "steels", "steels for the pin", steel_count, steel_id, steel_row, steel_by_grade, steel_nearest},
    {"bearing-metals", "bearing_metals", "metals of bushings, of rod and of piston", metal_count, metal_id, metal_row,
     NULL, metal_nearest},
    {"bolts", "bolts", "strength grades of the clamp bolt", bolt_count, bolt_id, bolt_row, NULL, NULL},
    {"fit-classes", "fit_classes", "classes of ISO 286 and ANSI B4.1", fit_count, fit_id, fit_row, NULL, NULL},
    {"units", "units", "units that are read and written", unit_count, unit_id, unit_row, NULL, NULL},
    {"sources", "sources", "publications that figures and formulas rest on", source_count, source_id, source_row, NULL,
     NULL},
    {"checks", "checks", "every check: what it asks, reads and limits", check_count, check_id, check_members, NULL,
     NULL},
    {"problems", "problems", "every problem document and what to do about it", problem_count, problem_id,
     problem_members, NULL, NULL},
};

const struct catalogue *
catalogue_at(size_t index)
{
    return &catalogues[index];
}

size_t
catalogue_count(void)
{
    return sizeof catalogues / sizeof catalogues[0];
}
