#ifndef SMALLEND_WIRE_SVG_MEASURE_H
#define SMALLEND_WIRE_SVG_MEASURE_H

/*
 * How long a text will be. The font is the reader's own ("sans-serif"), so the
 * widths are those of a wide one (DejaVu Sans, from which Verdana hardly
 * differs); in a narrower font the text ends a little earlier.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/svg.h"

double svg_text_width(const struct svg_letter *letter, const char *text);

/* Copy `text` into `line`; what is longer than `width` or does not fit the
 * buffer is cut, and ends with an ellipsis. True if it is whole. */
bool svg_text_cut(char *line, size_t capacity, const struct svg_letter *letter, const char *text, double width);

/*
 * The next line of a text to be broken at its spaces into lines of `width`:
 * copies it, moves *at behind it. A word longer than a line is cut within. False
 * once nothing is left.
 */
bool svg_text_wrap(const char **at, char *line, size_t capacity, const struct svg_letter *letter, double width);

#endif
