#ifndef SMALLEND_WIRE_CHECK_WRITE_H
#define SMALLEND_WIRE_CHECK_WRITE_H

/* The members "checks" and "not_checked" of an answer. */

#include "joint/check.h"
#include "wire/writer.h"

/* Is this check one of the report's call? */
bool check_is_asked(const struct check *check, const struct report *report);

void check_write_judged(struct writer *writer, const struct job *job, const struct report *report);
void check_write_not_judged(struct writer *writer, const struct job *job, const struct report *report);

/*
 * Why a check of the call was not judged, in words; NULL where members that it
 * needs are absent.
 */
const char *check_not_judged_because(const struct check *check, const struct job *job, const struct finding *finding);

#endif
