#include "wire/text_write.h"

#include "base/text.h"
#include "wire/message.h"
#include "wire/text_order.h"
#include "wire/text_part.h"

/* Verdict, label and summary, which names the worst check, in one line that is
 * never too long. */
static void
add_verdict_line(struct buffer *out, const struct job *job, const struct report *report)
{
    static const char dots[] = "...";
    char line[TEXT_LINE_MAX + 1 - (sizeof dots - 1)];
    struct text text;
    text_init(&text, line, sizeof line);
    text_add(&text, text_part_verdict(report->verdict));
    if (job->label[0] != '\0') {
        text_add(&text, " (");
        text_part_label(&text, job->label);
        text_add(&text, ")");
    }
    text_add(&text, ": ");
    message_write(&text, &report->summary, job->units);
    buffer_add(out, line);
    buffer_add(out, text.cut ? dots : "");
    buffer_add(out, "\n");
}

void
text_write_plain(struct buffer *out, const struct job *job, const struct report *report, const char *link)
{
    add_verdict_line(out, job, report);
    text_order_add(out, job, report, TEXT_PLAIN);
    if (report->next_step_count > 0) {
        struct message_text step;
        message_render(&step, &report->next_step[0].text, job->units);
        buffer_join(out, "Next: ", step.at, "\n");
    }
    if (link != NULL) {
        buffer_join(out, link, "\n");
    }
    buffer_add(out, "Cautions:\n");
    for (size_t i = 0; i < report->caution_count; i++) {
        buffer_join(out, "- ", report->caution[i], "\n");
    }
}
