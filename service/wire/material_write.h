#ifndef SMALLEND_WIRE_MATERIAL_WRITE_H
#define SMALLEND_WIRE_MATERIAL_WRITE_H

/* Steels and metals: rows of the tables, and the one chosen in an answer. */

#include "joint/job.h"
#include "joint/material.h"
#include "wire/writer.h"

/* A figure of a row: where it lies, and the unit it is served in. */
struct material_figure {
    const char *name;
    size_t offset;
    const char *unit; /* a unit of `dimension`, or a scale that has no factor */
    enum dimension dimension;
    bool scale; /* HB, HRC: the number as it stands */
};
const struct material_figure *material_steel_figures(size_t *count);
const struct material_figure *material_metal_figures(size_t *count);

/* The word for a steel's fitness for a slot: "suits", ... */
const char *material_slot_text(enum slot_suitability slot);

/* The members of a row in the served table. */
void material_write_steel(struct writer *writer, const struct steel *steel);
void material_write_metal(struct writer *writer, const struct metal *metal);

/* The member "chosen" of an answer, in the job's units. */
void material_write_chosen(struct writer *writer, const struct job *job, const struct steel *steel);

#endif
