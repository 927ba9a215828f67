#include "wire/material_write.h"

#include <string.h>

#define STEEL_FIGURE(member, unit, dimension, scale)                                                                   \
    {                                                                                                                  \
#member, offsetof(struct steel, member), unit, dimension, scale                                                \
    }
#define METAL_FIGURE(member, unit, dimension, scale)                                                                   \
    {                                                                                                                  \
#member, offsetof(struct metal, member), unit, dimension, scale                                                \
    }

static const struct material_figure steel_shown[] = {
    STEEL_FIGURE(tensile, "MPa", DIMENSION_PRESSURE, false),
    STEEL_FIGURE(yield, "MPa", DIMENSION_PRESSURE, false),
    STEEL_FIGURE(elongation, "1", DIMENSION_RATIO, true),
    STEEL_FIGURE(hardness_hb, "HB", DIMENSION_RATIO, true),
    STEEL_FIGURE(hardness_hrc, "HRC", DIMENSION_RATIO, true),
    STEEL_FIGURE(modulus, "GPa", DIMENSION_PRESSURE, false),
    STEEL_FIGURE(density, "kg/m3", DIMENSION_DENSITY, false),
    STEEL_FIGURE(expansion, "um/m/K", DIMENSION_EXPANSION, false),
    STEEL_FIGURE(machinability, "1", DIMENSION_RATIO, true),
};

static const struct material_figure metal_shown[] = {
    METAL_FIGURE(tensile, "MPa", DIMENSION_PRESSURE, false),
    METAL_FIGURE(yield, "MPa", DIMENSION_PRESSURE, false),
    METAL_FIGURE(elongation, "1", DIMENSION_RATIO, true),
    METAL_FIGURE(hardness_hb, "HB", DIMENSION_RATIO, true),
    METAL_FIGURE(modulus, "GPa", DIMENSION_PRESSURE, false),
    METAL_FIGURE(poisson, "1", DIMENSION_RATIO, true),
    METAL_FIGURE(density, "kg/m3", DIMENSION_DENSITY, false),
    METAL_FIGURE(expansion, "um/m/K", DIMENSION_EXPANSION, false),
    METAL_FIGURE(pressure_max, "MPa", DIMENSION_PRESSURE, false),
    METAL_FIGURE(velocity_max, "m/s", DIMENSION_VELOCITY, false),
    METAL_FIGURE(pv_max, "MPa.m/s", DIMENSION_PV, false),
    METAL_FIGURE(temperature_max, "degC", DIMENSION_TEMPERATURE, false),
    METAL_FIGURE(shaft_hardness_min, "HB", DIMENSION_RATIO, true),
};

const struct material_figure *
material_steel_figures(size_t *count)
{
    *count = sizeof steel_shown / sizeof steel_shown[0];
    return steel_shown;
}

const struct material_figure *
material_metal_figures(size_t *count)
{
    *count = sizeof metal_shown / sizeof metal_shown[0];
    return metal_shown;
}

static const struct figure *
figure_at(const void *row, const struct material_figure *shown)
{
    return (const struct figure *)(const void *)((const char *)row + shown->offset);
}

static double
in_unit(const struct material_figure *shown, double si)
{
    const struct unit *unit = shown->scale ? NULL : unit_find(shown->unit, strlen(shown->unit), shown->dimension);
    return unit != NULL ? unit_from_si(unit, si) : si;
}

static void
write_figure(struct writer *writer, const struct material_figure *shown, const struct figure *figure)
{
    writer_object(writer, shown->name);
    writer_number(writer, "value", in_unit(shown, figure->si));
    if (figure->si_high > figure->si) {
        writer_number(writer, "value_high", in_unit(shown, figure->si_high));
    }
    writer_text(writer, "unit", shown->unit);
    writer_text_if(writer, "source", figure->source);
    writer_text(writer, "obtained", provenance_text(figure->provenance));
    writer_text_if(writer, "note", figure->note);
    writer_object_end(writer);
}

static void
write_figures(struct writer *writer, const void *row, const struct material_figure *shown, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct figure *figure = figure_at(row, &shown[i]);
        if (figure->given) {
            write_figure(writer, &shown[i], figure);
        }
    }
}

const char *
material_slot_text(enum slot_suitability slot)
{
    switch (slot) {
    case SLOT_SUITS:
        return "suits";
    case SLOT_WITH_CARE:
        return "with_care";
    case SLOT_UNSUITABLE:
        break;
    }
    return "unsuitable";
}

