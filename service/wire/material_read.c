#include "wire/material_read.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "wire/nearest.h"
#include "wire/own_material.h"

#define STEEL_FIGURE(member) offsetof(struct steel, member)
#define METAL_FIGURE(member) offsetof(struct metal, member)

/* Ranges refuse what is no steel: a slip of the unit, mostly. */
static const struct own_member steel_member[] = {
    {"tensile", OWN_FIGURE, true, DIMENSION_PRESSURE, 1.0e8, 4.0e9, STEEL_FIGURE(tensile), "tensile strength"},
    {"yield", OWN_FIGURE, true, DIMENSION_PRESSURE, 5.0e7, 4.0e9, STEEL_FIGURE(yield), "yield or proof strength"},
    {"hardness", OWN_NUMBER, false, DIMENSION_RATIO, 10.0, 800.0, 0, "hardness, on hardness_scale"},
    {"hardness_scale", OWN_SCALE, false, DIMENSION_RATIO, 0.0, 0.0, 0,
     "scale of the hardness; absent: HRC up to 70, else HB"},
    {"basis", OWN_BASIS, true, DIMENSION_RATIO, 0.0, 0.0, 0, "where the figures come from: certificate and heat"},
};

static const struct own_member metal_member[] = {
    {"yield", OWN_FIGURE, true, DIMENSION_PRESSURE, 5.0e6, 3.0e9, METAL_FIGURE(yield), "yield or crush strength"},
    {"tensile", OWN_FIGURE, false, DIMENSION_PRESSURE, 5.0e6, 3.0e9, METAL_FIGURE(tensile), "tensile strength"},
    {"hardness", OWN_FIGURE, false, DIMENSION_RATIO, 5.0, 700.0, METAL_FIGURE(hardness_hb), "Brinell hardness"},
    {"modulus", OWN_FIGURE, false, DIMENSION_PRESSURE, 1.0e9, 5.0e11, METAL_FIGURE(modulus), "modulus of elasticity"},
    {"poisson", OWN_FIGURE, false, DIMENSION_RATIO, 0.1, 0.49, METAL_FIGURE(poisson), "Poisson's ratio"},
    {"expansion", OWN_FIGURE, false, DIMENSION_EXPANSION, 1.0e-6, 5.0e-5, METAL_FIGURE(expansion),
     "linear expansion per degree"},
    {"pressure_max", OWN_FIGURE, false, DIMENSION_PRESSURE, 1.0e5, 5.0e8, METAL_FIGURE(pressure_max),
     "greatest bearing pressure"},
    {"pv_max", OWN_FIGURE, false, DIMENSION_PV, 1.0e3, 1.0e8, METAL_FIGURE(pv_max),
     "greatest pressure times rubbing speed"},
    {"shaft_hardness_min", OWN_FIGURE, false, DIMENSION_RATIO, 50.0, 800.0, METAL_FIGURE(shaft_hardness_min),
     "least Brinell hardness of the pin that runs on it"},
    {"kind", OWN_KIND, false, DIMENSION_RATIO, 0.0, 0.0, 0, "kind of metal; absent: bronze"},
    {"basis", OWN_BASIS, true, DIMENSION_RATIO, 0.0, 0.0, 0, "where the figures come from"},
};

enum { STEEL_MEMBERS = sizeof steel_member / sizeof steel_member[0] };
enum { METAL_MEMBERS = sizeof metal_member / sizeof metal_member[0] };

const struct own_member *
own_steel_members(size_t *count)
{
    *count = STEEL_MEMBERS;
    return steel_member;
}

const struct own_member *
own_metal_members(size_t *count)
{
    *count = METAL_MEMBERS;
    return metal_member;
}

/* What the members said, before it is put into a steel or a metal. */
struct own_values {
    bool has_hardness;
    double hardness;
    int scale; /* enum choice_hardness_scale, -1 = not given */
    enum metal_kind kind;
    char basis[MATERIAL_BASIS_SIZE];
};

