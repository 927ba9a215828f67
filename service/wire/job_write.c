#include "wire/job_write.h"

#include <string.h>

#include "base/text.h"
#include "quantity/exact.h"
#include "wire/material_spell.h"
#include "wire/quantity_spell.h"

/* Where the value of a field lies in the job. */
static const void *
value_at(const struct job *job, const struct job_field_row *row)
{
    return (const char *)job + row->offset;
}

static size_t
count_at(const struct job *job, const struct job_field_row *row)
{
    size_t count = 0;
    memcpy(&count, (const char *)job + row->count_offset, sizeof count);
    return count;
}

/* ---- values ---- */

/* In the form in which they were given: the class, or the nominal size, is a
 * part of what the client said. */
static void
write_limits(struct writer *writer, const struct job *job, const char *key, const struct limits *limits)
{
    const struct spelling how = spelling_of_job(job, DIMENSION_LENGTH);
    if (limits->class_name[0] == '\0' && limits->nominal_m == 0.0 && limits->min_m == limits->max_m) {
        spell_quantity(writer, &how, key, 0.0, limits->min_m);
        return;
    }
    writer_object(writer, key);
    if (limits->class_name[0] != '\0') {
        spell_quantity(writer, &how, "nominal", 0.0, limits->nominal_m);
        writer_text(writer, "class", limits->class_name);
    } else if (limits->nominal_m != 0.0) {
        spell_quantity(writer, &how, "nominal", 0.0, limits->nominal_m);
        spell_quantity(writer, &how, "upper", limits->nominal_m, limits->max_m);
        spell_quantity(writer, &how, "lower", limits->nominal_m, limits->min_m);
    } else {
        spell_quantity(writer, &how, "min", 0.0, limits->min_m);
        spell_quantity(writer, &how, "max", 0.0, limits->max_m);
    }
    writer_object_end(writer);
}

/*
 * By its designation; where numbers stand without a unit and the document does
 * not say in which, by its diameter, if that means the same thread: some such
 * number may have been this one, and it is the assumption of the unit that
 * must survive.
 */
static void
write_thread(struct writer *writer, const struct job *job, const char *key, const struct thread *thread)
{
    struct thread coarse;
    struct exact exact;
    thread_coarse_near(thread->diameter_m, job->units == UNITS_METRIC, &coarse);
    if (!job->units_given && job->bare_numbers && strcmp(coarse.designation, thread->designation) == 0 &&
        exact_find(0.0, thread->diameter_m, DIMENSION_LENGTH, job->units, true, &exact) &&
        exact.unit == unit_of(DIMENSION_LENGTH, job->units)) {
        writer_exact(writer, key, exact.number);
        return;
    }
    writer_text(writer, key, thread->designation);
}

static void
write_readings(struct writer *writer, const struct job *job, const struct reading *reading, size_t count)
{
    const struct spelling length = spelling_of_job(job, DIMENSION_LENGTH);
    const struct spelling angle = spelling_of_job(job, DIMENSION_ANGLE);
    for (size_t i = 0; i < count; i++) {
        writer_object(writer, NULL);
        if (reading[i].has_at) {
            spell_quantity(writer, &length, "at", 0.0, reading[i].at_m);
        }
        if (reading[i].has_around) {
            spell_quantity(writer, &angle, "around", 0.0, reading[i].around_rad);
        }
        spell_quantity(writer, &length, "size", 0.0, reading[i].size_m);
        writer_object_end(writer);
    }
}

static void
write_list(struct writer *writer, const struct job *job, const struct job_field_row *row)
{
    const void *at = value_at(job, row);
    const size_t count = count_at(job, row);
    writer_list(writer, row->name);
    if (row->kind == KIND_READINGS) {
        write_readings(writer, job, at, count);
    }
    for (size_t i = 0; row->kind == KIND_NAMES && i < count; i++) {
        writer_text(writer, NULL, (const char *)at + i * row->entry_size);
    }
    const struct spelling how = spelling_of_job(job, row->dimension);
    for (size_t i = 0; row->kind == KIND_NUMBERS && i < count; i++) {
        spell_quantity(writer, &how, NULL, 0.0, ((const double *)at)[i]);
    }
    writer_list_end(writer);
}

