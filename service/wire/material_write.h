#ifndef SMALLEND_WIRE_MATERIAL_WRITE_H
#define SMALLEND_WIRE_MATERIAL_WRITE_H

/* Steels and metals: rows of the tables, and the one chosen in an answer. */

#include "joint/job.h"
#include "joint/material.h"
#include "wire/writer.h"

/* The members of a row in the served table. */
void material_write_steel(struct writer *writer, const struct steel *steel);
void material_write_metal(struct writer *writer, const struct metal *metal);

/* The member "chosen" of an answer, in the job's units. */
void material_write_chosen(struct writer *writer, const struct job *job, const struct steel *steel);

#endif
