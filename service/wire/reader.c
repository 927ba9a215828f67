#include "wire/reader.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "joint/name.h"
#include "quantity/quantity.h"
#include "wire/nearest.h"

/* Longer text is no quantity; the longest sensible one has about 30 bytes. */
enum { QUANTITY_TEXT_MAX = 64 };

void
place_member(struct place *place, const char *parent, const char *name)
{
    struct text text;
    text_init(&text, place->pointer, sizeof place->pointer);
    text_add(&text, parent);
    text_add(&text, "/");
    for (const char *at = name; *at != '\0';) {
        const size_t plain = strcspn(at, "~/");
        text_add_bytes(&text, at, plain);
        at += plain;
        if (*at != '\0') {
            text_add(&text, *at == '~' ? "~0" : "~1");
            at++;
        }
    }
}

void
place_index(struct place *place, const char *parent, size_t index)
{
    struct text text;
    text_init(&text, place->pointer, sizeof place->pointer);
    text_format(&text, "%s/%zu", parent, index);
}

json_t *
reader_member(const json_t *object, const char *name)
{
    json_t *value = json_object_get(object, name);
    return json_is_null(value) ? NULL : value;
}

/* ---- faults ---- */

/* A value in a few words, for "got". */
static void
show(char *buffer, size_t capacity, const json_t *value)
{
    switch (json_typeof(value)) {
    case JSON_OBJECT:
        text_copy(buffer, capacity, "an object");
        break;
    case JSON_ARRAY:
        text_copy(buffer, capacity, "a list");
        break;
    case JSON_STRING:
        text_copy(buffer, capacity, json_string_value(value));
        break;
    case JSON_INTEGER:
    case JSON_REAL:
        snprintf(buffer, capacity, "%.7g", json_number_value(value));
        break;
    case JSON_TRUE:
        text_copy(buffer, capacity, "true");
        break;
    case JSON_FALSE:
        text_copy(buffer, capacity, "false");
        break;
    case JSON_NULL:
        text_copy(buffer, capacity, "null");
        break;
    }
}

struct fault *
reader_fault(struct reader *reader, enum fault_code code, const char *pointer, const json_t *value, const char *detail)
{
    struct fault *fault = fault_add(reader->faults, code, pointer, "%s", detail);
    if (fault != NULL && value != NULL) {
        show(fault->got, sizeof fault->got, value);
    }
    return fault;
}

void
reader_wrong_type(struct reader *reader, const char *pointer, const json_t *value, const char *expected)
{
    char detail[FAULT_TEXT_SIZE];
    struct text text;
    text_init(&text, detail, sizeof detail);
    text_format(&text, "Must be %s.", expected);
    struct fault *fault = reader_fault(reader, FAULT_WRONG_TYPE, pointer, value, detail);
    if (fault != NULL) {
        text_copy(fault->expected, sizeof fault->expected, expected);
    }
}

void
reader_missing(struct reader *reader, const char *parent, const char *name, const char *detail)
{
    struct place place;
    place_member(&place, parent, name);
    reader_fault(reader, FAULT_MISSING, place.pointer, NULL, detail);
}

void
reader_add_word(struct text *text, const char *word)
{
    text_format(text, "%s\"%s\"", text->length > 0 ? ", " : "", word);
}

void
reader_refuse_member(struct reader *reader, const char *pointer, const char *key, const char *const *names,
                     size_t count)
{
    struct place place;
    place_member(&place, pointer, key);
    struct fault *fault =
        reader_fault(reader, FAULT_UNKNOWN_MEMBER, place.pointer, NULL, "No such member is defined here.");
    if (fault == NULL) {
        return;
    }
    struct nearest nearest;
    nearest_init(&nearest, key);
    struct text expected;
    text_init(&expected, fault->expected, sizeof fault->expected);
    for (size_t i = 0; i < count; i++) {
        nearest_offer(&nearest, names[i]);
        reader_add_word(&expected, names[i]);
    }
    text_copy(fault->nearest, sizeof fault->nearest, nearest.best != NULL ? nearest.best : "");
}

void
reader_refuse_others(struct reader *reader, const char *pointer, json_t *object, const char *const *names, size_t count)
{
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value)
    {
        bool known = false;
        for (size_t i = 0; i < count && !known; i++) {
            known = strcmp(key, names[i]) == 0;
        }
        if (!known && reader->faults->dropped == 0) {
            reader_refuse_member(reader, pointer, key, names, count);
        }
    }
}

/* ---- values ---- */

/* " in", or nothing for a plain number. */
static void
add_unit(struct text *text, const struct unit *unit)
{
    if (strcmp(unit->symbol, "1") != 0) {
        text_format(text, " %s", unit->symbol);
    }
}

