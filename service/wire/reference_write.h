#ifndef SMALLEND_WIRE_REFERENCE_WRITE_H
#define SMALLEND_WIRE_REFERENCE_WRITE_H

/*
 * The reference of the service for people: how to ask, every call, every
 * member of the job with its range and default, the tables, the problems. It
 * is made from the tables that the program itself reads, so it cannot be out
 * of date.
 */

#include "wire/buffer.h"

void reference_write_markdown(struct buffer *out);

/* The same as a page, without script and without any outside request. */
void reference_write_page(struct buffer *out);

#endif
