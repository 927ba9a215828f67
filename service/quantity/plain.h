#ifndef SMALLEND_QUANTITY_PLAIN_H
#define SMALLEND_QUANTITY_PLAIN_H

#include <stdbool.h>
#include <stddef.h>

struct text;

/*
 * Add `length` bytes of `bytes` to `plain` in ASCII dress: every kind of space
 * as " ", of hyphen and minus as "-", of quotation and prime mark as " or ',
 * of multiplication dot as "*"; the micro and degree signs as "u" and "deg", a
 * raised 2 as "^2", a vulgar fraction character as "1/4", parted by a space
 * from digits beside it. Other characters stay. False if a byte is not UTF-8
 * or a control character, or if it does not fit.
 */
bool plain_add(struct text *plain, const char *bytes, size_t length);

#endif