/* What thicker bar of this steel has; left out where thickness does not matter. */
static void
write_sections(struct writer *writer, const struct steel *steel)
{
    size_t count;
    const struct steel_section *row = steel_sections(steel, &count);

    if (count == 0) {
        return;
    }
    writer_list(writer, "thicker_bar");
    for (size_t i = 0; i < count; i++) {
        writer_object(writer, NULL);
        writer_value(writer, "diameter_over", unit_from_si(unit_find("mm", 2, DIMENSION_LENGTH), row[i].over_m), "mm");
        writer_value(writer, "tensile", unit_from_si(unit_find("MPa", 3, DIMENSION_PRESSURE), row[i].tensile_Pa),
                     "MPa");
        writer_value(writer, "yield", unit_from_si(unit_find("MPa", 3, DIMENSION_PRESSURE), row[i].yield_Pa), "MPa");
        writer_text(writer, "source", row[i].source);
        writer_object_end(writer);
    }
    writer_list_end(writer);
}

void
material_write_steel(struct writer *writer, const struct steel *steel)
{
    writer_text(writer, "id", steel->id);
    writer_text(writer, "grade", steel->grade);
    writer_text(writer, "condition", steel->condition);
    writer_text_if(writer, "uns", steel->uns);
    writer_flag(writer, "usual", steel->usual);
    writer_flag(writer, "case_hardened", steel->case_hardened);
    writer_text(writer, "basis", strength_basis_text(steel->basis));
    writer_text_if(writer, "basis_text", steel->basis_text);
    write_figures(writer, steel, steel_shown, sizeof steel_shown / sizeof steel_shown[0]);
    write_sections(writer, steel);
    writer_text(writer, "slot", material_slot_text(steel->slot));
    writer_text_if(writer, "hardening", steel->hardening);
    writer_text_if(writer, "welding", steel->welding);
    writer_text_if(writer, "bronze_wear", steel->bronze_wear);
    writer_text_if(writer, "note", steel->note);
    writer_text_if(writer, "pin_note", steel->pin_note);
    writer_text_if(writer, "designation", steel->designation);
    writer_text_if(writer, "near_equivalent", steel->near_equivalent);
    writer_text_if(writer, "bar_sizes", steel->bar_sizes);
    writer_text_if(writer, "other_values", steel->other_values);
}

void
material_write_metal(struct writer *writer, const struct metal *metal)
{
    writer_text(writer, "id", metal->id);
    writer_text(writer, "name", metal->name);
    writer_text_if(writer, "form", metal->form);
    writer_text(writer, "kind", metal_kind_text(metal->kind));
    writer_flag(writer, "bearing", metal->bearing);
    write_figures(writer, metal, metal_shown, sizeof metal_shown / sizeof metal_shown[0]);
    writer_text_if(writer, "designation", metal->designation);
    writer_text_if(writer, "near_equivalent", metal->near_equivalent);
    writer_text_if(writer, "note", metal->note);
}

/* ---- the steel chosen in an answer ---- */

static void
write_strength(struct writer *writer, const char *key, const struct figure *figure, enum unit_system system)
{
    if (figure->given) {
        writer_quantity(writer, key, figure->si, DIMENSION_PRESSURE, system);
    }
}

static void
write_hardness(struct writer *writer, const char *key, const struct figure *figure, const char *scale)
{
    if (figure->given) {
        writer_value(writer, key, figure->si, scale);
    }
}

/* Keys of the sources that the row's figures rest on, each once. */
static void
write_sources(struct writer *writer, const struct steel *steel)
{
    enum { COUNT = sizeof steel_shown / sizeof steel_shown[0] };
    writer_list(writer, "sources");
    for (size_t i = 0; i < COUNT; i++) {
        const struct figure *figure = figure_at(steel, &steel_shown[i]);
        bool fresh = figure->given && figure->source[0] != '\0';
        for (size_t k = 0; k < i && fresh; k++) {
            const struct figure *earlier = figure_at(steel, &steel_shown[k]);
            fresh = !earlier->given || strcmp(earlier->source, figure->source) != 0;
        }
        if (fresh) {
            writer_text(writer, NULL, figure->source);
        }
    }
    writer_list_end(writer);
}

void
material_write_chosen(struct writer *writer, const struct job *job, const struct steel *steel)
{
    const bool own = steel == &job->pin.steel.own;
    writer_object(writer, "chosen");
    writer_text(writer, "id", steel->id);
    writer_text(writer, "grade", steel->grade);
    writer_text(writer, "condition", steel->condition);
    writer_text_if(writer, "uns", steel->uns);
    write_strength(writer, "tensile", &steel->tensile, job->units);
    write_strength(writer, "yield", &steel->yield, job->units);
    write_hardness(writer, "hardness_hb", &steel->hardness_hb, "HB");
    write_hardness(writer, "hardness_hrc", &steel->hardness_hrc, "HRC");
    writer_flag(writer, "case_hardened", steel->case_hardened);
    writer_text(writer, "basis", strength_basis_text(steel->basis));
    writer_text_if(writer, "basis_text", own ? job->pin.steel.basis : steel->basis_text);
    writer_text(writer, "slot", material_slot_text(steel->slot));
    writer_text_if(writer, "note", steel->note);
    writer_text_if(writer, "designation", steel->designation);
    write_sources(writer, steel);
    writer_object_end(writer);
}
