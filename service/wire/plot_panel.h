#ifndef SMALLEND_WIRE_PLOT_PANEL_H
#define SMALLEND_WIRE_PLOT_PANEL_H

/* A panel of a plot: axes with round figures, a grid, curves over an angle. */

#include "wire/svg.h"

struct plot_panel {
    double left, right, top, bottom; /* on the paper */
    double angle_end;                /* degrees at the right edge */
    double low, high, step;          /* values at the edges, multiples of step */
    int decimals;                    /* of the figures on the axis */
};

/*
 * Choose round limits that hold every value from `least` to `most` and zero, with
 * some room over and under for labels.
 */
void plot_panel_fit(struct plot_panel *panel, double least, double most);

double plot_panel_x(const struct plot_panel *panel, double angle_deg);
double plot_panel_y(const struct plot_panel *panel, double value);

/* Grid, zero line, figures; those of the angle only if `angles`. */
void plot_panel_draw(struct buffer *out, const struct plot_panel *panel, bool angles);

/* A dot at a point and words beside it, kept within the panel. */
void plot_panel_label(struct buffer *out, const struct plot_panel *panel, double angle_deg, double value, bool above,
                      const char *words);

#endif
