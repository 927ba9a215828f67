#include "joint/size_search.h"

#include <math.h>

#include "base/text.h"
#include "joint/conclude.h"
#include "joint/run.h"

/* One value tried: what the checks of the whole joint say of it. */

static double
over(double value, double bound)
{
    return bound > 0.0 ? value / bound - 1.0 : value - bound;
}

/*
 * How far a finding is beyond what passes, a smooth guide for the search; its
 * sign follows the verdict, which alone decides.
 */
static double
badness_of(const struct check *check, const struct finding *f, bool accept_marginal)
{
    const bool passes = f->verdict == VERDICT_OK || (accept_marginal && f->verdict == VERDICT_MARGINAL);
    double badness = passes ? -0.5 : 1.0;

    if (f->has_limits && f->two_sided) {
        const double low = accept_marginal ? f->limit_low : f->advised_low;
        const double high = accept_marginal ? f->limit_high : f->advised_high;
        const double width = fmax(high - low, 1e-9);

        badness = fmax(low - f->value, f->value_high - high) / width;
    } else if (f->has_limits && f->has_value && check->sense == SENSE_CEILING) {
        badness = over(f->value, accept_marginal ? f->limit : f->advised);
    } else if (f->has_limits && f->has_value && check->sense == SENSE_FLOOR) {
        const double bound = accept_marginal ? f->limit : f->advised;

        badness =
            f->value * UTILIZATION_MAX > bound && f->value > 0.0 ? bound / f->value - 1.0 : UTILIZATION_MAX - f->value;
    }
    if (passes) {
        return fmin(badness, -1e-12);
    }
    return fmax(badness, 1e-12);
}

/* A number that is not finite is told where the answer is judged. */
static void
judge_trial(const struct search *search, const struct job *job, struct trial *trial)
{
    const section_set sections = call_row(CALL_size)->sections;

    trial->badness = -HUGE_VAL;
    trial->blocking = FINDING_MAX;
    derive_again(job, sections, search->derived);
    for (size_t i = 0; i < check_count(); i++) {
        struct finding finding = {.judged = false};

        run_judge_one(job, search->derived, sections, check_row(i), &finding);
        if (finding_counts(&finding)) {
            const double badness = badness_of(check_row(i), &finding, search->accept_marginal);

            trial->blocked += badness <= 0.0 ? 0 : finding.verdict == VERDICT_FAILS ? check_count() : 1;
            if (badness > trial->badness) {
                trial->badness = badness;
                trial->blocking = i;
                trial->utilization = finding.utilization;
            }
        }
    }
    if (trial->blocking == FINDING_MAX) {
        trial->badness = 1.0; /* nothing can be judged, so nothing passes */
    }
    trial->passes = trial->badness <= 0.0;
}

/* Complete and validate a job; false, and why, if it contradicts itself. */
bool
search_make_whole(struct job *job, char *why, size_t size)
{
    struct fault_list faults;

    job_complete(job);
    fault_list_init(&faults);
    job_validate(job, &faults);
    if (faults.count > 0 && why != NULL) {
        text_copy(why, size, faults.fault[0].detail);
    }
    return faults.count == 0;
}

void
search_try_job(const struct search *search, struct job *job, double si, struct trial *trial)
{
    *trial = (struct trial){.si = si, .badness = SEARCH_CONTRADICTS, .blocking = FINDING_MAX};
    if (search_make_whole(job, NULL, 0)) {
        judge_trial(search, job, trial);
    }
}

void
search_try(const struct search *search, double si, struct trial *trial)
{
    struct job job = *search->given;

    target_set(&job, &search->target, si);
    search_try_job(search, &job, si, trial);
}

double
search_utilization(const struct search *search, struct job *job, size_t check)
{
    const section_set sections = call_row(CALL_size)->sections;
    struct finding finding = {.judged = false};

    if (!search_make_whole(job, NULL, 0)) {
        return -1.0;
    }
    derive_again(job, sections, search->derived);
    run_judge_one(job, search->derived, sections, check_row(check), &finding);
    return finding_counts(&finding) && finding.has_utilization ? finding.utilization : -1.0;
}
