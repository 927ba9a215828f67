#ifndef SMALLEND_BASE_DIGITS_H
#define SMALLEND_BASE_DIGITS_H

/* The numbers of an answer. An answer has hundreds of them, and printf took a
 * sixth of its time. */

#include <stddef.h>

/* Significant digits, and bytes that the longest number takes with its NUL. */
enum { DIGITS = 7, DIGITS_SIZE = 24 };

/*
 * Write `value`, which is finite, rounded to DIGITS significant digits: the
 * bytes that "%.7g" of printf gives. Answers their count.
 */
size_t digits_write(char text[DIGITS_SIZE], double value);

/*
 * Those rounded for people: to so many significant digits (1 to DIGITS), without
 * an exponent and without zeros at the end of a fraction, or to so many decimals
 * (0 to DIGITS), the bytes that "%.*f" gives. Answer 0 for the few that only
 * printf can tell: ties or nearly so, and the large and the tiny.
 */
size_t digits_write_figures(char text[DIGITS_SIZE], double value, int figures);
size_t digits_write_fixed(char text[DIGITS_SIZE], double value, int decimals);

#endif
