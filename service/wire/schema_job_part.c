#include "wire/schema_job_part.h"

#include "joint/job.h"
#include "wire/list_read.h"
#include "wire/material_read.h"
#include "wire/schema_quantity.h"

/* ---- quantities ---- */

/* A number or a text, for what the tables have no dimension of. */
static void
write_number_or_text(struct writer *writer, const char *name, const char *phrase, const char *example,
                     size_t text_length)
{
    writer_object(writer, name);
    schema_describe(writer, phrase);
    schema_types(writer, "number", "string");
    writer_count(writer, "minLength", 1);
    writer_count(writer, "maxLength", text_length);
    writer_list(writer, "examples");
    writer_text(writer, NULL, example);
    writer_list_end(writer);
    writer_object_end(writer);
}

/* ---- limits ---- */

const char *
schema_limits_name(enum fit_side side)
{
    switch (side) {
    case FIT_SIDE_SHAFT:
        return "ShaftLimits";
    case FIT_SIDE_HOLE:
        return "HoleLimits";
    case FIT_SIDE_NONE:
        break;
    }
    return "PlainLimits";
}

/* A closed object whose members must all be there. */
static void
begin_closed(struct writer *writer, const char *key, const char *phrase, const char *const *names, size_t count)
{
    schema_begin(writer, key, "object", phrase);
    writer_flag(writer, "additionalProperties", false);
    writer_list(writer, "required");
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, names[i]);
    }
    writer_list_end(writer);
    writer_object(writer, "properties");
}

static void
end_closed(struct writer *writer)
{
    writer_object_end(writer);
    writer_object_end(writer);
}

static void
write_class_member(struct writer *writer, enum fit_side side)
{
    size_t count = 0;
    const struct fit_class *row = fit_class_table(&count);
    schema_begin(writer, "class", "string",
                 side == FIT_SIDE_SHAFT
                     ? "class of ISO 286 for shafts (a small letter; its case counts) or of ANSI B4.1, with nominal"
                     : "class of ISO 286 for holes (a capital letter; its case counts) or of ANSI B4.1, with nominal");
    writer_count(writer, "minLength", 1);
    writer_count(writer, "maxLength", FIT_CLASS_SIZE - 1);
    writer_list(writer, "examples");
    for (size_t i = 0; i < count; i++) {
        if (row[i].side == side || row[i].side == FIT_SIDE_NONE) {
            writer_text(writer, NULL, row[i].id);
        }
    }
    writer_list_end(writer);
    writer_object_end(writer);
}

/* A member that needs another, or two. */
static void
write_needed(struct writer *writer, const char *member, const char *first, const char *second)
{
    writer_list(writer, member);
    writer_text(writer, NULL, first);
    if (second != NULL) {
        writer_text(writer, NULL, second);
    }
    writer_list_end(writer);
}

/* min and max stand alone; of nominal, upper and lower none stands alone. With
 * two members at least and three at most that leaves the three forms. */
static void
write_forms(struct writer *writer, bool with_class)
{
    writer_count(writer, "minProperties", 2);
    writer_count(writer, "maxProperties", 3);
    writer_object(writer, "dependentRequired");
    write_needed(writer, "min", "max", NULL);
    write_needed(writer, "max", "min", NULL);
    write_needed(writer, "upper", "nominal", "lower");
    write_needed(writer, "lower", "nominal", "upper");
    if (with_class) {
        write_needed(writer, "class", "nominal", NULL);
    }
    writer_object_end(writer);
    writer_object(writer, "dependentSchemas");
    writer_object(writer, "min");
    writer_count(writer, "maxProperties", 2);
    writer_object_end(writer);
    writer_object_end(writer);
}

static void
write_limits(struct writer *writer, enum fit_side side)
{
    const bool with_class = side != FIT_SIDE_NONE;
    writer_object(writer, schema_limits_name(side));
    writer_list(writer, "type");
    writer_text(writer, NULL, "number");
    writer_text(writer, NULL, "string");
    writer_text(writer, NULL, "object");
    writer_list_end(writer);
    schema_describe(writer, with_class ? "limits of a length: min and max; or nominal with the deviations upper and "
                                         "lower; or nominal with class; or one length for both, as Length reads it"
                                       : "limits of a length: min and max; or nominal with the deviations upper and "
                                         "lower; or one length for both, as Length reads it");
    writer_count(writer, "minLength", 1);
    writer_count(writer, "maxLength", 64);
    writer_flag(writer, "additionalProperties", false);
    write_forms(writer, with_class);
    writer_object(writer, "properties");
    schema_refer(writer, "min", "Length", "smallest size");
    schema_refer(writer, "max", "Length", "largest size, not below min");
    schema_refer(writer, "nominal", "Length", "nominal size");
    schema_refer(writer, "upper", "Length", "upper deviation, with its sign");
    schema_refer(writer, "lower", "Length", "lower deviation, with its sign, not above upper");
    if (with_class) {
        write_class_member(writer, side);
    }
    end_closed(writer);
}

