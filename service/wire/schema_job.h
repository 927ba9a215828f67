#ifndef SMALLEND_WIRE_SCHEMA_JOB_H
#define SMALLEND_WIRE_SCHEMA_JOB_H

/* The job document, and the same as parameters of a link. */

#include "wire/schema_part.h"

/* Definitions: Job, an object of each group, what they are made of, SizeJob. */
void schema_job(struct writer *writer);

/* Definition JobQuery: the members named by path, "engine.bore". */
void schema_job_query(struct writer *writer);

#endif
