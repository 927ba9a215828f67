#ifndef SMALLEND_WIRE_SVG_DIMENSION_H
#define SMALLEND_WIRE_SVG_DIMENSION_H

/*
 * Dimension lines with arrows and witness lines, stacked beside a view in rows
 * so that none crosses another's figure: the shortest nearest the part, as on a
 * drawing.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/svg.h"

enum { SVG_DIMENSION_MAX = 8, SVG_DIMENSION_TEXT = 64 };

/* Distance of the rows, and of the first from the view. */
#define SVG_ROW 17.0

/* Beside which side of the view the rows are stacked. */
enum svg_side { SVG_BELOW, SVG_LEFT, SVG_RIGHT };

/* One dimension. `along` runs with the rows (x below the view, y beside it),
 * `across` away from them. */
struct svg_dimension {
    double from, to;           /* along, from < to */
    double from_edge, to_edge; /* across: where the witness lines start */
    bool dashed;               /* a size that is assumed */
    char text[SVG_DIMENSION_TEXT];
    /* set by svg_stack_layout */
    size_t row;
    double text_at; /* along: the middle of the text */
};

struct svg_stack {
    enum svg_side side;
    double first;     /* across: the first row's line */
    double low, high; /* along: nothing may go beyond */
    size_t count, rows;
    struct svg_dimension item[SVG_DIMENSION_MAX];
};

void svg_stack_init(struct svg_stack *stack, enum svg_side side, double first, double low, double high);

/* Add a dimension; from and to in either order. One of no length on paper, one
 * too many, and one without text are left out. */
void svg_stack_add(struct svg_stack *stack, double from, double from_edge, double to, double to_edge, bool dashed,
                   const char *text);

/* Give each its row. */
void svg_stack_layout(struct svg_stack *stack);

/* Move the whole stack down the paper, once it is laid out. */
void svg_stack_move(struct svg_stack *stack, double down);

void svg_stack_draw(struct buffer *out, const struct svg_stack *stack);

#endif
