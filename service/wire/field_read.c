#include "wire/field_read.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "quantity/quantity.h"
#include "wire/limits_read.h"
#include "wire/list_read.h"
#include "wire/material_read.h"

/* Diameters of the threads known, as thread_read takes them. */
static const struct quantity_kind thread_diameter = {DIMENSION_LENGTH, 0.001, 0.1};

/* Where the value of a field lies in the job. */
static void *
value_at(struct job *job, const struct job_field_row *row)
{
    return (char *)job + row->offset;
}

static size_t *
count_at(struct job *job, const struct job_field_row *row)
{
    return (size_t *)(void *)((char *)job + row->count_offset);
}

/* ---- threads ---- */

/* Is the quantity written in a metric unit? */
static bool
written_metric(const char *text)
{
    size_t begin = strlen(text);
    while (begin > 0 && ((text[begin - 1] >= 'a' && text[begin - 1] <= 'z') || text[begin - 1] == ' ')) {
        begin--;
    }
    begin += strspn(text + begin, " ");
    const struct unit *unit = unit_find(text + begin, strcspn(text + begin, " "), DIMENSION_LENGTH);
    return unit != NULL && (strcmp(unit->symbol, "mm") == 0 || strcmp(unit->symbol, "um") == 0 ||
                            strcmp(unit->symbol, "cm") == 0 || strcmp(unit->symbol, "m") == 0);
}

/* Does the text name a thread ("M10", "3/8-16 UNC")? */
static bool
names_thread(const json_t *value, struct thread *thread)
{
    return json_is_string(value) && thread_read(json_string_value(value), thread);
}

/* A bare diameter stands for the coarse thread nearest to it. */
static bool
coarse_thread(struct reader *reader, const char *pointer, const json_t *value, struct thread *thread)
{
    double diameter_m = 0.0;
    if (!reader_quantity(reader, pointer, value, &thread_diameter, &diameter_m)) {
        return false;
    }
    struct quantity_reading reading = {.bare = true};
    const bool own_unit = json_is_string(value) &&
                          quantity_read(json_string_value(value), json_string_length(value), DIMENSION_LENGTH,
                                        reader->job->units, &reading) &&
                          !reading.bare;
    const bool metric = own_unit ? written_metric(json_string_value(value)) : reader->job->units == UNITS_METRIC;
    thread_coarse_near(diameter_m, metric, thread);
    return true;
}

static bool
read_thread(struct reader *reader, const struct job_field_row *row, enum job_field field, const json_t *value)
{
    struct thread thread;
    memset(&thread, 0, sizeof thread);
    if (!names_thread(value, &thread) && !coarse_thread(reader, row->pointer, value, &thread)) {
        return false;
    }
    struct thread *at = value_at(reader->job, row);
    if (job_given(reader->job, field) && strcmp(at->designation, thread.designation) != 0) {
        fault_add(reader->faults, FAULT_CONTRADICTION, row->pointer,
                  "/clamp_bolt/diameter names the thread %s, /clamp_bolt/thread the thread %s: give one of them.",
                  at->designation, thread.designation);
        return false;
    }
    *at = thread;
    return true;
}

/* The bolt's diameter may be given as a designation: it then is the thread. */
static bool
read_as_thread(struct reader *reader, enum job_field field, const json_t *value)
{
    struct quantity_reading reading;
    if (field != FIELD_clamp_bolt_diameter || !json_is_string(value) ||
        quantity_read(json_string_value(value), json_string_length(value), DIMENSION_LENGTH, reader->job->units,
                      &reading)) {
        return false;
    }
    struct thread thread;
    memset(&thread, 0, sizeof thread);
    if (!names_thread(value, &thread)) {
        return false;
    }
    reader->job->clamp_bolt.thread = thread;
    reader->job->state[FIELD_clamp_bolt_thread] = FIELD_GIVEN;
    return true;
}

/* ---- the other kinds ---- */

static bool
read_flag(struct reader *reader, const struct job_field_row *row, const json_t *value)
{
    if (!json_is_boolean(value)) {
        reader_wrong_type(reader, row->pointer, value, "true or false");
        return false;
    }
    *(bool *)value_at(reader->job, row) = json_is_true(value);
    return true;
}

static bool
read_raw(struct reader *reader, const struct job_field_row *row, const json_t *value)
{
    struct raw_quantity *raw = value_at(reader->job, row);
    if (json_is_number(value)) {
        reader->job->bare_numbers = true;
        *raw = (struct raw_quantity){.is_number = true, .number = json_number_value(value)};
        return true;
    }
    if (!json_is_string(value)) {
        reader_wrong_type(reader, row->pointer, value, "a number, or a text with its unit");
        return false;
    }
    struct raw_quantity read = {.is_number = false};
    if (!reader_text(reader, row->pointer, value, 0, read.text, sizeof read.text)) {
        return false;
    }
    *raw = read;
    return true;
}

static bool
read_number(struct reader *reader, const struct job_field_row *row, const json_t *value)
{
    const struct quantity_kind kind = {row->dimension, row->minimum, row->maximum};
    return reader_quantity(reader, row->pointer, value, &kind, value_at(reader->job, row));
}

static bool
read_limits(struct reader *reader, const struct job_field_row *row, json_t *value)
{
    const struct limits_kind kind = {row->side, row->minimum, row->maximum};
    return limits_read(reader, row->pointer, value, &kind, value_at(reader->job, row));
}

/* A list without an entry says nothing: the member stays absent. */
static bool
read_list(struct reader *reader, const struct job_field_row *row, const json_t *value)
{
    const struct quantity_kind kind = {row->dimension, row->minimum, row->maximum};
    void *entries = value_at(reader->job, row);
    size_t *count = count_at(reader->job, row);
    bool good = false;
    if (row->kind == KIND_NUMBERS) {
        good = list_read_numbers(reader, row->pointer, value, &kind, row->capacity, entries, count);
    } else if (row->kind == KIND_NAMES) {
        good = list_read_names(reader, row->pointer, value, row->capacity, row->entry_size, entries, count);
    } else {
        good = list_read_readings(reader, row->pointer, value, row->capacity, entries, count);
    }
    return good && *count > 0;
}

void
field_read(struct reader *reader, enum job_field field, json_t *value)
{
    const struct job_field_row *row = job_field_row(field);
    void *at = value_at(reader->job, row);
    bool read = false;
    switch (row->kind) {
    case KIND_NUMBER:
        if (read_as_thread(reader, field, value)) {
            return;
        }
        read = read_number(reader, row, value);
        break;
    case KIND_LIMITS:
        read = read_limits(reader, row, value);
        break;
    case KIND_CHOICE:
        read = reader_choice(reader, row->pointer, value, row->choices, at);
        break;
    case KIND_TEXT:
        read = reader_text(reader, row->pointer, value, 0, at, row->capacity);
        break;
    case KIND_FLAG:
        read = read_flag(reader, row, value);
        break;
    case KIND_STEEL:
        read = material_read_steel(reader, row->pointer, value, at);
        break;
    case KIND_METAL:
        read = material_read_metal(reader, row->pointer, value, at);
        break;
    case KIND_THREAD:
        read = read_thread(reader, row, field, value);
        break;
    case KIND_RAW:
        read = read_raw(reader, row, value);
        break;
    case KIND_NUMBERS:
    case KIND_NAMES:
    case KIND_READINGS:
        read = read_list(reader, row, value);
        break;
    }
    if (read) {
        reader->job->state[field] = FIELD_GIVEN;
    }
}