static bool
read_kind(struct reader *reader, const char *pointer, const json_t *value, enum metal_kind *kind)
{
    if (!json_is_string(value)) {
        reader_wrong_type(reader, pointer, value, "a text: the kind of metal");
        return false;
    }
    char words[FAULT_TEXT_SIZE];
    struct text expected;
    text_init(&expected, words, sizeof words);
    struct nearest nearest;
    nearest_init(&nearest, json_string_value(value));
    for (int i = METAL_BRONZE; i <= METAL_BRASS; i++) {
        const char *word = metal_kind_text((enum metal_kind)i);
        if (text_same_ignoring_case(json_string_value(value), word)) {
            *kind = (enum metal_kind)i;
            return true;
        }
        nearest_offer(&nearest, word);
        reader_add_word(&expected, word);
    }
    struct fault *fault =
        reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, value, "Not one of the kinds of metal known here.");
    if (fault != NULL) {
        text_copy(fault->expected, sizeof fault->expected, words);
        text_copy(fault->nearest, sizeof fault->nearest, nearest.best != NULL ? nearest.best : "");
    }
    return false;
}

/* Read one member, figures into `row` (struct steel or struct metal). */
static bool
read_own_member(struct reader *reader, const char *pointer, const json_t *value, const struct own_member *member,
                char *row, struct own_values *values)
{
    const struct quantity_kind kind = {member->dimension, member->minimum, member->maximum};
    double si = 0.0;
    switch (member->kind) {
    case OWN_FIGURE:
        if (!reader_quantity(reader, pointer, value, &kind, &si)) {
            return false;
        }
        const struct figure figure = own_figure(si);
        memcpy(row + member->offset, &figure, sizeof figure);
        return true;
    case OWN_NUMBER:
        values->has_hardness = reader_quantity(reader, pointer, value, &kind, &values->hardness);
        return values->has_hardness;
    case OWN_SCALE:
        return reader_choice(reader, pointer, value, CHOICE_SET_hardness_scale, &values->scale);
    case OWN_KIND:
        return read_kind(reader, pointer, value, &values->kind);
    case OWN_BASIS:
        return reader_text(reader, pointer, value, 0, values->basis, sizeof values->basis);
    }
    return false;
}

/* Read the members of an object; unknown and missing ones are refused. */
static bool
read_own(struct reader *reader, const char *pointer, json_t *object, const struct own_member *member, size_t count,
         char *row, struct own_values *values)
{
    const char *names[METAL_MEMBERS];
    _Static_assert((int)STEEL_MEMBERS <= (int)METAL_MEMBERS, "names holds the members of either");
    bool good = true;
    for (size_t i = 0; i < count; i++) {
        names[i] = member[i].name;
        const json_t *value = reader_member(object, member[i].name);
        struct place place;
        place_member(&place, pointer, member[i].name);
        if (value != NULL) {
            good = read_own_member(reader, place.pointer, value, &member[i], row, values) && good;
        } else if (member[i].needed) {
            reader_missing(reader, pointer, member[i].name, "Figures of your own need this member.");
            good = false;
        }
    }
    const size_t before = reader->faults->count + reader->faults->dropped;
    reader_refuse_others(reader, pointer, object, names, count);
    return good && reader->faults->count + reader->faults->dropped == before;
}

/* A yield strength above the tensile strength names both. */
static bool
strengths_agree(struct reader *reader, const char *pointer, const struct figure *tensile, const struct figure *yield)
{
    if (!tensile->given || !yield->given || yield->si < tensile->si) {
        return true;
    }
    const struct unit *unit = unit_of(DIMENSION_PRESSURE, reader->job->units);
    fault_add(reader->faults, FAULT_CONTRADICTION, pointer, "yield (%.7g %s) must be below tensile (%.7g %s).",
              unit_from_si(unit, yield->si), unit->symbol, unit_from_si(unit, tensile->si), unit->symbol);
    return false;
}

/* The hardness on the scale it was given on; Rockwell C ends at 70. */
static bool
put_hardness(struct reader *reader, const char *pointer, const struct own_values *values, struct steel *steel)
{
    if (!values->has_hardness) {
        return true;
    }
    const bool rockwell = values->scale >= 0 ? values->scale == CHOICE_hardness_scale_HRC : values->hardness <= 70.0;
    if (rockwell && values->hardness > 70.0) {
        struct place place;
        place_member(&place, pointer, "hardness");
        reader_fault(reader, FAULT_OUT_OF_RANGE, place.pointer, NULL, "Rockwell C ends at 70: is it Brinell (HB)?");
        return false;
    }
    *(rockwell ? &steel->hardness_hrc : &steel->hardness_hb) = own_figure(values->hardness);
    return true;
}

