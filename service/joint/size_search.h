#ifndef SMALLEND_JOINT_SIZE_SEARCH_H
#define SMALLEND_JOINT_SIZE_SEARCH_H

/* Inside of sizing: what is sought, and one value of it tried. */

#include "joint/check.h"
#include "joint/derived.h"
#include "joint/size_target.h"

/* Badness of a value that contradicts the document: worse than any check. */
#define SEARCH_CONTRADICTS 1.0e9

/* The search: what is given, what is sought. */
struct search {
    const struct job *given; /* as read */
    struct target target;
    bool accept_marginal;
    bool largest;
    double from, to; /* SI */
    struct derived *derived; /* of the trial before: what moves nothing in the cycle needs it no second time */
};

/* A value tried. */
struct trial {
    double si;
    bool passes;
    double badness;     /* <= 0 passes; how far the worst check is beyond what passes */
    size_t blocking;    /* index of that check, FINDING_MAX if none */
    size_t blocked;     /* checks that do not pass; one that fails counts for more than all that are marginal */
    double utilization; /* of that check */
};

/* size_trial.c: complete a job and look for contradictions; false, and why
 * (where `why` is not NULL), if it contradicts itself. */
bool search_make_whole(struct job *job, char *why, size_t size);

/* Judge a job as it would be with the member at `si`; search_try sets it. */
void search_try_job(const struct search *search, struct job *job, double si, struct trial *trial);
void search_try(const struct search *search, double si, struct trial *trial);

/* Utilization of one check for a job, negative where it is not judged. */
double search_utilization(const struct search *search, struct job *job, size_t check);

/*
 * size_values.c: search the range and fill `size`; *shown is the value found,
 * or the one that comes nearest. False where every value contradicts the
 * document, so that there is none to show.
 */
bool search_values(const struct search *search, struct size *size, double *shown);

/* size_steels.c: try the steels; the best of all, and `size` filled. NULL where
 * find.among names none. */
const struct steel *search_steels(const struct search *search, struct size *size);

/* size_sensitivity.c: what one percent more of each input does at the value
 * found. */
void search_sensitivities(const struct search *search, struct size *size);

#endif
