#ifndef SMALLEND_WIRE_PROBLEM_TEXT_H
#define SMALLEND_WIRE_PROBLEM_TEXT_H

/* A problem in words: what is wrong, a line for each fault, the cautions. */

#include "wire/reply.h"

void problem_text_plain(struct buffer *out, const struct refusal *refusal);
void problem_text_markdown(struct buffer *out, const struct refusal *refusal);
void problem_text_html(struct buffer *out, const struct refusal *refusal);

#endif
