#include "wire/schema_job.h"

#include <string.h>

#include "joint/job.h"
#include "joint/size_target.h"
#include "wire/job_read.h"
#include "wire/member.h"
#include "wire/schema_job_part.h"
#include "wire/schema_quantity.h"

static const char FIND_SCHEMA[] = "JobFind";

static void
group_name(char name[SCHEMA_NAME_SIZE], const struct job_group_row *group)
{
    schema_camel(name, "Job", group->name, "");
}

/* ---- descriptions ---- */

/* What each word of a choice means, unless its word says it all. */
static void
add_choices(struct words *words, const struct job_field_row *row)
{
    size_t count = 0;
    const struct choice_row *choice = choice_table(row->choices, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(choice[i].text, choice[i].meaning) != 0) {
            text_format(&words->text, "%s%s: %s", i == 0 ? " " : "; ", choice[i].text, choice[i].meaning);
        }
    }
    text_add(&words->text, ".");
}

static void
add_default(struct words *words, enum job_field field)
{
    const char *text = job_default_text(field);
    if (text[0] != '\0') {
        text_format(&words->text, " Default: %s.", text);
    }
}

static void
describe_field(struct writer *writer, enum job_field field)
{
    const struct job_field_row *row = job_field_row(field);
    struct words words;
    words_init(&words);
    words_sentence(&words, row->meaning);
    if (row->kind == KIND_NUMBER || row->kind == KIND_LIMITS || row->kind == KIND_NUMBERS) {
        schema_range_words(&words, row->kind == KIND_LIMITS ? DIMENSION_LENGTH : row->dimension, row->minimum,
                           row->maximum);
    } else if (row->kind == KIND_CHOICE) {
        add_choices(&words, row);
    }
    if (field == FIELD_clamp_bolt_diameter) { /* see field_read.c */
        words_sentence(&words, "a thread designation is taken as well");
    }
    add_default(&words, field);
    words_write(writer, &words);
}

/* ---- members ---- */

static void
write_limits(struct writer *writer, const struct job_field_row *row)
{
    schema_ref(writer, schema_limits_name(row->side));
    schema_range(writer, DIMENSION_LENGTH, row->minimum, row->maximum);
}

static void
write_choice(struct writer *writer, const struct job_field_row *row)
{
    writer_text(writer, "type", "string");
    schema_choice_words(writer, row->choices);
}

/* Members that sizing can seek, as examples of find.what. */
static void
write_targets(struct writer *writer)
{
    writer_list(writer, "examples");
    for (int i = 0; i < FIELD_COUNT; i++) {
        const char *nearest = NULL;
        struct target target;
        if (target_find(job_field_row((enum job_field)i)->path, &target, &nearest)) {
            writer_text(writer, NULL, job_field_row((enum job_field)i)->path);
        }
    }
    writer_list_end(writer);
}

static void
write_text(struct writer *writer, enum job_field field)
{
    writer_text(writer, "type", "string");
    writer_count(writer, "maxLength", job_field_row(field)->capacity - 1);
    if (field == FIELD_find_what) {
        write_targets(writer);
    }
}

static void
write_list(struct writer *writer, const struct job_field_row *row)
{
    writer_text(writer, "type", "array");
    writer_count(writer, "maxItems", row->capacity);
    writer_object(writer, "items");
    if (row->kind == KIND_NUMBERS) {
        schema_quantity_within(writer, row->dimension, row->minimum, row->maximum);
    } else if (row->kind == KIND_READINGS) {
        schema_ref(writer, "Reading");
    } else {
        writer_text(writer, "type", "string");
        writer_count(writer, "maxLength", row->entry_size - 1);
    }
    writer_object_end(writer);
}

static void
write_field(struct writer *writer, enum job_field field)
{
    const struct job_field_row *row = job_field_row(field);
    writer_object(writer, row->name);
    switch (row->kind) {
    case KIND_NUMBER:
        schema_quantity_within(writer, row->dimension, row->minimum, row->maximum);
        break;
    case KIND_LIMITS:
        write_limits(writer, row);
        break;
    case KIND_CHOICE:
        write_choice(writer, row);
        break;
    case KIND_TEXT:
        write_text(writer, field);
        break;
    case KIND_FLAG:
        writer_text(writer, "type", "boolean");
        break;
    case KIND_STEEL:
        schema_ref(writer, "SteelChoice");
        break;
    case KIND_METAL:
        schema_ref(writer, "MetalChoice");
        break;
    case KIND_THREAD:
        schema_ref(writer, "Thread");
        break;
    case KIND_RAW:
        schema_ref(writer, "AnyQuantity");
        break;
    case KIND_NUMBERS:
    case KIND_NAMES:
    case KIND_READINGS:
        write_list(writer, row);
        break;
    }
    describe_field(writer, field);
    writer_object_end(writer);
}

/* ---- objects ---- */

/* The objects that stand inside this one (NULL: in the document itself); `find` names the schema of that group. */
static void
write_inner_groups(struct writer *writer, const struct job_group_row *parent, const char *find)
{
    for (int i = 0; i < GROUP_COUNT; i++) {
        const struct job_group_row *group = job_group_row((enum job_group)i);
        const char *within = member_within(group, parent);
        if (within != NULL) {
            char name[SCHEMA_NAME_SIZE];
            group_name(name, group);
            schema_refer(writer, within, i == GROUP_find ? find : name, NULL);
        }
    }
}

/* "required" of one member. */
static void
write_needed(struct writer *writer, const char *member)
{
    writer_list(writer, "required");
    writer_text(writer, NULL, member);
    writer_list_end(writer);
}

