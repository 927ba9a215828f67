#include "wire/reference_write.h"

#include <string.h>

#include "base/fault.h"
#include "base/text.h"
#include "base/version.h"
#include "joint/job.h"
#include "joint/report.h"
#include "quantity/quantity.h"
#include "wire/catalogue_write.h"
#include "wire/markup.h"
#include "wire/problem.h"
#include "wire/text_part.h"

enum { CELL_SIZE = 400 };

static void
add_intro(struct buffer *out)
{
    buffer_format(out, "**%s %s, rules %s**\n\n", SMALLEND_NAME, SMALLEND_VERSION, SMALLEND_RULES);
    buffer_add(
        out,
        "Load, strength, slot, fits, steel, turning and inspection of the wrist pin in an old stationary engine. Send "
        "one JSON document, the job, to any call; each reads what it needs of it. Nothing is mandatory: what cannot be "
        "judged is listed with what it needs, what was taken for granted is listed too.\n\n"
        "- by POST: `curl -H 'Content-Type: application/json' -d @job.json http://HOST/v1/check`\n"
        "- by link: `/v1/check?engine.bore=5+1/4+in&engine.stroke=8&pin.diameter=1.375&format=md`, members named by "
        "their path, entries of a list by number (`inspection.readings.0.size`); or the whole document as base64url "
        "in `job=`\n"
        "- forms: `?format=json`, `md`, `txt`, `html` or, where there is a picture, `svg`; or by Accept\n"
        "- a number is read in the unit system of the job (`units`: `inch` or `metric`), a text carries its own unit: "
        "`\"5 1/4 in\"`, `\"0.8 thou\"`, `\"3 tenths\"`, `\"34.92 mm\"`, `\"285 psi\"`, `\"19 bar\"`\n"
        "- limits of size: `{\"min\": q, \"max\": q}`, `{\"nominal\": q, \"upper\": q, \"lower\": q}`, "
        "`{\"nominal\": q, \"class\": \"g6\"}`, or one quantity\n"
        "- contract for programs: </openapi.json>\n");
}

static void
add_calls(struct buffer *out)
{
    buffer_add(out, "\n**Calls** (POST a job, or GET with its members in the query; one of them by POST alone)\n\n"
                    "| Call | Answers |\n|---|---|\n");
    for (int i = 0; i < CALL_COUNT; i++) {
        const struct call_row *row = call_row((enum call)i);
        buffer_format(out, "| `/v1/%s` | ", row->word);
        markup_escape_markdown(out, row->summary);
        buffer_add(out, row->by_link ? " |\n" : " (POST alone) |\n");
    }
}

/* ---- members of the job ---- */

static void
add_quantity_cell(struct text *cell, const struct job_field_row *row)
{
    char inch[2 * QUANTITY_TEXT_SIZE], metric[2 * QUANTITY_TEXT_SIZE];
    const enum dimension dimension = row->kind == KIND_LIMITS ? DIMENSION_LENGTH : row->dimension;
    quantity_write_range(inch, sizeof inch, row->minimum, row->maximum, dimension, UNITS_INCH);
    quantity_write_range(metric, sizeof metric, row->minimum, row->maximum, dimension, UNITS_METRIC);
    text_format(cell, "%s%s, %s",
                row->kind == KIND_LIMITS    ? "limits, "
                : row->kind == KIND_NUMBERS ? "list, "
                                            : "",
                dimension_name(dimension), inch);
    if (strcmp(inch, metric) != 0) {
        text_format(cell, " (%s)", metric);
    }
}

static void
add_choice_cell(struct text *cell, enum choice_set set)
{
    size_t count = 0;
    const struct choice_row *row = choice_table(set, &count);
    for (size_t i = 0; i < count; i++) {
        text_format(cell, "%s\"%s\"", i > 0 ? ", " : "", row[i].text);
    }
}

