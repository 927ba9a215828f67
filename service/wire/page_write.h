#ifndef SMALLEND_WIRE_PAGE_WRITE_H
#define SMALLEND_WIRE_PAGE_WRITE_H

/*
 * A report as a page for whoever follows a link: the text of the Markdown form
 * and the sketch, without script and without any outside request.
 */

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* `link` is the address of the same answer, NULL = none. */
void page_write(struct buffer *out, const struct job *job, const struct report *report, const char *link);

#endif