static void
write_all_limits(struct writer *writer)
{
    write_limits(writer, FIT_SIDE_NONE);
    write_limits(writer, FIT_SIDE_SHAFT);
    write_limits(writer, FIT_SIDE_HOLE);
}

/* ---- steels and metals ---- */

static const char *
metal_kind(size_t index)
{
    return metal_kind_text((enum metal_kind)index);
}

static void
write_own_member(struct writer *writer, const struct own_member *member)
{
    switch (member->kind) {
    case OWN_FIGURE:
    case OWN_NUMBER:
        schema_ranged(writer, member->name, member->dimension, member->minimum, member->maximum, member->meaning);
        break;
    case OWN_SCALE:
        schema_choice(writer, member->name, member->meaning, CHOICE_SET_hardness_scale);
        break;
    case OWN_KIND:
        schema_enum(writer, member->name, member->meaning, metal_kind, METAL_BRASS + 1);
        break;
    case OWN_BASIS:
        schema_begin(writer, member->name, "string", member->meaning);
        writer_count(writer, "maxLength", MATERIAL_BASIS_SIZE - 1);
        writer_object_end(writer);
        break;
    }
}

static const char *
steel_id(size_t index)
{
    size_t count = 0;
    return steel_table(&count)[index].id;
}

static const char *
metal_id(size_t index)
{
    size_t bearing = 0, structural = 0;
    const struct metal *const bearing_metals = bearing_metal_table(&bearing);
    const struct metal *const structural_metals = structural_metal_table(&structural);
    return index < bearing ? bearing_metals[index].id : structural_metals[index - bearing].id;
}

/* An id of a table, or an object of own figures. */
struct material_schema {
    const char *name, *phrase;
    const char *(*id)(size_t index);
    size_t ids;
    const struct own_member *member;
    size_t members;
};

static void
write_material(struct writer *writer, const struct material_schema *schema)
{
    writer_object(writer, schema->name);
    schema_types(writer, "string", "object");
    schema_describe(writer, schema->phrase);
    writer_count(writer, "minLength", 1);
    writer_list(writer, "examples");
    for (size_t i = 0; i < schema->ids; i++) {
        writer_text(writer, NULL, schema->id(i));
    }
    writer_list_end(writer);
    writer_flag(writer, "additionalProperties", false);
    writer_list(writer, "required");
    for (size_t i = 0; i < schema->members; i++) {
        if (schema->member[i].needed) {
            writer_text(writer, NULL, schema->member[i].name);
        }
    }
    writer_list_end(writer);
    writer_object(writer, "properties");
    for (size_t i = 0; i < schema->members; i++) {
        write_own_member(writer, &schema->member[i]);
    }
    end_closed(writer);
}

static void
write_materials(struct writer *writer)
{
    size_t bearing = 0, structural = 0;
    struct material_schema steel = {
        .name = "SteelChoice",
        .phrase = "the id of a steel (GET /v1/steels; the examples are all of this version), a grade alone for its "
                  "usual condition, or the figures of a certificate",
        .id = steel_id};
    struct material_schema metal = {.name = "MetalChoice",
                                    .phrase = "the id of a metal (GET /v1/bearing-metals; the examples are all of "
                                              "this version), or figures of your own",
                                    .id = metal_id};
    (void)steel_table(&steel.ids);
    (void)bearing_metal_table(&bearing);
    (void)structural_metal_table(&structural);
    metal.ids = bearing + structural;
    steel.member = own_steel_members(&steel.members);
    metal.member = own_metal_members(&metal.members);
    write_material(writer, &steel);
    write_material(writer, &metal);
}

/* ---- readings ---- */

static void
write_reading(struct writer *writer)
{
    static const char *const needed[] = {"size"};
    size_t count = 0;
    const struct list_reading_part *part = list_reading_parts(&count);
    begin_closed(writer, "Reading", "one micrometer reading", PARTS(needed));
    for (size_t i = 0; i < count; i++) {
        schema_ranged(writer, part[i].name, part[i].kind.dimension, part[i].kind.minimum, part[i].kind.maximum,
                      part[i].meaning);
    }
    end_closed(writer);
}

void
schema_job_parts(struct writer *writer)
{
    schema_quantity_read(writer, DIMENSION_LENGTH); /* what limits are made of */
    write_number_or_text(writer, "AnyQuantity", "a quantity of the kind of the member sought, as that member takes it",
                         "1 3/8 in", 47);
    write_number_or_text(writer, "Thread",
                         "a thread designation, or a diameter, which then means the nearest coarse thread",
                         "3/8-16 UNC", 64);
    write_all_limits(writer);
    write_materials(writer);
    write_reading(writer);
}
