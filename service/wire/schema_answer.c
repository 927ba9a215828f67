#include "wire/schema_answer.h"

#include "base/version.h"
#include "joint/check.h"
#include "joint/report.h"
#include "wire/schema_quantity.h"

/* What the writers in report_write.c and check_write.c put into an answer; the
 * contract tests hold every member of real answers against it. */

static const struct part service_part[] = {
    {"name", PART_OTHER, true, 0, NULL, NULL},
    {"version", PART_OTHER, true, 0, NULL, NULL},
    {"rules", PART_OTHER, true, 0, NULL, NULL},
};

static const struct part answer_part[] = {
    {"service", PART_REF, true, 0, "Service", "which program answered"},
    {"label", PART_TEXT, false, 0, NULL, "as the job gave it"},
    {"verdict", PART_REF, true, 0, "Verdict", "the worst of the checks, or incomplete"},
    {"summary", PART_TEXT, true, 0, NULL, "the verdict in one or two plain sentences"},
    {"next_steps", PART_REFS, true, 0, "NextStep", "what to do now, most useful first"},
    {"results", PART_OTHER, true, 0, NULL, NULL},
    {"checks", PART_REFS, true, 0, "Check", "every check that could be judged"},
    {"not_checked", PART_REFS, true, 0, "NotChecked", "every check that could not be judged, and what it would need"},
    {"assumptions", PART_REFS, true, 0, "Assumption",
     "every default that the answer rests on: replace it by a measurement"},
    {"cautions", PART_REF, true, 0, "Cautions", NULL},
};

static const struct part next_step_part[] = {
    {"text", PART_TEXT, true, 0, NULL, "a plain sentence"},
    {"at", PART_PATH, false, 0, NULL, "the member of the job to change or to give"},
    {"to", PART_REF, false, 0, "Quantity", "the value that would mend it"},
};

static const struct part assumption_part[] = {
    {"because", PART_TEXT, true, 0, NULL, "why this default, and what it rests on"},
    {"at", PART_PATH, false, 0, NULL, "the member of the job that was left out"},
    {"value", PART_REF, false, 0, "AssumedValue", "what stands in for it"},
};

static const struct part check_part[] = {
    {"id", PART_REF, true, 0, "CheckId", NULL},
    {"section", PART_REF, true, 0, "SectionId", NULL},
    {"verdict", PART_REF, true, 0, "Verdict", NULL},
    {"value", PART_REF, false, 0, "QuantityOrLimits", "what came out; of a two-sided check two limits"},
    {"advised", PART_REF, false, 0, "Quantity", "beyond this the check is marginal"},
    {"limit", PART_REF, false, 0, "Quantity", "beyond this it fails"},
    {"advised_low", PART_REF, false, 0, "Quantity", "of a two-sided check: below this it is marginal"},
    {"advised_high", PART_REF, false, 0, "Quantity", "of a two-sided check: above this it is marginal"},
    {"limit_low", PART_REF, false, 0, "Quantity", "of a two-sided check: below this it fails"},
    {"limit_high", PART_REF, false, 0, "Quantity", "of a two-sided check: above this it fails"},
    {"utilization", PART_UTILIZATION, false, 0, NULL,
     "demand over limit (of a factor: limit over factor): above 1 it fails; never above 999. Of a two-sided check the "
     "distance from the middle of the limits over half their width"},
    {"reads", PART_PATHS, true, 0, NULL, "the members of the job that it rests on"},
    {"assumed", PART_PATHS, true, 0, NULL, "those of them that a default stands in for"},
    {"basis", PART_TEXT, true, 0, NULL, "the formula in words"},
    {"source", PART_TEXT, true, 0, NULL, "publication and table"},
    {"advice", PART_TEXT, false, 0, NULL, "what to change"},
};

static const struct part not_checked_part[] = {
    {"id", PART_TEXT, true, 0, NULL, "id of the check, or name of a result that was left out"},
    {"section", PART_REF, true, 0, "SectionId", NULL},
    {"needs", PART_OTHER, true, 0, NULL, NULL},
    {"because", PART_TEXT, false, 0, NULL, "why, where no member of the job would help"},
};

static const char *
verdict_at(size_t index)
{
    return verdict_text((enum verdict)index);
}

static const char *
section_at(size_t index)
{
    return section_text((enum section)index);
}

static const char *
check_at(size_t index)
{
    return check_row(index)->id;
}

static void
write_pattern(struct writer *writer, const char *key, const char *pattern, const char *phrase)
{
    schema_begin(writer, key, "string", phrase);
    writer_text(writer, "pattern", pattern);
    writer_object_end(writer);
}

