#ifndef SMALLEND_WIRE_QUANTITY_SPELL_H
#define SMALLEND_WIRE_QUANTITY_SPELL_H

/* A quantity as a document gives one: a number in the document's unit, or text
 * with its own. What is written reads back to the same bits. */

#include "joint/job.h"
#include "wire/writer.h"

struct spelling {
    enum dimension dimension;
    enum unit_system system;
    bool without_unit; /* a number by preference: the document has such, and does not say in which units */
    bool with_unit;    /* text only: the document has no number whose unit it does not say */
};

/* How quantities of the dimension stand in this job. */
struct spelling spelling_of_job(const struct job *job, enum dimension dimension);

/* Write `si`, or how far it is from `base_si` where that is not 0. */
void spell_quantity(struct writer *writer, const struct spelling *how, const char *key, double base_si, double si);

#endif
