#ifndef SMALLEND_JOINT_MATERIAL_RANK_H
#define SMALLEND_JOINT_MATERIAL_RANK_H

/* The chosen steel against every demand, and the tables ranked for the joint. */

#include <stdbool.h>

#include "joint/check.h"

/* What a family of checks says of a joint, taken together. */
struct standing {
    bool judged;               /* at least one check could be judged */
    enum verdict verdict;      /* the worst */
    bool fails_in_earnest;       /* some check fails on no assumed dimension */
    const struct check *worst; /* of those with that verdict, the nearest to its limit */
    double worst_utilization;  /* of that check, 0 if it has none */
    double utilization;        /* the greatest of the checks that have one */
};

/* The checks of the steel's strength, in pin and slot; *worst, the finding of
 * standing->worst, is set where one could be judged. */
void strength_standing(const struct job *job, const struct derived *derived, struct standing *standing,
                       struct finding *worst);

/* The bushings that rub on the pin, at most two; how many. */
size_t rubbing_bushings(const struct job *job, const struct metal *bushing[2]);

/*
 * Fill report->chosen and both rankings: each steel of the table put into this
 * joint, each bearing metal on the surfaces that rub, judged by the checks that
 * the choice moves; best first. Where nothing can be judged nothing is ranked.
 */
void material_rank(const struct job *job, const struct derived *derived, struct report *report);

#endif
