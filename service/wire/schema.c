#include "wire/schema.h"

#include <string.h>

#include "base/version.h"
#include "joint/report.h"
#include "wire/answer.h"
#include "wire/catalogue_write.h"
#include "wire/schema_answer.h"
#include "wire/schema_job.h"
#include "wire/schema_problem.h"
#include "wire/schema_table.h"

/* ---- what each document holds besides its own definitions ---- */

static void
write_problem(struct writer *writer)
{
    schema_problem(writer);
    schema_shared(writer);
}

/* Rows name verdicts, quantities and cautions, which the answer defines. */
static void
write_tables(struct writer *writer)
{
    schema_table(writer);
    schema_answer(writer);
}

static const struct {
    const char *name;
    const char *root; /* the definition that a document must meet; NULL: one of several */
    const char *title;
    void (*write)(struct writer *writer);
} schemas[] = {
    {"job", "Job", "The job: what a client sends to every call", schema_job},
    {"query", "JobQuery", "The job as parameters of a link", schema_job_query},
    {"answer", "Answer", "What a call answers", schema_answer},
    {"problem", "Problem", "Why a request was not answered", write_problem},
    {"tables", NULL, "The tables of the service", write_tables},
};

enum { SCHEMA_COUNT = sizeof schemas / sizeof schemas[0] };

const char *
schema_name(size_t index)
{
    return index < SCHEMA_COUNT ? schemas[index].name : NULL;
}

/* A document that is any one of the tables. */
static void
write_any_table(struct writer *writer)
{
    writer_list(writer, "anyOf");
    for (size_t i = 0; i < catalogue_count(); i++) {
        char name[SCHEMA_NAME_SIZE];
        schema_row_name(name, catalogue_at(i)->name, "Table");
        schema_refer(writer, NULL, name, NULL);
    }
    writer_list_end(writer);
}

bool
schema_write(struct buffer *out, const char *name)
{
    size_t index = 0;
    struct writer writer;
    while (index < SCHEMA_COUNT && strcmp(schemas[index].name, name) != 0) {
        index++;
    }
    if (index == SCHEMA_COUNT) {
        return false;
    }
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    writer_text(&writer, "$schema", "https://json-schema.org/draft/2020-12/schema");
    writer_text(&writer, "title", schemas[index].title);
    writer_text(&writer, "$comment", SMALLEND_NAME " " SMALLEND_VERSION ", rules " SMALLEND_RULES);
    if (schemas[index].root != NULL) {
        schema_ref(&writer, schemas[index].root);
    } else {
        write_any_table(&writer);
    }
    writer_object(&writer, "$defs");
    schemas[index].write(&writer);
    writer_object_end(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
    if (writer.defect) {
        buffer_clear(out);
        out->failed = true;
    }
    return true;
}

static void
write_call(struct writer *writer, enum call call)
{
    const struct call_row *row = call_row(call);
    writer_object(writer, NULL);
    writer_text(writer, "id", row->id);
    writer_text(writer, "word", row->word);
    writer_text(writer, "summary", row->summary);
    writer_list(writer, "sections");
    for (int section = 0; section < SECTION_COUNT; section++) {
        if (row->sections & (1u << section)) {
            writer_text(writer, NULL, section_text((enum section)section));
        }
    }
    writer_list_end(writer);
    writer_list(writer, "forms");
    for (int format = 0; format < ANSWER_FORMATS; format++) {
        if (answer_forms(call) & (1u << format)) {
            writer_text(writer, NULL, answer_form((enum answer_format)format)->word);
        }
    }
    writer_list_end(writer);
    writer_object_end(writer);
}

void
schema_write_calls(struct buffer *out)
{
    struct writer writer;
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    writer_list(&writer, "calls");
    for (int i = 0; i < CALL_COUNT; i++) {
        write_call(&writer, (enum call)i);
    }
    writer_list_end(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
}
