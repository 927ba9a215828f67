#ifndef SMALLEND_WIRE_NEAREST_H
#define SMALLEND_WIRE_NEAREST_H

/*
 * The known name that a mistaken one most likely stands for. Upper and lower
 * case, hyphens, blanks and underscores count as alike.
 */

#include <stddef.h>

enum { NEAREST_SIZE = 64 };

struct nearest {
    char given[NEAREST_SIZE]; /* folded */
    unsigned limit;           /* edits that are still near */
    unsigned distance;        /* of the best so far; limit + 1 at first */
    const char *best;         /* borrowed from the candidates; NULL = none near enough */
};

/* Start looking for names near `given`. */
void nearest_init(struct nearest *nearest, const char *given);

/* Offer one known name; the first of equally near ones is kept. */
void nearest_offer(struct nearest *nearest, const char *name);

#endif
