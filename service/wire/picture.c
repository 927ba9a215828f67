#include "wire/picture.h"

#include <string.h>

#include "base/text.h"
#include "wire/message.h"
#include "wire/svg_measure.h"

enum { LINE_SIZE = 400 };

/* Baseline of a line of letters below its top. */
static double
baseline(const struct svg_letter *letter)
{
    return letter->size;
}

double
picture_paragraph(struct buffer *out, double left, double right, double top, const struct svg_letter *letter,
                  const char *text)
{
    char line[LINE_SIZE];
    const char *at = text;
    double y = top;

    while (svg_text_wrap(&at, line, sizeof line, letter, right - left)) {
        if (out != NULL) {
            svg_text(out, left, y + baseline(letter), SVG_START, letter, line);
        }
        y += letter->size + PICTURE_LINE - svg_plain.size;
    }
    return y;
}

double
picture_label(struct buffer *out, const struct job *job, const char *otherwise, double top)
{
    static const double width = PICTURE_RIGHT - PICTURE_LEFT;
    char line[LINE_SIZE], rest[LINE_SIZE];
    const char *at = job->label[0] != '\0' ? job->label : otherwise;
    double y = top;

    if (!svg_text_wrap(&at, line, sizeof line, &svg_title, width)) {
        return y; /* nothing but spaces */
    }
    at += strspn(at, " ");
    svg_text_cut(rest, sizeof rest, &svg_title, at, width);
    if (out != NULL) {
        svg_text(out, PICTURE_LEFT, y + baseline(&svg_title), SVG_START, &svg_title, line);
    }
    y += svg_title.size + 4.0;
    if (rest[0] != '\0') {
        if (out != NULL) {
            svg_text(out, PICTURE_LEFT, y + baseline(&svg_title), SVG_START, &svg_title, rest);
        }
        y += svg_title.size + 4.0;
    }
    return y + 2.0;
}

double
picture_verdict(struct buffer *out, const struct job *job, const struct report *report, double top)
{
    char verdict[64];
    struct text text;
    struct message_text summary;

    text_init(&text, verdict, sizeof verdict);
    text_format(&text, "Verdict: %s", verdict_text(report->verdict));
    message_render(&summary, &report->summary, job->units);
    return picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT,
                             picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, top, &svg_bold, verdict), &svg_plain,
                             summary.at);
}

double
picture_cautions(struct buffer *out, const struct report *report, double top)
{
    static const double indent = 10.0;
    double y = top + 6.0;

    if (report->caution_count == 0) {
        return top;
    }
    if (out != NULL) {
        svg_line(out, PICTURE_LEFT, top, PICTURE_RIGHT, top, SVG_INK_THIN);
    }
    y = picture_paragraph(out, PICTURE_LEFT, PICTURE_RIGHT, y, &svg_bold, "Cautions");
    for (size_t i = 0; i < report->caution_count; i++) {
        if (out != NULL) {
            svg_ellipse(out, PICTURE_LEFT + 3.0, y + 7.0, 1.6, 1.6, SVG_INK_NONE, SVG_FILL_INK);
        }
        y = picture_paragraph(out, PICTURE_LEFT + indent, PICTURE_RIGHT, y, &svg_plain, report->caution[i]);
    }
    return y;
}

void
picture_title(char *buffer, size_t capacity, const char *what, const struct job *job, const struct report *report)
{
    struct text text;

    text_init(&text, buffer, capacity);
    text_format(&text, "%s: %s", what, verdict_text(report->verdict));
    if (job->label[0] != '\0') {
        text_format(&text, ". %s", job->label);
    }
}