/* What a member takes. */
static void
add_kind_cell(struct text *cell, const struct job_field_row *row)
{
    switch (row->kind) {
    case KIND_NUMBER:
    case KIND_NUMBERS:
    case KIND_LIMITS:
        add_quantity_cell(cell, row);
        break;
    case KIND_CHOICE:
        add_choice_cell(cell, row->choices);
        break;
    case KIND_TEXT:
        text_format(cell, "text up to %zu characters", row->capacity - 1);
        break;
    case KIND_FLAG:
        text_add(cell, "true or false");
        break;
    case KIND_STEEL:
        text_add(cell, "id of /v1/steels, or an object with figures of your own");
        break;
    case KIND_METAL:
        text_add(cell, "id of /v1/bearing-metals, or an object with figures of your own");
        break;
    case KIND_THREAD:
        text_add(cell, "designation, such as 3/8-16 UNC or M10x1.5");
        break;
    case KIND_NAMES:
        text_format(cell, "list of ids, up to %zu", row->capacity);
        break;
    case KIND_RAW:
        text_add(cell, "quantity of the member sought");
        break;
    case KIND_READINGS:
        text_format(cell, "list of {at, around, size}, up to %zu", row->capacity);
        break;
    }
}

static void
add_member(struct buffer *out, enum job_field field)
{
    const struct job_field_row *row = job_field_row(field);
    char kind[CELL_SIZE];
    struct text cell;
    text_init(&cell, kind, sizeof kind);
    add_kind_cell(&cell, row);
    buffer_format(out, "| `%s` | ", row->path);
    markup_escape_markdown(out, row->meaning);
    buffer_add(out, " | ");
    markup_escape_markdown(out, kind);
    buffer_add(out, " | ");
    markup_escape_markdown(out, job_default_text(field));
    buffer_add(out, " |\n");
}

static void
add_members(struct buffer *out)
{
    buffer_add(out, "\n**Members of the job** beside `units` and `label`, a text of up to 120 characters\n\n"
                    "| Member | Meaning | Takes | Where absent |\n|---|---|---|---|\n");
    for (int field = 0; field < FIELD_COUNT; field++) {
        add_member(out, (enum job_field)field);
    }
}

/* ---- tables and problems ---- */

static void
add_tables(struct buffer *out)
{
    buffer_add(out, "\n**Tables** (GET)\n\n");
    for (size_t i = 0; i < catalogue_count(); i++) {
        buffer_format(out, "- </v1/%s>: %s\n", catalogue_at(i)->name, catalogue_at(i)->summary);
    }
}

static void
add_problems(struct buffer *out)
{
    buffer_add(out, "\n**Why a request is not answered** (application/problem+json)\n\n"
                    "| Status | Type | Title | What to do |\n|---|---|---|---|\n");
    for (int i = 0; i < PROBLEM_COUNT; i++) {
        const struct problem_row *row = problem_row((enum problem)i);
        char type[PROBLEM_TYPE_SIZE];
        problem_type((enum problem)i, type);
        buffer_format(out, "| %d | `%s` | ", row->status, type);
        markup_escape_markdown(out, row->title);
        buffer_add(out, " | ");
        markup_escape_markdown(out, row->meaning);
        buffer_add(out, " |\n");
    }
    buffer_add(out, "\nA 422 lists every fault with its place and one of the codes");
    for (int code = 0; code < FAULT_CODE_COUNT; code++) {
        buffer_format(out, "%s `%s`", code > 0 ? "," : "", fault_code_text((enum fault_code)code));
    }
    buffer_add(out, ".\n");
}

void
reference_write_markdown(struct buffer *out)
{
    add_intro(out);
    add_calls(out);
    add_members(out);
    add_tables(out);
    add_problems(out);
    text_part_cautions(out);
}

void
reference_write_page(struct buffer *out)
{
    struct buffer markdown;
    buffer_init(&markdown);
    reference_write_markdown(&markdown);
    markup_page_begin(out, SMALLEND_NAME,
                      "Questions about the wrist pin of an old stationary engine, answered over HTTP");
    markup_markdown_to_html(out, markdown.at != NULL ? markdown.at : "");
    markup_page_end(out);
    out->failed = out->failed || markdown.failed;
    buffer_clear(&markdown);
}