static void
write_service(struct writer *writer)
{
    schema_object_begin(writer, "Service", "which program answered, and by which edition of the rules",
                        PARTS(service_part));
    schema_begin(writer, "name", "string", "the program");
    writer_text(writer, "const", SMALLEND_NAME);
    writer_object_end(writer);
    write_pattern(writer, "version", "^[0-9]+\\.[0-9]+\\.[0-9]+", "its version (semantic versioning)");
    write_pattern(writer, "rules", "^[0-9]{4}-[0-9]{2}",
                  "edition of the engineering rules, year and month; figures change only with it, so keep it with a "
                  "stored answer");
    schema_object_end(writer);
}

void
schema_shared(struct writer *writer)
{
    write_service(writer);
    schema_enum(writer, "Verdict",
                "ok: passes; marginal: beyond what is advised, within the limit; incomplete: what was asked could not "
                "be judged, or rests on assumed dimensions; fails: beyond a limit",
                verdict_at, VERDICT_FAILS + 1);
    schema_open_enum(writer, "SectionId", "section of the answer", SCHEMA_WORD, section_at, SECTION_COUNT);
    schema_open_enum(writer, "CheckId", "id of a check; GET /v1/checks describes each", SCHEMA_WORD, check_at,
                     check_count());
    schema_begin(writer, "Cautions", "array",
                 "what a person who acts on the answer must know, in plain sentences: show them with every figure");
    writer_count(writer, "minItems", 1);
    writer_object(writer, "items");
    writer_text(writer, "type", "string");
    writer_count(writer, "minLength", 1);
    writer_object_end(writer);
    writer_object_end(writer);
}

static void
write_not_checked(struct writer *writer)
{
    schema_object_begin(writer, "NotChecked", "a check that could not be judged", PARTS(not_checked_part));
    schema_begin(writer, "needs", "array",
                 "lists of members of the job: any one of the lists, given whole, would do; empty where none would");
    schema_refer(writer, "items", "Pointers", NULL);
    writer_object_end(writer);
    schema_object_end(writer);
}

/* The answer of any call that a batch may ask for: all but the order. */
static void
write_any_answer(struct writer *writer)
{
    schema_object_begin(writer, "Answer",
                        "a computed answer of any calculation. A check that fails is an ordinary answer, not an error: "
                        "read the verdict",
                        PARTS(answer_part));
    schema_refer(writer, "results", "Results", "every figure, by section");
    schema_object_end(writer);
}

/* The same of one call, with its own sections and no others: "SetScrewAnswer". */
static void
write_answer_of(struct writer *writer, enum call call)
{
    char name[SCHEMA_NAME_SIZE];
    struct words words;
    const struct call_row *const row = call_row(call);
    schema_camel(name, "", row->id, "Answer");
    words_init(&words);
    words_sentence(&words, row->summary);
    words_sentence(&words, "a check that fails is an ordinary answer, not an error: read the verdict");
    schema_object_begin(writer, name, words.at, PARTS(answer_part));
    schema_begin(writer, "results", "object",
                 "one member for each section that could be computed; what a job does not give enough for is left out");
    writer_object(writer, "properties");
    schema_sections(writer, row->sections, call);
    schema_object_end(writer);
    schema_object_end(writer);
}

/* Lists of members of a job, as several schemas hold them. */
static void
write_pointers(struct writer *writer)
{
    schema_begin(writer, "Pointers", "array", "members of the job, as JSON pointers");
    writer_object(writer, "items");
    schema_pointer(writer);
    writer_object_end(writer);
    writer_object_end(writer);
}

void
schema_answer(struct writer *writer)
{
    write_any_answer(writer);
    for (int i = 0; i < CALL_COUNT; i++) {
        write_answer_of(writer, (enum call)i);
    }
    write_pointers(writer);
    schema_object(writer, "NextStep", "something to do", PARTS(next_step_part));
    schema_object(writer, "Check", "one check: what came out, what it is held against, and the rule it rests on",
                  PARTS(check_part));
    write_not_checked(writer);
    schema_object(writer, "Assumption", "a default that was used", PARTS(assumption_part));
    schema_any_quantity(writer);
    for (int i = 0; i < DIMENSION_UNIT_COUNT; i++) {
        schema_quantity_written(writer, (enum dimension)i);
    }
    schema_limits_written(writer, DIMENSION_LENGTH);
    schema_results(writer);
    schema_shared(writer);
}
