#include "wire/schema_part.h"

#include <ctype.h>
#include <string.h>

#include "joint/check.h"
#include "wire/catalogue_write.h"
#include "wire/schema_quantity.h"

/* ---- sentences ---- */

void
words_init(struct words *words)
{
    text_init(&words->text, words->at, sizeof words->at);
}

/* Does the phrase begin with a name of the wire ("pin_load_min over ...")? */
static bool
begins_with_name(const char *phrase)
{
    const size_t length = strcspn(phrase, " ,;:");
    return memchr(phrase, '_', length) != NULL;
}

void
words_sentence(struct words *words, const char *phrase)
{
    const size_t length = phrase != NULL ? strlen(phrase) : 0;
    if (length == 0) {
        return;
    }
    const char first = phrase[0];
    const char start[] = {begins_with_name(phrase) ? first : (char)toupper((unsigned char)first), '\0'};
    text_format(&words->text, "%s%s%s", words->text.length > 0 ? " " : "", start, phrase + 1);
    if (strchr(".!?", phrase[length - 1]) == NULL) {
        text_add(&words->text, ".");
    }
}

void
words_write(struct writer *writer, const struct words *words)
{
    /* A description that does not fit is a fault of ours: nothing is published. */
    writer->defect = writer->defect || words->text.cut;
    writer_text_if(writer, "description", words->at);
}

void
schema_describe(struct writer *writer, const char *phrase)
{
    struct words words;
    words_init(&words);
    words_sentence(&words, phrase);
    words_write(writer, &words);
}

/* ---- names ---- */

void
schema_camel(char name[SCHEMA_NAME_SIZE], const char *prefix, const char *words, const char *suffix)
{
    struct text text;
    bool begins = true;
    text_init(&text, name, SCHEMA_NAME_SIZE);
    text_add(&text, prefix);
    for (const char *at = words; *at != '\0'; at++) {
        if (isalnum((unsigned char)*at)) {
            const char letter = (char)(begins ? toupper((unsigned char)*at) : tolower((unsigned char)*at));
            text_add_bytes(&text, &letter, 1);
            begins = false;
        } else {
            begins = true;
        }
    }
    text_add(&text, suffix);
}

/* ---- parts ---- */

void
schema_begin(struct writer *writer, const char *key, const char *type, const char *phrase)
{
    writer_object(writer, key);
    writer_text(writer, "type", type);
    schema_describe(writer, phrase);
}

void
schema_ref(struct writer *writer, const char *name)
{
    char path[SCHEMA_NAME_SIZE + 16];
    struct text text;
    text_init(&text, path, sizeof path);
    text_format(&text, "#/$defs/%s", name);
    writer_text(writer, "$ref", path);
}

void
schema_refer(struct writer *writer, const char *key, const char *name, const char *phrase)
{
    writer_object(writer, key);
    schema_ref(writer, name);
    schema_describe(writer, phrase);
    writer_object_end(writer);
}

void
schema_refer_list(struct writer *writer, const char *key, const char *name, const char *phrase)
{
    schema_begin(writer, key, "array", phrase);
    schema_refer(writer, "items", name, NULL);
    writer_object_end(writer);
}

void
schema_types(struct writer *writer, const char *first, const char *second)
{
    writer_list(writer, "type");
    writer_text(writer, NULL, first);
    writer_text(writer, NULL, second);
    writer_list_end(writer);
}

static void
write_words(struct writer *writer, const char *key, const char *(*word)(size_t index), size_t count)
{
    writer_list(writer, key);
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, word(i));
    }
    writer_list_end(writer);
}

void
schema_enum(struct writer *writer, const char *key, const char *phrase, const char *(*word)(size_t index), size_t count)
{
    schema_begin(writer, key, "string", phrase);
    write_words(writer, "enum", word, count);
    writer_object_end(writer);
}

void
schema_choice_words(struct writer *writer, enum choice_set set)
{
    size_t count = 0;
    const struct choice_row *choice = choice_table(set, &count);
    writer_list(writer, "enum");
    for (size_t i = 0; i < count; i++) {
        writer_text(writer, NULL, choice[i].text);
    }
    writer_list_end(writer);
}

void
schema_choice(struct writer *writer, const char *key, const char *phrase, enum choice_set set)
{
    schema_begin(writer, key, "string", phrase);
    schema_choice_words(writer, set);
    writer_object_end(writer);
}

void
schema_open_enum(struct writer *writer, const char *key, const char *phrase, const char *pattern,
                 const char *(*word)(size_t index), size_t count)
{
    struct words words;
    words_init(&words);
    words_sentence(&words, phrase);
    words_sentence(&words, "Extensible enum: the examples are all values of this version, later ones may add to them");
    writer_object(writer, key);
    writer_text(writer, "type", "string");
    words_write(writer, &words);
    writer_text(writer, "pattern", pattern);
    write_words(writer, "examples", word, count);
    writer_object_end(writer);
}

/* ---- objects ---- */

