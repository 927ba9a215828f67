#ifndef SMALLEND_JOINT_SURFACE_H
#define SMALLEND_JOINT_SURFACE_H

/* The two surfaces that carry the pin: what they are made of, which rubs. */

#include <stdbool.h>

#include "joint/job.h"

enum surface { SURFACE_BOSS, SURFACE_EYE };

/* Held by the rod the bosses rub, held by the piston the eye, floating both. */
bool surface_rubs(const struct job *job, enum surface surface);

/* The bushing, or where there is none the metal of piston or rod. Never NULL
 * for a completed job. */
const struct metal *surface_metal(const struct job *job, enum surface surface);

/* The member that names its bushing. */
enum job_field surface_bushing_field(enum surface surface);

#endif
