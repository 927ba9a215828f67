#ifndef SMALLEND_JOINT_CYCLE_STROKE_H
#define SMALLEND_JOINT_CYCLE_STROKE_H

/*
 * Behind cycle.h: one stroke of the cycle. Up and down the piston passes the
 * same places with the same acceleration, so a stroke is looked at by the
 * crank's angle from the top dead center, 0 to pi, whichever way it goes.
 */

#include <stdbool.h>
#include <stddef.h>

#include "joint/cycle.h"

/* What all the figures of one crank angle rest on. */
struct place {
    double sine, cosine, q;
};
struct place place_at(const struct cycle *cycle, double angle_rad);

/* The same at pi less that angle. */
struct place place_mirrored(const struct place *place);

/* Tangent of the rod's angle to the cylinder axis, signed. */
double place_rod_slope(const struct cycle *cycle, const struct place *place);
/* Velocity of the piston toward the crank on the way down, and its inertia
 * force, which is the same both ways. */
double place_velocity_m_s(const struct cycle *cycle, const struct place *place);
double place_inertia_N(const struct cycle *cycle, const struct place *place);

/* What the gas does in a stroke. */
struct stroke {
    bool open;            /* a valve lets the atmosphere in: no gas force */
    double start_Pa;      /* absolute, at the dead center where it starts */
    double start_squeeze; /* place_squeeze there */
    double outside_Pa;    /* absolute, what stands against the gas */
    double times;         /* how many of its kind there are in a cycle */
};

enum { STROKE_KINDS_MAX = 3 };

/* The kinds of stroke in the order of the cycle: expansion, of a four-stroke
 * the two open ones, compression. Returns how many. */
size_t strokes_of(const struct cycle *cycle, struct stroke strokes[STROKE_KINDS_MAX]);

/* The one of them that holds an angle from the firing dead center. */
const struct stroke *stroke_at(const struct cycle *cycle, const struct stroke strokes[STROKE_KINDS_MAX],
                               double angle_rad);

/* The gas pressure where the piston is over that which it has, or would have,
 * at the bottom dead center: p V^n stays the same, expanding and compressed. */
double place_squeeze(const struct cycle *cycle, const struct place *place);

/* The same in a stroke: an open one needs it not, and 0 stands for it. */
double stroke_squeeze(const struct cycle *cycle, const struct stroke *stroke, const struct place *place);

/* Pressure in a stroke, gauge, and gas force plus inertia force. */
double stroke_gauge_Pa(const struct stroke *stroke, double squeeze);
double stroke_load_N(const struct cycle *cycle, const struct stroke *stroke, double squeeze, double inertia_N);
/* The same where neither is known yet. */
double stroke_load_at_N(const struct cycle *cycle, const struct stroke *stroke, const struct place *place);

#endif
