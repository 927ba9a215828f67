#include "joint/size_search.h"

#include "joint/material_rank.h"

/* Sizing among the steels of the table. */

/* The steel in the joint; *job is as judged, search->derived what was derived. */
static void
try_steel(const struct search *search, const struct steel *steel, struct job *job, struct trial *trial)
{
    *job = *search->given;
    job->state[FIELD_pin_steel] = FIELD_GIVEN;
    job->pin.steel.row = steel;
    job->pin.steel.by_grade = false;
    search_try_job(search, job, 0.0, trial);
}

static bool
among(const struct job *job, const struct steel *steel)
{
    if (!job_given(job, FIELD_find_among)) {
        return true;
    }
    for (size_t i = 0; i < job->find.among_count; i++) {
        bool by_grade;

        if (steel_find(job->find.among[i], &by_grade) == steel) {
            return true;
        }
    }
    return false;
}

/* What a steel that was just tried and passes uses of its strength, to put the
 * strongest first. */
static double
strength_used(const struct search *search, const struct job *job)
{
    struct standing standing;
    struct finding worst;

    strength_standing(job, search->derived, &standing, &worst);
    return standing.judged ? standing.utilization : 0.0;
}

/* Put a steel that passes in its place: least of its strength used first. */
static void
keep_passing(const char *id, double used, double used_by[SIZE_PASSING_MAX], struct size *size)
{
    size_t place = size->passing_count;

    if (place == SIZE_PASSING_MAX) {
        return;
    }
    for (; place > 0 && used < used_by[place - 1]; place--) {
        size->passing[place] = size->passing[place - 1];
        used_by[place] = used_by[place - 1];
    }
    size->passing[place] = id;
    used_by[place] = used;
    size->passing_count++;
}

/* Steels tried, and the one that comes nearest to passing. */
struct steel_trials {
    size_t tried;
    const struct steel *best;
    struct trial of_best;
};

static void
try_all(const struct search *search, struct steel_trials *trials, struct size *size)
{
    size_t count;
    const struct steel *table = steel_table(&count);
    double used_by[SIZE_PASSING_MAX];

    for (size_t i = 0; i < count; i++) {
        struct trial trial;
        struct job job;

        if (!among(search->given, &table[i])) {
            continue;
        }
        try_steel(search, &table[i], &job, &trial);
        if (trials->tried++ == 0 || trial.badness < trials->of_best.badness) {
            trials->best = &table[i];
            trials->of_best = trial;
        }
        if (trial.passes) {
            keep_passing(table[i].id, strength_used(search, &job), used_by, size);
        }
    }
}

const struct steel *
search_steels(const struct search *search, struct size *size)
{
    struct steel_trials trials = {0};
    struct job job;
    bool by_grade;

    try_all(search, &trials, size);
    size->outcome = size->passing_count == 0              ? SIZE_NONE_PASSES
                    : size->passing_count == trials.tried ? SIZE_ALL_PASS
                                                          : SIZE_LIMIT;
    if (size->passing_count > 0) {
        size->found_id = size->passing[0];
        trials.best = steel_find(size->found_id, &by_grade);
        try_steel(search, trials.best, &job, &trials.of_best);
    }
    if (trials.tried > 0 && trials.of_best.blocking < FINDING_MAX) {
        size->governing = check_row(trials.of_best.blocking)->id;
        size->governing_utilization = trials.of_best.utilization;
    }
    return trials.best;
}
