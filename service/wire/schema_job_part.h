#ifndef SMALLEND_WIRE_SCHEMA_JOB_PART_H
#define SMALLEND_WIRE_SCHEMA_JOB_PART_H

/* What the members of a job are made of. */

#include "joint/fit.h"
#include "wire/schema_part.h"

/* "ShaftLimits", "HoleLimits", "PlainLimits": how limits of this side are read. */
const char *schema_limits_name(enum fit_side side);

/* Definitions of quantities, limits, materials, threads and readings. */
void schema_job_parts(struct writer *writer);

#endif