static bool
read_own_steel(struct reader *reader, const char *pointer, json_t *object, struct steel_choice *choice)
{
    struct steel_choice read;
    memset(&read, 0, sizeof read);
    struct own_values values = {.scale = -1};
    own_steel_init(&read.own);
    const bool members = read_own(reader, pointer, object, steel_member, STEEL_MEMBERS, (char *)&read.own, &values);
    const bool strengths = strengths_agree(reader, pointer, &read.own.tensile, &read.own.yield);
    const bool hardness = put_hardness(reader, pointer, &values, &read.own);
    if (!members || !strengths || !hardness) {
        return false;
    }
    own_steel_judge_slot(&read.own);
    memcpy(read.basis, values.basis, sizeof read.basis);
    *choice = read;
    return true;
}

/* The kind decides what stands in for figures not given, so it is read first. */
static enum metal_kind
kind_of(const json_t *object)
{
    const char *word = json_string_value(reader_member(object, "kind"));
    for (int i = METAL_BRONZE; word != NULL && i <= METAL_BRASS; i++) {
        if (text_same_ignoring_case(word, metal_kind_text((enum metal_kind)i))) {
            return (enum metal_kind)i;
        }
    }
    return METAL_BRONZE;
}

static bool
read_own_metal(struct reader *reader, const char *pointer, json_t *object, struct metal_choice *choice)
{
    struct metal_choice read;
    memset(&read, 0, sizeof read);
    struct own_values values = {.scale = -1};
    own_metal_init(&read.own, kind_of(object));
    const bool members = read_own(reader, pointer, object, metal_member, METAL_MEMBERS, (char *)&read.own, &values);
    const bool strengths = strengths_agree(reader, pointer, &read.own.tensile, &read.own.yield);
    if (!members || !strengths) {
        return false;
    }
    memcpy(read.basis, values.basis, sizeof read.basis);
    *choice = read;
    return true;
}

void
material_read_refuse_id(struct reader *reader, const char *pointer, const json_t *value, const char *table,
                        const char *nearest)
{
    struct fault *fault = reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, value, "The tables do not have this id.");
    if (fault != NULL) {
        snprintf(fault->expected, sizeof fault->expected, "an id of GET /v1/%s", table);
        text_copy(fault->nearest, sizeof fault->nearest, nearest != NULL ? nearest : "");
    }
}

bool
material_read_steel(struct reader *reader, const char *pointer, json_t *value, struct steel_choice *choice)
{
    if (json_is_object(value)) {
        return read_own_steel(reader, pointer, value, choice);
    }
    if (!json_is_string(value)) {
        reader_wrong_type(reader, pointer, value, "the id of a steel, or an object with tensile, yield and basis");
        return false;
    }
    bool by_grade = false;
    const struct steel *row = steel_find(json_string_value(value), &by_grade);
    if (row == NULL) {
        material_read_refuse_id(reader, pointer, value, "steels", steel_nearest(json_string_value(value)));
        return false;
    }
    memset(choice, 0, sizeof *choice);
    choice->row = row;
    choice->by_grade = by_grade;
    return true;
}

bool
material_read_metal(struct reader *reader, const char *pointer, json_t *value, struct metal_choice *choice)
{
    if (json_is_object(value)) {
        return read_own_metal(reader, pointer, value, choice);
    }
    if (!json_is_string(value)) {
        reader_wrong_type(reader, pointer, value, "the id of a metal, or an object with yield and basis");
        return false;
    }
    const struct metal *row = metal_find(json_string_value(value));
    if (row == NULL) {
        material_read_refuse_id(reader, pointer, value, "bearing-metals", metal_nearest(json_string_value(value)));
        return false;
    }
    memset(choice, 0, sizeof *choice);
    choice->row = row;
    return true;
}
