#ifndef SMALLEND_WIRE_TEXT_PASS_H
#define SMALLEND_WIRE_TEXT_PASS_H

#include "joint/job.h"
#include "joint/report.h"
#include "wire/buffer.h"

/* The cuts on the lathe and those of the slot as Markdown tables: what the dial
 * says, what diameter results, speed and feed. Nothing where none is planned. */
void text_pass_table(struct buffer *out, const struct job *job, const struct report *report);

#endif
