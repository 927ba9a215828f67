#ifndef SMALLEND_WIRE_MATERIAL_SPELL_H
#define SMALLEND_WIRE_MATERIAL_SPELL_H

/* A steel or a bearing metal as a document names one: an id, or an object of
 * the client's own figures. material_read reads back the same choice. */

#include "joint/job.h"
#include "wire/writer.h"

void spell_steel(struct writer *writer, const struct job *job, const char *key, const struct steel_choice *choice);
void spell_metal(struct writer *writer, const struct job *job, const char *key, const struct metal_choice *choice);

#endif
