#include "wire/schema_table.h"

#include <string.h>

#include "wire/catalogue_write.h"
#include "wire/material_write.h"
#include "wire/problem.h"
#include "wire/schema_quantity.h"

/* Most members of a row, figures not counted. */
enum { PART_COUNT_MAX = 24 };

/* The members of each row beside the figures of steels and metals, as
 * catalogue_rows.c and material_write.c write them; the contract tests hold
 * every row of every table against them. */

static const struct part steel_part[] = {
    {"id", PART_ID, true, 0, "steels", "what a job calls it"},
    {"grade", PART_TEXT, true, 0, NULL, "generic grade"},
    {"condition", PART_TEXT, true, 0, NULL, "how it is supplied or treated"},
    {"uns", PART_TEXT, false, 0, NULL, "number of the unified numbering system"},
    {"usual", PART_FLAG, true, 0, NULL, "the condition meant where a job names the grade alone"},
    {"case_hardened", PART_FLAG, true, 0, NULL, "the strengths are then those of the core"},
    {"basis", PART_REF, true, 0, "StrengthBasis", NULL},
    {"basis_text", PART_TEXT, false, 0, NULL, "the same as its source words it"},
    {"thicker_bar", PART_SOME, false, 0, "SteelSection",
     "strengths of thicker bar, each up to the next; a pin is designed on those of its own diameter"},
    {"slot", PART_REF, true, 0, "SlotSuitability", NULL},
    {"hardening", PART_TEXT, false, 0, NULL, "how it may be hardened"},
    {"welding", PART_TEXT, false, 0, NULL, "whether it may be welded"},
    {"bronze_wear", PART_TEXT, false, 0, NULL, "how it wears against bronze"},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
    {"pin_note", PART_TEXT, false, 0, NULL, "what to mind in a wrist pin"},
    {"designation", PART_TEXT, false, 0, NULL, "what to write on the order"},
    {"near_equivalent", PART_TEXT, false, 0, NULL, "near equivalents of other standards"},
    {"bar_sizes", PART_TEXT, false, 0, NULL, "sizes in which bar is sold"},
    {"other_values", PART_TEXT, false, 0, NULL, "other published values"},
};

static const struct part metal_part[] = {
    {"id", PART_ID, true, 0, "bearing-metals", "what a job calls it"},
    {"name", PART_TEXT, true, 0, NULL, "its name in the trade"},
    {"form", PART_TEXT, false, 0, NULL, "how it is supplied"},
    {"kind", PART_REF, true, 0, "MetalKind", NULL},
    {"bearing", PART_FLAG, true, 0, NULL, "whether it makes a bushing"},
    {"designation", PART_TEXT, false, 0, NULL, "what to write on the order"},
    {"near_equivalent", PART_TEXT, false, 0, NULL, "near equivalents of other standards"},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
};

static const struct part bolt_part[] = {
    {"id", PART_ID, true, 0, "bolts", "what a job calls it"},
    {"sizes", PART_SOME, true, 0, "BoltSize", "its strengths, which depend on the diameter"},
};

static const struct part bolt_size_part[] = {
    {"diameter_max", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "the strengths hold up to this diameter"},
    {"proof", PART_QUANTITY, true, DIMENSION_PRESSURE, NULL, "proof strength"},
    {"yield", PART_QUANTITY, true, DIMENSION_PRESSURE, NULL, "yield strength"},
    {"tensile", PART_QUANTITY, true, DIMENSION_PRESSURE, NULL, "tensile strength"},
    {"source", PART_KEY, true, 0, NULL, "key of GET /v1/sources"},
    {"obtained", PART_REF, true, 0, "Provenance", NULL},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
};

static const struct part steel_section_part[] = {
    {"diameter_over", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "the strengths hold beyond this diameter"},
    {"tensile", PART_QUANTITY, true, DIMENSION_PRESSURE, NULL, "tensile strength"},
    {"yield", PART_QUANTITY, true, DIMENSION_PRESSURE, NULL, "yield strength"},
    {"source", PART_KEY, true, 0, NULL, "key of GET /v1/sources"},
};

