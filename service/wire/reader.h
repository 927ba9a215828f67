#ifndef SMALLEND_WIRE_READER_H
#define SMALLEND_WIRE_READER_H

/*
 * What the readers of a job share: the job being filled, the faults found, the
 * place in the document, and the reading of single values. Every function that
 * reads returns true and fills its last pointer, or adds faults and leaves it
 * untouched.
 */

#include <stdbool.h>
#include <stddef.h>

#include <jansson.h>

#include "base/fault.h"
#include "joint/job.h"

struct reader {
    struct job *job;           /* borrowed */
    struct fault_list *faults; /* borrowed */
};

/* A place in the document, as a JSON pointer (RFC 6901). */
struct place {
    char pointer[FAULT_POINTER_SIZE];
};
void place_member(struct place *place, const char *parent, const char *name);
void place_index(struct place *place, const char *parent, size_t index);

/* A member of an object; NULL where it is absent or null, which are alike. */
json_t *reader_member(const json_t *object, const char *name);

/* ---- faults ---- */

/*
 * Add a fault whose "got" shows the value. `detail` is a whole sentence.
 * Returns NULL where the list is full.
 */
struct fault *reader_fault(struct reader *reader, enum fault_code code, const char *pointer, const json_t *value,
                           const char *detail);

/* Wrong type: "expected" says in words what belongs there. */
void reader_wrong_type(struct reader *reader, const char *pointer, const json_t *value, const char *expected);

/* A member that must be there is not. */
void reader_missing(struct reader *reader, const char *parent, const char *name, const char *detail);

/* Refuse the member `key` of the object at `pointer`, which takes `names`. */
void reader_refuse_member(struct reader *reader, const char *pointer, const char *key, const char *const *names,
                          size_t count);

/* Refuse every member of `object` whose name is not among `names`. */
void reader_refuse_others(struct reader *reader, const char *pointer, json_t *object, const char *const *names,
                          size_t count);

/* ---- values ---- */

/* What a quantity must be. Range in SI, inclusive. */
struct quantity_kind {
    enum dimension dimension;
    double minimum, maximum;
};

/* A JSON number in the document's unit, or text with its own. */
bool reader_quantity(struct reader *reader, const char *pointer, const json_t *value, const struct quantity_kind *kind,
                     double *si);

/* Check an SI value against the range; adds the fault itself. */
bool reader_in_range(struct reader *reader, const char *pointer, const json_t *value, const struct quantity_kind *kind,
                     double si);

/*
 * Text into a buffer of `capacity` bytes, at most `characters_max` characters
 * (0 = only the buffer limits); no control characters.
 */
bool reader_text(struct reader *reader, const char *pointer, const json_t *value, size_t characters_max, char *buffer,
                 size_t capacity);

/* One word of a choice set, upper and lower case alike. */
bool reader_choice(struct reader *reader, const char *pointer, const json_t *value, enum choice_set set, int *choice);

/* Words of a list in a sentence: "a", "b", "c". */
struct text;
void reader_add_word(struct text *text, const char *word);

#endif
