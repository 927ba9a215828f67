#ifndef SMALLEND_QUANTITY_NUMBER_H
#define SMALLEND_QUANTITY_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

struct text;

/*
 * Numbers as people write them, in plain text (see plain.h):
 *
 *     number   = [sign] (decimal | fraction | mixed)
 *     decimal  = digits ["." [digits]] [exponent] | "." digits [exponent]
 *     exponent = ("e" | "E") [sign] digits
 *     fraction = digits "/" digits
 *     mixed    = digits (spaces | "-") fraction, the fraction less than one
 */
struct number {
    double value;
    size_t used; /* bytes read, leading spaces included */
};

/*
 * Read the number at the start of `plain`, which holds 255 bytes at most. True
 * with `number`; false with a sentence for people added to `why`.
 */
bool number_read(const char *plain, struct number *number, struct text *why) __attribute__((warn_unused_result));

#endif