bool
reader_in_range(struct reader *reader, const char *pointer, const json_t *value, const struct quantity_kind *kind,
                double si)
{
    if (si >= kind->minimum && si <= kind->maximum) {
        return true;
    }
    const struct unit *unit = unit_of(kind->dimension, reader->job->units);
    char range[FAULT_TEXT_SIZE / 2];
    struct text text;
    text_init(&text, range, sizeof range);
    text_format(&text, "from %.7g to %.7g", unit_from_si(unit, kind->minimum), unit_from_si(unit, kind->maximum));
    add_unit(&text, unit);
    struct fault *fault = fault_add(reader->faults, FAULT_OUT_OF_RANGE, pointer, "Must be %s.", range);
    if (fault != NULL) {
        if (value != NULL) {
            show(fault->got, sizeof fault->got, value);
        }
        text_copy(fault->expected, sizeof fault->expected, range);
    }
    return false;
}

/* A number without a unit means different things in the two systems. */
static void
note_bare(struct reader *reader, enum dimension dimension)
{
    if (unit_of(dimension, UNITS_INCH) != unit_of(dimension, UNITS_METRIC)) {
        reader->job->bare_numbers = true;
    }
}

static bool
quantity_of_text(struct reader *reader, const char *pointer, const json_t *value, enum dimension dimension, double *si)
{
    const size_t length = json_string_length(value);
    if (length > QUANTITY_TEXT_MAX) {
        reader_fault(reader, FAULT_BAD_NUMBER, pointer, value, "The text is too long for a number with a unit.");
        return false;
    }
    struct quantity_reading reading;
    if (!quantity_read(json_string_value(value), length, dimension, reader->job->units, &reading)) {
        struct fault *fault = reader_fault(reader, reading.code, pointer, value, reading.detail);
        if (fault != NULL && reading.code == FAULT_WRONG_UNIT) {
            text_copy(fault->expected, sizeof fault->expected, dimension_name(dimension));
        }
        if (fault != NULL) {
            text_copy(fault->nearest, sizeof fault->nearest, reading.nearest);
        }
        return false;
    }
    if (reading.bare) {
        note_bare(reader, dimension);
    }
    *si = reading.si;
    return true;
}

bool
reader_quantity(struct reader *reader, const char *pointer, const json_t *value, const struct quantity_kind *kind,
                double *si)
{
    double read = 0.0;
    if (json_is_number(value)) {
        read = unit_to_si(unit_of(kind->dimension, reader->job->units), json_number_value(value));
        note_bare(reader, kind->dimension);
    } else if (!json_is_string(value)) {
        char expected[FAULT_TEXT_SIZE / 2];
        snprintf(expected, sizeof expected, "a number, or a text with its unit (%s)", dimension_name(kind->dimension));
        reader_wrong_type(reader, pointer, value, expected);
        return false;
    } else if (!quantity_of_text(reader, pointer, value, kind->dimension, &read)) {
        return false;
    }
    if (!reader_in_range(reader, pointer, value, kind, read)) {
        return false;
    }
    if (kind->dimension == DIMENSION_COUNT && read != floor(read)) {
        reader_fault(reader, FAULT_BAD_NUMBER, pointer, value, "Must be a whole number.");
        return false;
    }
    *si = read;
    return true;
}

/* None of the words of a set. */
static void
refuse_choice(struct reader *reader, const char *pointer, const json_t *value, const char *given,
              const struct choice_row *row, size_t count)
{
    struct fault *fault =
        json_is_string(value)
            ? reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, value, "Not one of the words known here.")
            : reader_fault(reader, FAULT_WRONG_TYPE, pointer, value, "Must be a text: one of the words known here.");
    if (fault == NULL) {
        return;
    }
    struct nearest nearest;
    nearest_init(&nearest, given);
    struct text expected;
    text_init(&expected, fault->expected, sizeof fault->expected);
    for (size_t i = 0; i < count; i++) {
        nearest_offer(&nearest, row[i].text);
        reader_add_word(&expected, row[i].text);
    }
    text_copy(fault->nearest, sizeof fault->nearest, nearest.best != NULL ? nearest.best : "");
}

bool
reader_choice(struct reader *reader, const char *pointer, const json_t *value, enum choice_set set, int *choice)
{
    size_t count = 0;
    const struct choice_row *row = choice_table(set, &count);
    char given[FAULT_SHORT_SIZE];
    show(given, sizeof given, value);
    for (size_t i = 0; json_is_string(value) && i < count; i++) {
        if (name_same(given, row[i].text)) {
            *choice = (int)i;
            return true;
        }
    }
    refuse_choice(reader, pointer, value, given, row, count);
    return false;
}