static const struct part fit_class_part[] = {
    {"id", PART_ID, true, 0, "fit-classes", "the class as a job names it"},
    {"system", PART_TEXT, true, 0, NULL, "ISO 286 or ANSI B4.1"},
    {"side", PART_REF, true, 0, "FitSide", NULL},
    {"description", PART_TEXT, false, 0, NULL, "what it is for"},
    {"source", PART_KEY, false, 0, NULL, "key of GET /v1/sources"},
    {"size_unit", PART_TEXT, true, 0, NULL, "unit of over and to"},
    {"deviation_unit", PART_TEXT, true, 0, NULL, "unit of the deviations"},
    {"steps", PART_SOME, true, 0, "FitStep", "its deviations by steps of size"},
};

static const struct part fit_step_part[] = {
    {"over", PART_MAGNITUDE, true, 0, NULL, "sizes above this"},
    {"to", PART_MAGNITUDE, true, 0, NULL, "up to and with this"},
    {"hole_lower", PART_NUMBER, false, 0, NULL, "lower deviation of the hole"},
    {"hole_upper", PART_NUMBER, false, 0, NULL, "upper deviation of the hole"},
    {"shaft_lower", PART_NUMBER, false, 0, NULL, "lower deviation of the shaft"},
    {"shaft_upper", PART_NUMBER, false, 0, NULL, "upper deviation of the shaft"},
    {"obtained", PART_REF, false, 0, "Provenance", "how the figures were obtained"},
};

static const struct part unit_part[] = {
    {"id", PART_ID, true, 0, "units", "as it is written in answers"},
    {"dimension", PART_TEXT, true, 0, NULL, "what it measures"},
    {"factor", PART_MAGNITUDE, true, 0, NULL, "value in SI = given value x factor + offset"},
    {"offset", PART_NUMBER, true, 0, NULL, "of temperatures, else 0"},
    {"ucum", PART_TEXT, true, 0, NULL, "code of the Unified Code for Units of Measure"},
    {"source", PART_TEXT, true, 0, NULL, "where the factor comes from"},
    {"spellings", PART_TEXTS, true, 0, NULL, "other spellings that are read"},
};

static const struct part source_part[] = {
    {"id", PART_KEY, true, 0, NULL, "the key that figures name"},
    {"citation", PART_TEXT, true, 0, NULL, "the publication"},
    {"obtained", PART_REF, true, 0, "Provenance", NULL},
};

static const struct part check_part[] = {
    {"id", PART_REF, true, 0, "CheckId", NULL},
    {"name", PART_TEXT, true, 0, NULL, "in words"},
    {"section", PART_REF, true, 0, "SectionId", NULL},
    {"asks", PART_TEXT, true, 0, NULL, "the question it answers"},
    {"reads", PART_PATHS, true, 0, NULL, "members of the job that it may rest on"},
    {"needs_one_of_each", PART_OTHER, true, 0, NULL, NULL},
    {"basis", PART_TEXT, true, 0, NULL, "the formula in words"},
    {"limit_rule", PART_TEXT, true, 0, NULL, "limit and advised figure in words, and what they rest on"},
    {"sense", PART_REF, true, 0, "CheckSense", NULL},
    {"source", PART_TEXT, true, 0, NULL, "publication and table"},
    {"override", PART_PATH, false, 0, NULL, "the member of limits that sets a limit of your own"},
};

static const struct part unit_pair_part[] = {
    {"inch", PART_TEXT, true, 0, NULL, "unit in an answer in inches"},
    {"metric", PART_TEXT, true, 0, NULL, "unit in a metric answer"},
};

static const struct part problem_part[] = {
    {"id", PART_ID, true, 0, "problems", "name of the problem"},
    {"type", PART_TEXT, true, 0, NULL, "the type of its document, which is its address as well"},
    {"status", PART_COUNT, true, 0, NULL, "status of HTTP"},
    {"title", PART_TEXT, true, 0, NULL, "in a few words"},
    {"meaning", PART_TEXT, true, 0, NULL, "what it means and what to do"},
};

