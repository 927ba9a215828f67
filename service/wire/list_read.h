#ifndef SMALLEND_WIRE_LIST_READ_H
#define SMALLEND_WIRE_LIST_READ_H

/* Members of the job that are lists. Each reads into `entries`, at most
 * `capacity` of them, and gives the number read; false and faults added if any
 * entry is refused. */

#include "wire/reader.h"

bool list_read_numbers(struct reader *reader, const char *pointer, const json_t *value,
                       const struct quantity_kind *kind, size_t capacity, double *entries, size_t *count);

/* Ids of steels or metals, each written NUL-terminated into entry_size bytes. */
bool list_read_names(struct reader *reader, const char *pointer, const json_t *value, size_t capacity,
                     size_t entry_size, char *entries, size_t *count);

/* What a reading is made of; only its size must be there. */
struct list_reading_part {
    const char *name;
    struct quantity_kind kind;
    const char *meaning;
};
const struct list_reading_part *list_reading_parts(size_t *count);

bool list_read_readings(struct reader *reader, const char *pointer, const json_t *value, size_t capacity,
                        struct reading *entries, size_t *count);

#endif
