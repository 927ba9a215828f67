#include "wire/schema_problem.h"

#include "base/fault.h"
#include "wire/problem.h"

static const struct part fault_part[] = {
    {"pointer", PART_OTHER, false, 0, NULL, NULL},
    {"parameter", PART_TEXT, false, 0, NULL, "or which parameter of the address"},
    {"code", PART_OTHER, true, 0, NULL, NULL},
    {"detail", PART_TEXT, true, 0, NULL, "a plain sentence for a person"},
    {"got", PART_TEXT, false, 0, NULL, "what was found there"},
    {"expected", PART_TEXT, false, 0, NULL, "what belongs there"},
    {"nearest", PART_TEXT, false, 0, NULL, "the nearest name, word or id that is known"},
};

static const char *
code_at(size_t index)
{
    return fault_code_text((enum fault_code)index);
}

static const char *
type_at(size_t index)
{
    static const char *const types[] = {
#define PROBLEM(id, name, status, title, meaning) "/v1/problems/" name,
#include "wire/problem.def"
    };
    return types[index];
}

static void
write_fault(struct writer *writer)
{
    schema_object_begin(writer, "Fault", "one thing that is wrong with a request", PARTS(fault_part));
    schema_begin(writer, "pointer", "string", "where in the body, as a JSON pointer; empty: the document as a whole");
    writer_text(writer, "format", "json-pointer");
    writer_object_end(writer);
    schema_open_enum(writer, "code", "what kind of fault it is", SCHEMA_WORD, code_at, FAULT_CODE_COUNT);
    schema_object_end(writer);
}

static void
write_status(struct writer *writer)
{
    schema_begin(writer, "status", "integer", "the status of HTTP");
    writer_text(writer, "format", "int32");
    writer_count(writer, "minimum", 400);
    writer_count(writer, "maximum", 599);
    writer_object_end(writer);
}

void
schema_problem(struct writer *writer)
{
    static const struct part part[] = {
        {"type", PART_OTHER, true, 0, NULL, NULL},
        {"status", PART_OTHER, true, 0, NULL, NULL},
        {"title", PART_TEXT, true, 0, NULL, "the kind of problem in a few words"},
        {"detail", PART_TEXT, true, 0, NULL, "this problem in plain sentences"},
        {"instance", PART_TEXT, false, 0, NULL, "the path that was asked for"},
        {"errors", PART_REFS, false, 0, "Fault", "every fault that was found, not only the first; at most 40"},
        {"cautions", PART_REF, true, 0, "Cautions", NULL},
    };
    schema_object_begin(writer, "Problem", "why a request was not answered (RFC 9457)", PARTS(part));
    schema_open_enum(writer, "type", "the kind of problem; the path explains it", "^/v1/problems/[a-z0-9-]+$", type_at,
                     PROBLEM_COUNT);
    write_status(writer);
    schema_object_end(writer);
    write_fault(writer);
}
