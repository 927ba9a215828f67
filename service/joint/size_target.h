#ifndef SMALLEND_JOINT_SIZE_TARGET_H
#define SMALLEND_JOINT_SIZE_TARGET_H

/* The member that sizing seeks, and how it is set. */

#include "joint/job.h"

enum target_side { TARGET_WHOLE, TARGET_MIN, TARGET_MAX };

struct target {
    enum job_field field;
    enum target_side side; /* of a member with two limits */
    bool of_steel;
    bool whole_numbers;    /* a count */
    bool largest;          /* what is sought where the client does not say */
    enum dimension dimension;
};

/*
 * The member of this path: a number, a pair of limits ("pin.diameter" sets
 * both alike, "running_fit.hole.max" one), or pin.steel; only members that the
 * checks of a joint can depend on. False if there is none; *nearest is then
 * the nearest path, or NULL.
 */
bool target_find(const char *path, struct target *target, const char **nearest);

/* The range to search where the client gives none, SI. */
void target_range(const struct job *job, const struct target *target, double *from, double *to);

/* A value for the member, SI; takes what stands in its way out of the job. */
void target_set(struct job *job, const struct target *target, double si);

/* Take the member out of the job. */
void target_drop(struct job *job, const struct target *target);

#endif
