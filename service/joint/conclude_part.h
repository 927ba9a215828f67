#ifndef SMALLEND_JOINT_CONCLUDE_PART_H
#define SMALLEND_JOINT_CONCLUDE_PART_H

/* What conclude.c and conclude_steps.c share. */

#include "joint/conclude.h"

/* Did the client describe what the section is about? */
bool section_present(const struct job *job, enum section section);

/* The section that a call of its own name is for: SECTION_COUNT for the calls
 * that take what they are given. */
enum section section_asked(enum call call);

/* Why what the call is for does not apply to this joint, or NULL. */
const char *asked_in_vain(const struct report *report);

/* Next steps: of the `count` checks in `order`, the most concerning first, of
 * what is missing, and of the call. */
void conclude_steps(const struct job *job, const struct derived *derived, struct report *report, const size_t order[],
                    size_t count);

#endif
