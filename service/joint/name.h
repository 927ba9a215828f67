#ifndef SMALLEND_JOINT_NAME_H
#define SMALLEND_JOINT_NAME_H

/*
 * Names of table rows as people type them: upper and lower case alike, blanks
 * of no account ("sae 5" is "SAE 5", "12 L 14" is "12L14").
 */

#include <stdbool.h>

/* True if both name the same thing. */
bool name_same(const char *a, const char *b);

/* The best match so far of a misspelt name among the names offered. */
struct name_search {
    char sought[64];     /* lower case, without blanks, cut to fit */
    unsigned distance;   /* of the best so far, in edits */
    const char *nearest; /* NULL: none near enough */
};

/* Start looking for what `name` may have meant. */
void name_search_init(struct name_search *search, const char *name);

/* Offer a name: if it is nearer than the best so far, `answer` becomes it. */
void name_search_offer(struct name_search *search, const char *name, const char *answer);

#endif
