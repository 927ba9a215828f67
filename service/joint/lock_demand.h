#ifndef SMALLEND_JOINT_LOCK_DEMAND_H
#define SMALLEND_JOINT_LOCK_DEMAND_H

/* What the pin's lock must withstand: given, or from the load on the pin. */

#include <stdbool.h>

#include "joint/derived.h"
#include "joint/job.h"

/*
 * Force along the pin: demand.axial, else 5 % of the pin load (judgement: the
 * engine rocks and rods are never quite square). False if neither is known.
 */
bool lock_axial_demand_N(const struct job *job, const struct derived *derived, double *demand_N);

/*
 * Torque about the pin: demand.torque, else the drag of the surface that rubs,
 * 0.15 F d/2 (judgement: boundary-lubricated bronze). False if neither is known.
 */
bool lock_torque_demand_Nm(const struct job *job, const struct derived *derived, double *demand_Nm);

#endif
