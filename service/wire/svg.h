#ifndef SMALLEND_WIRE_SVG_H
#define SMALLEND_WIRE_SVG_H

/*
 * Writing SVG: lines, shapes, letters and hatching, straight into a buffer. One
 * unit is one pixel of a picture shown SVG_WIDTH wide; y grows downward.
 *
 * Every element carries plain attributes, black on white; one style sheet turns
 * them light on dark where the reader's screen is dark. A program that knows no
 * media queries, or no style sheets at all, shows black on white.
 */

#include <stdbool.h>
#include <stddef.h>

#include "wire/buffer.h"

/* Strokes. They differ by their dashes and weight, not by colour alone. */
enum svg_ink {
    SVG_INK_NONE,
    SVG_INK_OUTLINE,
    SVG_INK_THIN,
    SVG_INK_FINE,     /* hatching, grids */
    SVG_INK_CENTRE,   /* long dash, dot */
    SVG_INK_DASHED,   /* assumed, or hidden */
    SVG_INK_MARK,
    SVG_INK_HEAVY,    /* curves: unbroken, thick */
    SVG_INK_LONG,     /* curves: long dashes */
    SVG_INK_DOTTED,   /* curves: dots */
    SVG_INK_DASH_DOT, /* curves */
    SVG_INK_COUNT
};

/* Fills; the hatched ones need svg_open's patterns. */
enum svg_fill {
    SVG_FILL_NONE,
    SVG_FILL_PAPER,
    SVG_FILL_INK,
    SVG_FILL_MARK,
    SVG_FILL_BOSS,
    SVG_FILL_EYE,
    SVG_FILL_BUSHING,
    SVG_FILL_PIN,
    SVG_FILL_BOLT,
    SVG_FILL_SHADE,
    SVG_FILL_COUNT
};

enum svg_anchor { SVG_START, SVG_MIDDLE, SVG_END };

/* Lettering. */
struct svg_letter {
    double size;
    bool bold, marked; /* marked: in the colour of the mark */
};
extern const struct svg_letter svg_plain, svg_bold, svg_title, svg_marked;

/* Width of every picture, and what a file of ours calls its parts. */
#define SVG_WIDTH 600.0

struct svg_point {
    double x, y;
};

/*
 * Begin and end a picture. `name` ("sketch") keeps the ids of two pictures in
 * one page apart; title and description are read out by screen readers.
 */
void svg_open(struct buffer *out, const char *name, double height, const char *title, const char *description);
void svg_close(struct buffer *out);

/*
 * Text as XML: the five special characters escaped; what XML forbids (control
 * characters, no UTF-8), and what would turn the direction of the text around
 * it, as U+FFFD; line ends and tabs as spaces.
 */
void svg_escape(struct buffer *out, const char *text);

/* A coordinate, rounded to a hundredth, the same in every locale; what is not
 * finite or beyond a million is written as 0 or the million. */
void svg_number(struct buffer *out, double value);

void svg_line(struct buffer *out, double x1, double y1, double x2, double y2, enum svg_ink ink);
/* A rectangle by two opposite corners. */
void svg_rect(struct buffer *out, double x1, double y1, double x2, double y2, enum svg_ink ink, enum svg_fill fill);
void svg_ellipse(struct buffer *out, double x, double y, double rx, double ry, enum svg_ink ink, enum svg_fill fill);

/* A path, piece by piece; `closed` joins the end of the last piece to its start. */
void svg_path_begin(struct buffer *out, enum svg_ink ink, enum svg_fill fill);
void svg_path_move(struct buffer *out, double x, double y);
void svg_path_line(struct buffer *out, double x, double y);
/* A parabola to (x, y) whose tangents at both ends meet in (mx, my). */
void svg_path_parabola(struct buffer *out, double mx, double my, double x, double y);
/* An arc of a circle to (x, y): the longer way round or the shorter, clockwise
 * on the paper or against the clock. */
void svg_path_arc(struct buffer *out, double radius, bool longer, bool clockwise, double x, double y);
void svg_path_end(struct buffer *out, bool closed);
void svg_polyline(struct buffer *out, const struct svg_point *point, size_t count, bool closed, enum svg_ink ink,
                  enum svg_fill fill);

/* A small filled arrow head with its tip at (x, y), flying along (dx, dy). */
void svg_arrow_head(struct buffer *out, double x, double y, double dx, double dy, enum svg_fill fill);
/* A hand-drawn break line from one point to another. */
void svg_break_line(struct buffer *out, double x1, double y1, double x2, double y2);

/* Letters with their baseline at y; turned: reading upward, baseline at x, centered on y. */
void svg_text(struct buffer *out, double x, double y, enum svg_anchor anchor, const struct svg_letter *letter,
              const char *text);
void svg_text_turned(struct buffer *out, double x, double y, const struct svg_letter *letter, const char *text);

#endif
