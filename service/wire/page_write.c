#include "wire/page_write.h"

#include "base/text.h"
#include "base/version.h"
#include "wire/link_write.h"
#include "wire/markup.h"
#include "wire/message.h"
#include "wire/drawing.h"
#include "wire/reply.h"
#include "wire/text_part.h"
#include "wire/text_write.h"

/* Title and description are what a forum shows of a link. */
static void
begin_page(struct buffer *out, const struct job *job, const struct report *report)
{
    char title[JOB_LABEL_SIZE + 64];
    struct message_text summary;
    struct text text;
    text_init(&text, title, sizeof title);
    text_add(&text, text_part_verdict(report->verdict));
    if (job->label[0] != '\0') {
        text_add(&text, ": ");
        text_part_label(&text, job->label);
    }
    text_add(&text, " - " SMALLEND_NAME);
    message_render(&summary, &report->summary, job->units);
    markup_page_begin(out, title, summary.at);
}

/* The same answer in the other forms. */
static void
add_forms(struct buffer *out, const char *link)
{
    static const enum answer_format others[] = {ANSWER_JSON, ANSWER_MD, ANSWER_TXT};
    buffer_add(out, "<p>The same as");
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        struct buffer address;
        char parameter[32];
        struct text text;
        text_init(&text, parameter, sizeof parameter);
        text_format(&text, "format=%s", answer_form(others[i])->word);
        buffer_init(&address);
        buffer_add(&address, link);
        link_add(&address, parameter);
        buffer_add(out, i > 0 ? ", <a href=\"" : " <a href=\"");
        markup_escape_html(out, address.at != NULL ? address.at : "", address.length);
        buffer_join(out, "\">", answer_form(others[i])->media_type, "</a>");
        out->failed = out->failed || address.failed;
        buffer_clear(&address);
    }
    buffer_add(out, "</p>\n");
}

void
page_write(struct buffer *out, const struct job *job, const struct report *report, const char *link)
{
    struct buffer markdown;
    buffer_init(&markdown);
    text_write_markdown(&markdown, job, report, link);
    begin_page(out, job, report);
    markup_markdown_to_html(out, markdown.at != NULL ? markdown.at : "");
    if (drawing_of(report->call)) {
        drawing_write(out, job, report, 0);
    }
    if (link != NULL) {
        add_forms(out, link);
    }
    markup_page_end(out);
    out->failed = out->failed || markdown.failed;
    buffer_clear(&markdown);
}
