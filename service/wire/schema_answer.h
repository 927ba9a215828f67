#ifndef SMALLEND_WIRE_SCHEMA_ANSWER_H
#define SMALLEND_WIRE_SCHEMA_ANSWER_H

/* The computed answer. */

#include "joint/report.h"
#include "wire/schema_part.h"

/* Definitions: Answer and all that it is made of. */
void schema_answer(struct writer *writer);

/* The members "load", "strength" ... of the results of these sections, as this
 * call answers them; CALL_COUNT is any call. */
void schema_sections(struct writer *writer, section_set sections, enum call call);

/* Definitions of each section's results. */
void schema_results(struct writer *writer);

/* Definitions that other documents hold too: Service, Verdict and the like. */
void schema_shared(struct writer *writer);

#endif