static void
write_raw(struct writer *writer, const char *key, const struct raw_quantity *raw)
{
    if (raw->is_number) {
        writer_exact(writer, key, raw->number);
    } else {
        writer_text(writer, key, raw->text);
    }
}

static void
write_field(struct writer *writer, const struct job *job, const struct job_field_row *row)
{
    const void *at = value_at(job, row);
    const struct spelling how = spelling_of_job(job, row->kind == KIND_NUMBER ? row->dimension : DIMENSION_LENGTH);
    size_t count = 0;
    switch (row->kind) {
    case KIND_NUMBER:
        spell_quantity(writer, &how, row->name, 0.0, *(const double *)at);
        break;
    case KIND_LIMITS:
        write_limits(writer, job, row->name, at);
        break;
    case KIND_CHOICE:
        writer_text(writer, row->name, choice_table(row->choices, &count)[*(const int *)at].text);
        break;
    case KIND_TEXT:
        writer_text(writer, row->name, at);
        break;
    case KIND_FLAG:
        writer_flag(writer, row->name, *(const bool *)at);
        break;
    case KIND_STEEL:
        spell_steel(writer, job, row->name, at);
        break;
    case KIND_METAL:
        spell_metal(writer, job, row->name, at);
        break;
    case KIND_THREAD:
        write_thread(writer, job, row->name, at);
        break;
    case KIND_RAW:
        write_raw(writer, row->name, at);
        break;
    case KIND_NUMBERS:
    case KIND_NAMES:
    case KIND_READINGS:
        write_list(writer, job, row);
        break;
    }
}

/* ---- groups ---- */

/* Is `path` that of the group, or of one inside it? */
static bool
lies_within(const char *path, const char *group)
{
    const size_t length = strlen(group);
    return strncmp(path, group, length) == 0 && (path[length] == '\0' || path[length] == '/');
}

/* Was anything of the group, or of those inside it, given? */
static bool
anything_given(const struct job *job, const char *group_path)
{
    for (int group = 0; group < GROUP_COUNT; group++) {
        if (lies_within(job_group_row((enum job_group)group)->path, group_path) &&
            job_group_given(job, (enum job_group)group)) {
            return true;
        }
    }
    return false;
}

static void
write_fields(struct writer *writer, const struct job *job, enum job_group group)
{
    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        if (row->group == group && job_given(job, (enum job_field)field)) {
            write_field(writer, job, row);
        }
    }
}

/* A group, and the groups inside it; there is no third storey. */
static void
write_group(struct writer *writer, const struct job *job, enum job_group group)
{
    const char *path = job_group_row(group)->path;
    writer_object(writer, path);
    write_fields(writer, job, group);
    for (int inner = 0; inner < GROUP_COUNT; inner++) {
        const struct job_group_row *row = job_group_row((enum job_group)inner);
        if (inner != (int)group && lies_within(row->path, path) && job_group_given(job, (enum job_group)inner)) {
            writer_object(writer, row->name);
            write_fields(writer, job, (enum job_group)inner);
            writer_object_end(writer);
        }
    }
    writer_object_end(writer);
}

void
job_write(struct writer *writer, const char *key, const struct job *job)
{
    writer_object(writer, key);
    if (job->units_given) {
        writer_text(writer, "units", job->units == UNITS_METRIC ? "metric" : "inch");
    }
    writer_text_if(writer, "label", job->label);
    for (int group = 0; group < GROUP_COUNT; group++) {
        const char *path = job_group_row((enum job_group)group)->path;
        if (strchr(path, '/') == NULL && anything_given(job, path)) {
            write_group(writer, job, (enum job_group)group);
        }
    }
    writer_object_end(writer);
}
