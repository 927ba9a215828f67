#include "wire/problem_text.h"

#include "base/text.h"
#include "joint/job.h"
#include "joint/report.h"
#include "wire/markup.h"
#include "wire/text_part.h"

/* A line holds a place, a sentence and what was expected. */
enum { LINE_SIZE = FAULT_POINTER_SIZE + 3 * FAULT_TEXT_SIZE };

/* Words of ours that may quote the client: they call nobody and link nowhere. */
static void
add_quoting(struct text *line, const char *words)
{
    char harmless[JOB_LABEL_SIZE];
    struct text text;
    text_init(&text, harmless, sizeof harmless);
    text_part_quote(&text, words);
    text_add(line, harmless);
}

static void
fault_line(char line[LINE_SIZE], const struct fault *fault, enum fault_place place)
{
    char where[FAULT_POINTER_SIZE];
    struct text text;
    text_init(&text, line, LINE_SIZE);
    problem_place(where, fault->pointer, place);
    if (where[0] != '\0') {
        add_quoting(&text, where);
        text_add(&text, ": ");
    }
    add_quoting(&text, fault->detail);
    if (fault->expected[0] != '\0') {
        text_format(&text, " Expected: %s.", fault->expected);
    }
    if (fault->nearest[0] != '\0') {
        text_format(&text, " Nearest: %s.", fault->nearest);
    }
}

static size_t
fault_count(const struct refusal *refusal)
{
    return refusal->faults != NULL ? refusal->faults->count : 0;
}

/* The sentence at the head: with faults, their lines say the rest. */
static void
head_line(char line[LINE_SIZE], const struct refusal *refusal)
{
    const struct problem_row *row = problem_row(refusal->problem);
    struct text text;
    text_init(&text, line, LINE_SIZE);
    text_format(&text, "%s.", row->title);
    if (fault_count(refusal) == 0) {
        text_add(&text, " ");
        add_quoting(&text, refusal->detail != NULL ? refusal->detail : row->meaning);
    }
}

void
problem_text_plain(struct buffer *out, const struct refusal *refusal)
{
    char line[LINE_SIZE];
    head_line(line, refusal);
    buffer_format(out, "Not answered: %s\n", line);
    for (size_t i = 0; i < fault_count(refusal); i++) {
        fault_line(line, &refusal->faults->fault[i], refusal->place);
        buffer_format(out, "- %s\n", line);
    }
    size_t count = 0;
    const char *const *caution = caution_always(&count);
    buffer_add(out, "Cautions:\n");
    for (size_t i = 0; i < count; i++) {
        buffer_format(out, "- %s\n", caution[i]);
    }
}

void
problem_text_markdown(struct buffer *out, const struct refusal *refusal)
{
    char line[LINE_SIZE];
    head_line(line, refusal);
    buffer_add(out, "**Not answered**\n\n");
    markup_escape_markdown(out, line);
    buffer_add(out, "\n");
    for (size_t i = 0; i < fault_count(refusal); i++) {
        fault_line(line, &refusal->faults->fault[i], refusal->place);
        buffer_add(out, i == 0 ? "\n- " : "- ");
        markup_escape_markdown(out, line);
        buffer_add(out, "\n");
    }
    text_part_cautions(out);
}

void
problem_text_html(struct buffer *out, const struct refusal *refusal)
{
    struct buffer markdown;
    buffer_init(&markdown);
    problem_text_markdown(&markdown, refusal);
    markup_page_begin(out, "Not answered", problem_row(refusal->problem)->title);
    markup_markdown_to_html(out, markdown.at != NULL ? markdown.at : "");
    markup_page_end(out);
    out->failed = out->failed || markdown.failed;
    buffer_clear(&markdown);
}
