#ifndef SMALLEND_WIRE_SKETCH_CALLOUT_H
#define SMALLEND_WIRE_SKETCH_CALLOUT_H

/*
 * Words over a view, each with a leader down to what it names. They stand in
 * rows, so that no words cover others and, as far as there is room, no leader
 * runs through words.
 */

#include <stddef.h>

#include "wire/svg.h"

enum { SKETCH_CALLOUT_MAX = 8, SKETCH_CALLOUT_TEXT = 160 };

/* Distance of the rows. */
#define SKETCH_CALLOUT_ROW 15.0

struct sketch_callout {
    struct svg_point at; /* y from the axis of the pin */
    const struct svg_letter *letter;
    char text[SKETCH_CALLOUT_TEXT];
    /* set by sketch_band_layout */
    double left, width;
    size_t row; /* 0 nearest the view */
};

struct sketch_band {
    double left, right;
    size_t count, rows;
    struct sketch_callout item[SKETCH_CALLOUT_MAX];
};

/* Add words for the place `x`, `off` pixels below the axis; words too long for
 * the band are cut. */
void sketch_band_add(struct sketch_band *band, double x, double off, const struct svg_letter *letter,
                     const char *text);

void sketch_band_layout(struct sketch_band *band);

/* Draw the leaders, then the words; row 0 stands just over `bottom`. */
void sketch_band_draw(struct buffer *out, const struct sketch_band *band, double bottom, double axis_y);

#endif