/* A group, all of whose members may be left out but `needed`, if it is not NULL. */
static void
write_group(struct writer *writer, enum job_group group, const char *name, const char *needed)
{
    const struct job_group_row *row = job_group_row(group);
    schema_begin(writer, name, "object", row->meaning);
    writer_flag(writer, "additionalProperties", false);
    if (needed != NULL) {
        write_needed(writer, needed);
    }
    writer_object(writer, "properties");
    for (int i = 0; i < FIELD_COUNT; i++) {
        if (job_field_row((enum job_field)i)->group == group) {
            write_field(writer, (enum job_field)i);
        }
    }
    write_inner_groups(writer, row, FIND_SCHEMA);
    writer_object_end(writer);
    writer_object_end(writer);
}

static void
write_units(struct writer *writer)
{
    writer_object(writer, "units");
    writer_text(writer, "type", "string");
    writer_list(writer, "enum");
    writer_text(writer, NULL, "inch");
    writer_text(writer, NULL, "metric");
    writer_list_end(writer);
    writer_text(writer, "description",
                "How numbers without a unit are read, and in which units the answer is written. Default: inch.");
    writer_object_end(writer);
}

static void
write_label(struct writer *writer)
{
    writer_object(writer, "label");
    writer_text(writer, "type", "string");
    writer_count(writer, "maxLength", JOB_LABEL_CHARACTERS);
    writer_text(writer, "description", "A name of your own, given back in the answer.");
    writer_object_end(writer);
}

static void
write_job(struct writer *writer)
{
    schema_begin(writer, "Job", "object",
                 "the joint as far as it is known; every member may be left out, and a member that is null counts as "
                 "left out. Each call reads what it needs and passes over the rest. A name that is not defined here is "
                 "refused, so that a slip of the pen cannot go unseen. Words and ids are read in any case");
    writer_flag(writer, "additionalProperties", false);
    writer_object(writer, "properties");
    write_units(writer);
    write_label(writer);
    write_inner_groups(writer, NULL, FIND_SCHEMA);
    writer_object_end(writer);
    writer_object_end(writer);
}

/* Only sizing has members that must be there. */
static void
write_size_job(struct writer *writer)
{
    schema_begin(writer, "SizeJob", "object", "a job that says in find which one unknown to solve for");
    writer_flag(writer, "additionalProperties", false);
    write_needed(writer, job_group_row(GROUP_find)->name);
    writer_object(writer, "properties");
    write_units(writer);
    write_label(writer);
    write_inner_groups(writer, NULL, "SizeFind");
    writer_object_end(writer);
    writer_object_end(writer);
    write_group(writer, GROUP_find, "SizeFind", job_field_row(FIELD_find_what)->name);
}

void
schema_job(struct writer *writer)
{
    write_job(writer);
    write_size_job(writer);
    for (int i = 0; i < GROUP_COUNT; i++) {
        char name[SCHEMA_NAME_SIZE];
        group_name(name, job_group_row((enum job_group)i));
        write_group(writer, (enum job_group)i, name, NULL);
    }
    schema_job_parts(writer);
}

/* ---- parameters of a link ---- */

/* How the parts of a member are named behind its own path. */
static const char *
query_parts(const struct job_field_row *row)
{
    switch (row->kind) {
    case KIND_LIMITS:
        return row->side == FIT_SIDE_NONE ? "or its parts, .min and .max, .nominal, .upper and .lower"
                                          : "or its parts, .min and .max, .nominal, .upper, .lower and .class";
    case KIND_STEEL:
        return "or figures of your own: .tensile, .yield, .hardness, .hardness_scale, .basis";
    case KIND_METAL:
        return "or figures of your own: .yield, .basis and further ones of MetalChoice";
    case KIND_READINGS:
        return "parts of entry 0: .size, .at, .around; further entries are numbered 1, 2 and so on";
    case KIND_NUMBERS:
    case KIND_NAMES:
        return "entry 0; further entries are numbered 1, 2 and so on";
    default:
        return "";
    }
}

static bool
is_list(const struct job_field_row *row)
{
    return row->kind == KIND_READINGS || row->kind == KIND_NUMBERS || row->kind == KIND_NAMES;
}

static void
write_parameter(struct writer *writer, const struct job_field_row *row)
{
    char name[SCHEMA_NAME_SIZE];
    struct text text;
    struct words words;
    text_init(&text, name, sizeof name);
    text_format(&text, "%s%s%s", row->path, is_list(row) ? ".0" : "", row->kind == KIND_READINGS ? ".size" : "");
    words_init(&words);
    words_sentence(&words, row->meaning);
    words_sentence(&words, query_parts(row));
    writer_object(writer, name);
    writer_text(writer, "type", "string");
    words_write(writer, &words);
    writer_object_end(writer);
}

void
schema_job_query(struct writer *writer)
{
    schema_begin(writer, "JobQuery", "object",
                 "members of the job named by their path, each a parameter of its own: engine.bore=5.25in, "
                 "pin.diameter.max=1.374, inspection.readings.0.size=1.3745. A value without a unit is in the unit of "
                 "units. An empty value counts as left out");
    writer_object(writer, "properties");
    schema_begin(writer, "units", "string", "inch (default) or metric");
    writer_object_end(writer);
    schema_begin(writer, "label", "string", "a name of your own, given back in the answer");
    writer_object_end(writer);
    for (int i = 0; i < FIELD_COUNT; i++) {
        write_parameter(writer, job_field_row((enum job_field)i));
    }
    writer_object_end(writer);
    schema_begin(writer, "additionalProperties", "string", "a part of a member, such as pin.diameter.max");
    writer_object_end(writer);
    writer_object_end(writer);
}