static const struct part figure_part[] = {
    {"value", PART_MAGNITUDE, true, 0, NULL, "the figure, or the low end of its range"},
    {"value_high", PART_MAGNITUDE, false, 0, NULL, "the high end, where the source gives a range"},
    {"unit", PART_OTHER, true, 0, NULL, NULL},
    {"source", PART_KEY, false, 0, NULL, "key of GET /v1/sources"},
    {"obtained", PART_REF, true, 0, "Provenance", NULL},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
};

/* ---- words ---- */

static const char *
provenance_at(size_t index)
{
    return provenance_text((enum provenance)index);
}

static const char *
metal_kind_at(size_t index)
{
    return metal_kind_text((enum metal_kind)index);
}

static const char *
side_at(size_t index)
{
    return catalogue_side_text((enum fit_side)index);
}

static const char *
sense_at(size_t index)
{
    return catalogue_sense_text((enum check_sense)index);
}

static void
write_words(struct writer *writer)
{
    schema_enum(writer, "Provenance",
                "how a figure was obtained: read from the source, from memory of it, derived from others, or a "
                "judgement of ours",
                provenance_at, PROVENANCE_JUDGEMENT + 1);
    schema_enum(writer, "MetalKind", "kind of metal", metal_kind_at, METAL_BRASS + 1);
    schema_enum(writer, "FitSide", "whether a class is for shafts, for holes, or names both", side_at,
                FIT_SIDE_HOLE + 1);
    schema_enum(writer, "CheckSense", "how the value is held against the limit; word: judged by a word of a table",
                sense_at, SENSE_WORD + 1);
}

/* ---- figures ---- */

/* The tables keep each figure in one unit, whatever the reader's: a schema for each says which. */
static const struct {
    const char *unit, *name;
} figures[] = {
    {"1", "RatioFigure"},      {"MPa", "PressureFigure"},     {"GPa", "ModulusFigure"},      {"HB", "BrinellFigure"},
    {"HRC", "RockwellFigure"}, {"kg/m3", "DensityFigure"},    {"um/m/K", "ExpansionFigure"}, {"m/s", "VelocityFigure"},
    {"MPa.m/s", "PvFigure"},   {"degC", "TemperatureFigure"},
};

enum { FIGURE_COUNT = sizeof figures / sizeof figures[0] };

static void
write_figure(struct writer *writer, const char *unit, const char *name)
{
    struct words words;
    words_init(&words);
    words_sentence(&words, "a figure of a table, and where it comes from");
    if (strcmp(unit, "1") != 0) {
        text_format(&words.text, " In %s.", unit);
    }
    schema_object_begin(writer, name, words.at, PARTS(figure_part));
    schema_begin(writer, "unit", "string", "its unit, or the scale of a hardness; of a number without one \"1\"");
    writer_text(writer, "const", unit);
    writer_object_end(writer);
    schema_object_end(writer);
}

static void
write_figures(struct writer *writer, const struct material_figure *figure, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t at = 0;
        while (at < FIGURE_COUNT && strcmp(figures[at].unit, figure[i].unit) != 0) {
            at++;
        }
        if (at == FIGURE_COUNT) {
            writer->defect = true; /* a unit that has no schema: nothing is published */
            return;
        }
        schema_refer(writer, figure[i].name, figures[at].name, NULL);
    }
}

/* ---- rows ---- */

static void
write_steel_figures(struct writer *writer)
{
    size_t count = 0;
    const struct material_figure *figure = material_steel_figures(&count);
    write_figures(writer, figure, count);
}

static void
write_metal_figures(struct writer *writer)
{
    size_t count = 0;
    const struct material_figure *figure = material_metal_figures(&count);
    write_figures(writer, figure, count);
}

