#ifndef SMALLEND_WIRE_MATERIAL_READ_H
#define SMALLEND_WIRE_MATERIAL_READ_H

/*
 * Steels and metals as a job names them: the id of a row of the tables, or an
 * object with the figures of a certificate.
 */

#include "wire/reader.h"

enum own_kind {
    OWN_FIGURE, /* a quantity, kept as a figure of the row */
    OWN_NUMBER, /* the hardness number */
    OWN_SCALE,  /* its scale */
    OWN_KIND,   /* kind of metal */
    OWN_BASIS   /* where the figures come from, in words */
};

/* A member of the object that gives a steel's or a metal's own figures. */
struct own_member {
    const char *name;
    enum own_kind kind;
    bool needed; /* the object is refused without it */
    enum dimension dimension;
    double minimum, maximum; /* SI, inclusive */
    size_t offset;           /* of the figure within struct steel or struct metal */
    const char *meaning;
};
const struct own_member *own_steel_members(size_t *count);
const struct own_member *own_metal_members(size_t *count);

/* True and *choice, or faults added and *choice untouched. */
bool material_read_steel(struct reader *reader, const char *pointer, json_t *value, struct steel_choice *choice);
bool material_read_metal(struct reader *reader, const char *pointer, json_t *value, struct metal_choice *choice);

/* Refuse an id that no table has, naming the nearest. */
void material_read_refuse_id(struct reader *reader, const char *pointer, const json_t *value, const char *table,
                             const char *nearest);

#endif
