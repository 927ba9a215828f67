#ifndef SMALLEND_WIRE_FIELD_READ_H
#define SMALLEND_WIRE_FIELD_READ_H

/* One member of the job from its JSON value: a reader for each field kind. */

#include "wire/reader.h"

/*
 * Read `value` (not null) into the field and mark it given; or add faults and
 * leave its state as it is.
 */
void field_read(struct reader *reader, enum job_field field, json_t *value);

#endif
