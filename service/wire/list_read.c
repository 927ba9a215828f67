#include "wire/list_read.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "wire/material_read.h"

/* Is it a list of at most `capacity` entries? */
static bool
is_list(struct reader *reader, const char *pointer, const json_t *value, size_t capacity, const char *expected)
{
    if (!json_is_array(value)) {
        reader_wrong_type(reader, pointer, value, expected);
        return false;
    }
    if (json_array_size(value) > capacity) {
        char detail[FAULT_TEXT_SIZE];
        snprintf(detail, sizeof detail, "At most %zu entries are taken here; these are %zu.", capacity,
                 json_array_size(value));
        reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, NULL, detail);
        return false;
    }
    return true;
}

bool
list_read_numbers(struct reader *reader, const char *pointer, const json_t *value, const struct quantity_kind *kind,
                  size_t capacity, double *entries, size_t *count)
{
    if (!is_list(reader, pointer, value, capacity, "a list of quantities")) {
        return false;
    }
    bool good = true;
    const size_t size = json_array_size(value);
    for (size_t i = 0; i < size; i++) {
        struct place place;
        place_index(&place, pointer, i);
        good = reader_quantity(reader, place.pointer, json_array_get(value, i), kind, &entries[i]) && good;
    }
    *count = good ? size : 0;
    return good;
}

static bool
read_name(struct reader *reader, const char *pointer, const json_t *value, size_t entry_size, char *entry)
{
    char name[FAULT_SHORT_SIZE];
    if (!reader_text(reader, pointer, value, 0, name, sizeof name)) {
        return false;
    }
    bool by_grade = false;
    if (steel_find(name, &by_grade) == NULL && metal_find(name) == NULL) {
        const char *nearest = steel_nearest(name);
        material_read_refuse_id(reader, pointer, value, "steels", nearest != NULL ? nearest : metal_nearest(name));
        return false;
    }
    return text_copy(entry, entry_size, name);
}

bool
list_read_names(struct reader *reader, const char *pointer, const json_t *value, size_t capacity, size_t entry_size,
                char *entries, size_t *count)
{
    if (!is_list(reader, pointer, value, capacity, "a list of ids")) {
        return false;
    }
    bool good = true;
    const size_t size = json_array_size(value);
    for (size_t i = 0; i < size; i++) {
        struct place place;
        place_index(&place, pointer, i);
        good = read_name(reader, place.pointer, json_array_get(value, i), entry_size, entries + i * entry_size) && good;
    }
    *count = good ? size : 0;
    return good;
}

/* Sizes and places that a micrometer can meet on this joint; all the way round
 * either way. */
enum { PART_AT, PART_AROUND, PART_SIZE, PART_COUNT };
static const struct list_reading_part reading_part[PART_COUNT] = {
    [PART_AT] = {"at", {DIMENSION_LENGTH, 0.0, 5.0}, "place of the station, from one end"},
    [PART_AROUND] = {"around", {DIMENSION_ANGLE, -6.2831853071795865, 6.2831853071795865}, "direction round the part"},
    [PART_SIZE] = {"size", {DIMENSION_LENGTH, 0.001, 1.0}, "the diameter that was read"},
};

const struct list_reading_part *
list_reading_parts(size_t *count)
{
    *count = PART_COUNT;
    return reading_part;
}

/* An optional quantity of a reading. */
static bool
read_part(struct reader *reader, const char *pointer, const json_t *object, const struct list_reading_part *part,
          bool *has, double *si)
{
    const json_t *value = reader_member(object, part->name);
    *has = value != NULL;
    if (value == NULL) {
        return true;
    }
    struct place place;
    place_member(&place, pointer, part->name);
    return reader_quantity(reader, place.pointer, value, &part->kind, si);
}

static bool
read_reading(struct reader *reader, const char *pointer, json_t *value, struct reading *reading)
{
    const char *const names[] = {reading_part[PART_AT].name, reading_part[PART_AROUND].name,
                                 reading_part[PART_SIZE].name};
    if (!json_is_object(value)) {
        reader_wrong_type(reader, pointer, value, "an object with size, and at and around where they are known");
        return false;
    }
    reader_refuse_others(reader, pointer, value, names, sizeof names / sizeof names[0]);
    bool has_size = false;
    const bool at = read_part(reader, pointer, value, &reading_part[PART_AT], &reading->has_at, &reading->at_m);
    const bool around =
        read_part(reader, pointer, value, &reading_part[PART_AROUND], &reading->has_around, &reading->around_rad);
    const bool size = read_part(reader, pointer, value, &reading_part[PART_SIZE], &has_size, &reading->size_m);
    if (!has_size) {
        reader_missing(reader, pointer, reading_part[PART_SIZE].name, "A reading needs the size that was read.");
    }
    return at && around && size && has_size;
}

bool
list_read_readings(struct reader *reader, const char *pointer, const json_t *value, size_t capacity,
                   struct reading *entries, size_t *count)
{
    if (!is_list(reader, pointer, value, capacity, "a list of readings")) {
        return false;
    }
    bool good = true;
    const size_t size = json_array_size(value);
    for (size_t i = 0; i < size; i++) {
        struct place place;
        place_index(&place, pointer, i);
        good = read_reading(reader, place.pointer, json_array_get(value, i), &entries[i]) && good;
    }
    *count = good ? size : 0;
    return good;
}