static void
write_check_more(struct writer *writer)
{
    schema_begin(writer, "needs_one_of_each", "array",
                 "lists of members: of each list at least one must be given or assumed");
    schema_refer(writer, "items", "Pointers", NULL);
    writer_object_end(writer);
    schema_object(writer, "units", "of value, advised and limit", PARTS(unit_pair_part));
}

static const struct row {
    const char *table;
    const char *phrase;
    const struct part *part;
    size_t count;
    void (*more)(struct writer *writer); /* members beside the parts; NULL = none */
} rows[] = {
    {"steels", "a steel for the pin; each figure keeps its source", PARTS(steel_part), write_steel_figures},
    {"bearing-metals", "a metal of bushings, of the rod or of the piston", PARTS(metal_part), write_metal_figures},
    {"bolts", "a strength grade of the clamp bolt", PARTS(bolt_part), NULL},
    {"fit-classes", "a class of fits", PARTS(fit_class_part), NULL},
    {"units", "a unit that is read and written", PARTS(unit_part), NULL},
    {"sources", "a publication", PARTS(source_part), NULL},
    {"checks", "a check that the service makes", PARTS(check_part), write_check_more},
    {"problems", "a kind of problem document", PARTS(problem_part), NULL},
};

/* The object of a row; as a document of its own it has the cautions too. */
static void
write_row(struct writer *writer, const struct row *row, bool document)
{
    struct part part[PART_COUNT_MAX + 1];
    char name[SCHEMA_NAME_SIZE];
    memcpy(part, row->part, row->count * sizeof part[0]);
    part[row->count] = (struct part){"cautions", PART_REF, true, 0, "Cautions", "read them"};
    schema_row_name(name, row->table, document ? "Document" : "");
    schema_object_begin(writer, name, row->phrase, part, document ? row->count + 1 : row->count);
    if (row->more != NULL) {
        row->more(writer);
    }
    schema_object_end(writer);
}

static void
write_rows(struct writer *writer)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        write_row(writer, &rows[i], false);
        write_row(writer, &rows[i], true);
    }
    for (size_t i = 0; i < FIGURE_COUNT; i++) {
        write_figure(writer, figures[i].unit, figures[i].name);
    }
    schema_object(writer, "BoltSize", "the strengths of a grade over a range of diameters", PARTS(bolt_size_part));
    schema_object(writer, "SteelSection", "the strengths of bar thicker than a size", PARTS(steel_section_part));
    schema_object(writer, "FitStep", "the deviations for a range of sizes", PARTS(fit_step_part));
}

/* ---- tables ---- */

void
schema_row_name(char name[SCHEMA_NAME_SIZE], const char *table, const char *suffix)
{
    char stem[SCHEMA_NAME_SIZE];
    struct text text;
    const size_t length = strlen(table);
    const bool classes = length > 3 && strcmp(table + length - 3, "ses") == 0; /* "classes" ends in two letters more */
    text_init(&text, stem, sizeof stem);
    text_add_bytes(&text, table, length - (classes ? 2 : 1));
    /* "Check" and "Problem" are what an answer holds. */
    const bool taken = strcmp(stem, "check") == 0 || strcmp(stem, "problem") == 0;
    schema_camel(name, "", stem, taken && suffix[0] == '\0' ? "Row" : suffix);
}

static void
write_table(struct writer *writer, const struct catalogue *catalogue)
{
    char row[SCHEMA_NAME_SIZE], name[SCHEMA_NAME_SIZE];
    schema_row_name(row, catalogue->name, "");
    schema_row_name(name, catalogue->name, "Table");
    const struct part part[] = {
        {catalogue->member, PART_SOME, true, 0, row, "its rows"},
        {"cautions", PART_REF, true, 0, "Cautions", "read them"},
    };
    schema_object(writer, name, catalogue->summary, PARTS(part));
}

void
schema_table(struct writer *writer)
{
    for (size_t i = 0; i < catalogue_count(); i++) {
        write_table(writer, catalogue_at(i));
    }
    write_rows(writer);
    write_words(writer);
}
