#ifndef SMALLEND_WIRE_TEXT_WRITE_H
#define SMALLEND_WIRE_TEXT_WRITE_H

/*
 * A report for people: Markdown as a knowledgeable person would post it in a
 * forum, and a few lines of plain text for a bot. Numbers are in the asker's
 * trade units. The report must have passed report_is_finite.
 */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* The first line of the plain text has at most so many characters. */
enum { TEXT_LINE_MAX = 300 };

/* `link` is the address of the same answer, NULL = none. */
void text_write_markdown(struct buffer *out, const struct job *job, const struct report *report, const char *link);
void text_write_plain(struct buffer *out, const struct job *job, const struct report *report, const char *link);

#endif
