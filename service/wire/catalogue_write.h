#ifndef SMALLEND_WIRE_CATALOGUE_WRITE_H
#define SMALLEND_WIRE_CATALOGUE_WRITE_H

/*
 * The tables of the service as JSON: every figure with its unit, its source
 * and how it was obtained. Units here are fixed (MPa, GPa, um/m/K, kg/m3, mm,
 * um ...), since no document says otherwise.
 */

#include "joint/check.h"
#include "joint/fit.h"
#include "wire/writer.h"

struct catalogue {
    const char *name;   /* "bearing-metals", as in the path */
    const char *member; /* "bearing_metals", as in the document */
    const char *summary;
    size_t (*count)(void);
    const char *(*id)(size_t index);
    /* The members of a row's object, "id" first. */
    void (*row)(struct writer *writer, size_t index);
    /* A row by another name than its id: its index, or count(). May be NULL. */
    size_t (*other)(const char *name);
    /* The id nearest to a misspelt one, NULL = none. May be NULL: by spelling. */
    const char *(*nearest)(const char *id);
};

/* The tables, in the order listed. */
const struct catalogue *catalogue_at(size_t index);
size_t catalogue_count(void);

/* How a check holds its value against the limit: "at_most", ... */
const char *catalogue_sense_text(enum check_sense sense);

/* The sides a class of fits stands on, by enum fit_side: "both", "shaft", "hole". */
const char *catalogue_side_text(enum fit_side side);

/* The table of that name, or NULL. */
const struct catalogue *catalogue_find(const char *name);

/* All rows of the table, as one document. */
void catalogue_write(struct buffer *out, const struct catalogue *catalogue);

/*
 * One row as a document. False if there is none of this id (upper and lower
 * case alike; a steel also by its grade); *nearest is then the nearest id, or NULL.
 */
bool catalogue_write_row(struct buffer *out, const struct catalogue *catalogue, const char *id, const char **nearest);

#endif
