#ifndef SMALLEND_WIRE_MEMBER_H
#define SMALLEND_WIRE_MEMBER_H

/* Which names a job document defines where, and what a mistaken one means. */

#include <stdbool.h>

#include "wire/reader.h"

/* The name of a group inside `parent` (NULL = the document): the rest of its
 * path; NULL if it does not stand there itself. */
const char *member_within(const struct job_group_row *group, const struct job_group_row *parent);

/* Is `name` a member of the group, or of the document itself (NULL)? */
bool member_is_known(const struct job_group_row *group, const char *name);

/*
 * Refuse the unknown member `name` of the object at `pointer`. The nearest
 * known name there is suggested; failing that the place of the same, or of a
 * near, name in another group ("engine.bore").
 */
void member_refuse(struct reader *reader, const struct job_group_row *group, const char *pointer, const char *name);

#endif
