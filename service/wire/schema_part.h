#ifndef SMALLEND_WIRE_SCHEMA_PART_H
#define SMALLEND_WIRE_SCHEMA_PART_H

/* Vocabulary of the files that write schemas. */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "joint/job.h"
#include "quantity/unit.h"
#include "wire/writer.h"

/* ---- sentences ---- */

/* A description being put together. */
enum { WORDS_SIZE = 4096 };
struct words {
    char at[WORDS_SIZE];
    struct text text;
};

void words_init(struct words *words);

/* Add a phrase of a table as a sentence of its own: "cylinder bore" becomes
 * "Cylinder bore."; what begins with a name of the wire stays small. */
void words_sentence(struct words *words, const char *phrase);

/* Write what was put together as "description"; nothing if it is empty. */
void words_write(struct writer *writer, const struct words *words);

/* A member "description" with this one sentence. */
void schema_describe(struct writer *writer, const char *phrase);

/* ---- names ---- */

enum { SCHEMA_NAME_SIZE = 64 };

/* "JobClampBolt" of "Job" and "clamp_bolt"; hyphens, blanks and underscores
 * part words. `suffix` may be "". */
void schema_camel(char name[SCHEMA_NAME_SIZE], const char *prefix, const char *words, const char *suffix);

/* ---- parts ---- */

/* Begin a schema of this type ("object", "string" ...), described. The caller
 * ends the object. */
void schema_begin(struct writer *writer, const char *key, const char *type, const char *phrase);

/* The member "$ref" to the definition of this name. */
void schema_ref(struct writer *writer, const char *name);

/* {"$ref": "#/$defs/NAME", "description": ...}; `phrase` may be NULL. */
void schema_refer(struct writer *writer, const char *key, const char *name, const char *phrase);

/* {"type": "array", "items": {"$ref": ...}, "description": ...} */
void schema_refer_list(struct writer *writer, const char *key, const char *name, const char *phrase);

/*
 * The member "type" of what may be of either of two types. One schema with two
 * types, and not "oneOf": a validator then says what is wrong with the type that
 * was given, and not only that none of the alternatives fits.
 */
void schema_types(struct writer *writer, const char *first, const char *second);

/* The members "type", "format" and "pattern" of a JSON pointer to a member of the job. */
void schema_pointer(struct writer *writer);

/* A closed set of words. */
void schema_enum(struct writer *writer, const char *key, const char *phrase, const char *(*word)(size_t index),
                 size_t count);

/* The words of a choice of the job, as a schema of its own; and as the member "enum" of one. */
void schema_choice(struct writer *writer, const char *key, const char *phrase, enum choice_set set);
void schema_choice_words(struct writer *writer, enum choice_set set);

/* A set of words that may grow: told as examples, and by the pattern that later ones keep to as well. */
#define SCHEMA_WORD "^[a-z][a-z0-9_]*$"
void schema_open_enum(struct writer *writer, const char *key, const char *phrase, const char *pattern,
                      const char *(*word)(size_t index), size_t count);

/* What a member of an object of an answer is. */
enum part_kind {
    PART_TEXT, /* never empty: an empty one is left out */
    PART_ID,   /* id of a row of the table `of` */
    PART_FLAG,
    PART_COUNT,    /* a whole number */
    PART_NUMBER,   /* a number without a unit of its own */
    PART_MAGNITUDE, /* the same, never negative */
    PART_UTILIZATION,
    PART_KEY,      /* key of a source */
    PART_TEXTS,    /* list of texts */
    PART_PATHS,    /* list of JSON pointers into the job */
    PART_PATH,     /* one of them */
    PART_QUANTITY, /* {"value", "unit"} in `dimension` */
    PART_REF,      /* what the schema `of` says */
    PART_REFS,     /* list of what it says */
    PART_SOME,     /* the same, never empty */
    PART_OTHER     /* written by the caller; named here to be among the required */
};

struct part {
    const char *name;
    enum part_kind kind;
    bool always; /* it is never left out */
    enum dimension dimension;
    const char *of;
    const char *meaning;
};

/* The members "type", "required" and "properties" of an object of these parts;
 * "properties" stays open for more: the caller ends it and the object. */
void schema_object_begin(struct writer *writer, const char *key, const char *phrase, const struct part *part,
                         size_t count);
void schema_object_end(struct writer *writer);

/* The whole of it. */
void schema_object(struct writer *writer, const char *key, const char *phrase, const struct part *part, size_t count);

#define PARTS(array) (array), sizeof(array) / sizeof((array)[0])

#endif
