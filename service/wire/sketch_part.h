#ifndef SMALLEND_WIRE_SKETCH_PART_H
#define SMALLEND_WIRE_SKETCH_PART_H

/*
 * What the files of the sketch share. The picture, from the top:
 *
 *     label
 *     verdict, and the worst place in words
 *     callouts                              | callouts
 *     section along the pin                 | section through the eye
 *     dimensions                            | dimensions
 *     load and bending moment along the pin | detail of the slot, list of parts
 *     notes, assumptions, cautions
 *
 * Everything is laid out first, since the height of the picture stands at its
 * beginning, and drawn then. Where the words of a block decide its height, one
 * function both measures (out == NULL) and draws it.
 */

#include "joint/check.h"
#include "wire/picture.h"
#include "wire/sketch_axis.h"
#include "wire/sketch_callout.h"
#include "wire/sketch_joint.h"
#include "wire/svg_dimension.h"

/* Between the columns: the left one ends, the right one begins. */
#define SKETCH_SECTION_RIGHT 384.0
#define SKETCH_LIST_LEFT 398.0

/* The eye seen along the pin. */
struct sketch_cross {
    double x, scale;
    double bolt_reach_m; /* half the bolt's length between head and nut */
    double above, below, half; /* pixels about the pin's axis */
};

struct sketch {
    const struct job *job;
    const struct report *report;
    struct sketch_joint joint;
    struct sketch_axis axis;
    struct sketch_cross cross;
    size_t worst;               /* index of the check nearest trouble, FINDING_MAX = none */
    double above, below;        /* pixels of the views about the pin's axis */
    double clear_boss, clear_eye; /* clearance drawn about the pin, pixels */
    struct sketch_band band, cross_band;
    struct svg_stack lengths, outside, inside; /* of the section: below, left, right */
    struct svg_stack widths, offsets;          /* of the cross-section: below, right */
    bool starred, dashed;       /* some figure is assumed; some outline a stand-in */
};

/* A size for the drawing, with an asterisk where it is assumed; "" for a
 * stand-in. `before` stands in front. */
void sketch_size_text(char *buffer, size_t capacity, const char *before, const struct sketch_size *size,
                      enum unit_system system);
/* Two lengths with the unit once: "0.70 to 1.50 thou", "0.012 to 0.034 mm". */
void sketch_range_text(char *buffer, size_t capacity, double low_m, double high_m, enum unit_system system);
/* The pin's limits, as a micrometer shows them where they differ. */
void sketch_pin_text(char *buffer, size_t capacity, const struct sketch *sketch);

/* sketch_section.c: the section along the pin. */
void sketch_section_fit(struct sketch *sketch);
void sketch_section_draw(struct buffer *out, const struct sketch *sketch);
/* Where the inner face of the right boss stands on the paper. */
double sketch_boss_x(const struct sketch *sketch);

/* sketch_lock.c: slot, bolt and set screws in that section. */
/* The slot's edge from left to right, x along the pin and y over its axis, in m;
 * returns how many points. */
enum { SKETCH_SLOT_POINTS = 27 };
size_t sketch_slot_edge(const struct sketch_joint *joint, struct svg_point point_m[SKETCH_SLOT_POINTS]);
void sketch_pin_draw(struct buffer *out, const struct sketch *sketch);
void sketch_bolt_draw(struct buffer *out, const struct sketch *sketch);
void sketch_screws_draw(struct buffer *out, const struct sketch *sketch);
double sketch_screw_z_m(const struct sketch_joint *joint);

/* sketch_figures.c: dimensions and callouts of both views. */
void sketch_lengths_add(struct sketch *sketch);
void sketch_callouts_add(struct sketch *sketch);
void sketch_figures_place(struct sketch *sketch);

/* sketch_cross.c */
void sketch_cross_fit(struct sketch *sketch);
void sketch_cross_draw(struct buffer *out, const struct sketch *sketch);

/* sketch_place.c: where a check sits on the section; y from the axis. */
size_t sketch_worst(const struct report *report);
struct svg_point sketch_place_of(const struct sketch *sketch, const struct check *check);
void sketch_worst_text(char *buffer, size_t capacity, const struct sketch *sketch);
void sketch_mark_draw(struct buffer *out, const struct sketch *sketch);

/* sketch_moment.c: load and moment, from `top` downward; returns where it ends. */
double sketch_moment_write(struct buffer *out, const struct sketch *sketch, double top);

/* sketch_detail.c: slot and bolt drawn larger; likewise. */
double sketch_detail_write(struct buffer *out, const struct sketch *sketch, double top);

/* sketch_list.c: parts and notes, likewise. */
double sketch_list_write(struct buffer *out, const struct sketch *sketch, double top);
double sketch_notes_write(struct buffer *out, const struct sketch *sketch, double top);

#endif