void
schema_pointer(struct writer *writer)
{
    writer_text(writer, "type", "string");
    writer_text(writer, "format", "json-pointer");
    writer_text(writer, "pattern", "^/"); /* it never means the whole document */
}

static void
write_path(struct writer *writer, const struct part *part)
{
    writer_object(writer, part->name);
    schema_pointer(writer);
    schema_describe(writer, part->meaning);
    writer_object_end(writer);
}

static void
write_magnitude(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "number", part->meaning);
    writer_text(writer, "format", "double");
    writer_count(writer, "minimum", 0);
    writer_object_end(writer);
}

static void
write_utilization(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "number", part->meaning);
    writer_text(writer, "format", "double");
    writer_count(writer, "minimum", 0);
    writer_count(writer, "maximum", (size_t)UTILIZATION_MAX);
    writer_object_end(writer);
}

static void
write_list_of_texts(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "array", part->meaning);
    writer_object(writer, "items");
    writer_text(writer, "type", "string");
    writer_count(writer, "minLength", 1);
    writer_object_end(writer);
    writer_object_end(writer);
}

static void
write_scalar(struct writer *writer, const struct part *part, const char *type, const char *format)
{
    schema_begin(writer, part->name, type, part->meaning);
    writer_text_if(writer, "format", format);
    writer_object_end(writer);
}

static void
write_text(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "string", part->meaning);
    writer_count(writer, "minLength", 1);
    writer_object_end(writer);
}

/* A few of the table's ids as examples. */
static void
write_examples(struct writer *writer, const char *table)
{
    enum { SHOWN = 3 };
    const struct catalogue *catalogue = catalogue_find(table);
    const size_t count = catalogue != NULL ? catalogue->count() : 0;
    writer_list(writer, "examples");
    for (size_t i = 0; i < count && i < SHOWN; i++) {
        writer_text(writer, NULL, catalogue->id(i));
    }
    writer_list_end(writer);
}

static void
write_id(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "string", part->meaning);
    writer_count(writer, "minLength", 1);
    write_examples(writer, part->of);
    writer_object_end(writer);
}

static void
write_key(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "string", part->meaning);
    writer_text(writer, "pattern", "^[A-Z0-9]+$");
    write_examples(writer, "sources");
    writer_object_end(writer);
}

static void
write_quantity(struct writer *writer, const struct part *part)
{
    char name[SCHEMA_NAME_SIZE];
    schema_quantity_name(name, part->dimension, SCHEMA_WRITTEN);
    schema_refer(writer, part->name, name, part->meaning);
}

static void
write_some(struct writer *writer, const struct part *part)
{
    schema_begin(writer, part->name, "array", part->meaning);
    writer_count(writer, "minItems", 1);
    schema_refer(writer, "items", part->of, NULL);
    writer_object_end(writer);
}

static void
write_part(struct writer *writer, const struct part *part)
{
    switch (part->kind) {
    case PART_TEXT:
        write_text(writer, part);
        break;
    case PART_ID:
        write_id(writer, part);
        break;
    case PART_FLAG:
        write_scalar(writer, part, "boolean", NULL);
        break;
    case PART_COUNT:
        write_scalar(writer, part, "integer", "int32");
        break;
    case PART_NUMBER:
        write_scalar(writer, part, "number", "double");
        break;
    case PART_MAGNITUDE:
        write_magnitude(writer, part);
        break;
    case PART_KEY:
        write_key(writer, part);
        break;
    case PART_UTILIZATION:
        write_utilization(writer, part);
        break;
    case PART_PATH:
        write_path(writer, part);
        break;
    case PART_TEXTS:
        write_list_of_texts(writer, part);
        break;
    case PART_PATHS:
        schema_refer(writer, part->name, "Pointers", part->meaning);
        break;
    case PART_QUANTITY:
        write_quantity(writer, part);
        break;
    case PART_REF:
        schema_refer(writer, part->name, part->of, part->meaning);
        break;
    case PART_REFS:
        schema_refer_list(writer, part->name, part->of, part->meaning);
        break;
    case PART_SOME:
        write_some(writer, part);
        break;
    case PART_OTHER:
        break;
    }
}

static void
write_required(struct writer *writer, const struct part *part, size_t count)
{
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        any = any || part[i].always;
    }
    if (!any) {
        return;
    }
    writer_list(writer, "required");
    for (size_t i = 0; i < count; i++) {
        if (part[i].always) {
            writer_text(writer, NULL, part[i].name);
        }
    }
    writer_list_end(writer);
}

void
schema_object_begin(struct writer *writer, const char *key, const char *phrase, const struct part *part, size_t count)
{
    schema_begin(writer, key, "object", phrase);
    write_required(writer, part, count);
    writer_object(writer, "properties");
    for (size_t i = 0; i < count; i++) {
        write_part(writer, &part[i]);
    }
}

void
schema_object_end(struct writer *writer)
{
    writer_object_end(writer);
    writer_object_end(writer);
}

void
schema_object(struct writer *writer, const char *key, const char *phrase, const struct part *part, size_t count)
{
    schema_object_begin(writer, key, phrase, part, count);
    schema_object_end(writer);
}
