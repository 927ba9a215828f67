#ifndef SMALLEND_WIRE_SCHEMA_PROBLEM_H
#define SMALLEND_WIRE_SCHEMA_PROBLEM_H

/* The problem document of RFC 9457. */

#include "wire/schema_part.h"

/* Definitions: Problem and Fault. */
void schema_problem(struct writer *writer);

#endif
