#ifndef SMALLEND_WIRE_OWN_MATERIAL_H
#define SMALLEND_WIRE_OWN_MATERIAL_H

/* What stands in for the figures that a certificate does not give. */

#include "joint/material.h"

/* The id and name under which own figures are reported. */
#define OWN_MATERIAL_ID "certificate"

/* A figure that the user gave. */
struct figure own_figure(double si);

/* A steel without strengths: modulus, expansion and density of any steel. */
void own_steel_init(struct steel *steel);

/* Judge, from its strength and hardness, whether it may be slotted. */
void own_steel_judge_slot(struct steel *steel);

/* A metal without strengths: the elastic figures usual for its kind. */
void own_metal_init(struct metal *metal, enum metal_kind kind);

#endif
