#ifndef SMALLEND_JOINT_ORDER_PART_H
#define SMALLEND_JOINT_ORDER_PART_H

/* What the pieces of an order share. */

#include "joint/derived.h"
#include "joint/order.h"
#include "joint/report.h"

/*
 * Rules of the shop for what the document does not say, in sizes that stand on
 * an inch or a metric drawing.
 */
struct order_practice {
    double length_m;     /* general tolerance of a length up to long_from_m */
    double long_m;       /* the same of a longer one */
    double long_from_m;
    double slot_depth_m; /* each way */
    double slot_place_m; /* each way */
    double chamfer_m;    /* of the pin's ends */
    double edge_m;       /* radius to break the slot's edges to */
    double ground_m, turned_m; /* roughness Ra */
};
const struct order_practice *order_practice(enum unit_system units);

/* The limits that the pin is made to: those of the running fit where it gives
 * some, else the pin's own. */
const struct limits *order_limits(const struct job *job);

/* ---- order_tolerance.c ---- */

/*
 * Tolerances of length and slot. Each begins at the rule of the shop and is
 * halved until no check has a worse verdict at its end than at the size given,
 * one size at a time; a few times in vain, and it is 0.
 */
void order_tolerances(const struct job *job, const struct derived *derived, const struct report *report,
                      struct order_part *part);

/* ---- order_part.c, order_note.c ---- */

/* Everything of the part but the tolerances, which come first. */
void order_part(const struct job *job, const struct derived *derived, struct order_part *part);

/* What to take care of in making it, and what it must pass. */
void order_notes(const struct job *job, struct order_part *part);

/* ---- order_release.c ---- */

/* Why it is released, or held: fills order->reason and order->released. */
void order_release(const struct job *job, const struct derived *derived, const struct report *report,
                   struct order *order);

#endif
