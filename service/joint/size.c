#include "joint/size.h"

#include <string.h>

#include "base/text.h"
#include "joint/conclude.h"
#include "joint/joint.h"
#include "joint/size_search.h"
#include "quantity/quantity.h"

static bool
raw_si(const struct raw_quantity *raw, enum dimension dimension, enum unit_system units, double *si, const char **why,
       struct quantity_reading *reading)
{
    if (raw->is_number) {
        *si = unit_to_si(unit_of(dimension, units), raw->number);
        return true;
    }
    if (!quantity_read(raw->text, strlen(raw->text), dimension, units, reading)) {
        *why = reading->detail;
        return false;
    }
    *si = reading->si;
    return true;
}

/* The range of the search; faults where find.from or find.to cannot be read. */
static bool
range_of(const struct job *job, struct search *search, struct fault_list *faults)
{
    const struct {
        enum job_field field;
        const struct raw_quantity *raw;
        double *si;
    } ends[] = {{FIELD_find_from, &job->find.from, &search->from}, {FIELD_find_to, &job->find.to, &search->to}};
    const struct job_field_row *row = job_field_row(search->target.field);
    struct quantity_reading reading;
    const char *why;

    target_range(job, &search->target, &search->from, &search->to);
    for (size_t i = 0; i < 2; i++) {
        if (!job_given(job, ends[i].field)) {
            continue;
        }
        if (!raw_si(ends[i].raw, search->target.dimension, job->units, ends[i].si, &why, &reading)) {
            struct fault *fault = fault_add(faults, reading.code, job_field_pointer(ends[i].field), "%s", why);
            if (fault != NULL) {
                text_copy(fault->nearest, sizeof fault->nearest, reading.nearest);
            }
            return false;
        }
        if (!(*ends[i].si >= row->minimum && *ends[i].si <= row->maximum)) {
            fault_add(faults, FAULT_OUT_OF_RANGE, job_field_pointer(ends[i].field), "outside the range of %s",
                      row->path);
            return false;
        }
    }
    if (search->from >= search->to) {
        fault_add(faults, FAULT_CONTRADICTION, job_field_pointer(FIELD_find_from),
                  "/find/from and /find/to contradict: nothing lies between them");
        return false;
    }
    return true;
}

static bool
search_of(const struct job *job, struct search *search, struct fault_list *faults)
{
    const char *nearest;
    struct fault *fault;

    if (!job_given(job, FIELD_find_what)) {
        fault_add(faults, FAULT_MISSING, job_field_pointer(FIELD_find_what),
                  "name the member sought, pin.diameter for example");
        return false;
    }
    search->given = job;
    if (!target_find(job->find.what, &search->target, &nearest)) {
        fault = fault_add(faults, FAULT_OUT_OF_RANGE, job_field_pointer(FIELD_find_what),
                          "this is no number of the joint that can be solved for");
        if (fault != NULL) {
            text_copy(fault->got, sizeof fault->got, job->find.what);
            text_copy(fault->nearest, sizeof fault->nearest, nearest != NULL ? nearest : "");
        }
        return false;
    }
    search->accept_marginal = job_given(job, FIELD_find_keep) && job->find.keep == CHOICE_keep_NOT_FAILS;
    search->largest = job_given(job, FIELD_find_aim) ? job->find.aim == CHOICE_aim_LARGEST : search->target.largest;
    return search->target.of_steel || range_of(job, search, faults);
}

bool
size_accepts(const struct job *job, struct fault_list *faults)
{
    struct search search;
    struct job rest = *job;

    if (!search_of(job, &search, faults)) {
        return false;
    }
    for (size_t i = 0; i < job->find.among_count; i++) {
        bool by_grade;

        if (steel_find(job->find.among[i], &by_grade) == NULL) {
            fault_add(faults, FAULT_OUT_OF_RANGE, job_field_pointer(FIELD_find_among), "%s is no steel of the table",
                      job->find.among[i]);
        }
    }
    target_drop(&rest, &search.target);
    job_complete(&rest);
    job_validate(&rest, faults);
    return faults->count == 0;
}

void
size_run(const struct job *job, struct job *solved, struct report *report)
{
    struct fault_list faults;
    struct search search;
    struct size size;
    struct derived trials = {.load = {.known = false}};
    double shown = 0.0;

    memset(&size, 0, sizeof size);
    memset(&search, 0, sizeof search);
    fault_list_init(&faults);
    (void)search_of(job, &search, &faults); /* held already: size_accepts */
    search.derived = &trials;
    *solved = *job;
    size.searched = true;
    size.field = search.target.field;
    size.of_steel = search.target.of_steel;
    text_copy(size.what, sizeof size.what, job->find.what);
    if (size.of_steel) {
        const struct steel *best = search_steels(&search, &size);

        solved->state[FIELD_pin_steel] = best != NULL ? FIELD_GIVEN : FIELD_ABSENT;
        solved->pin.steel.row = best;
        solved->pin.steel.by_grade = false;
    } else {
        target_drop(solved, &search.target);
        if (search_values(&search, &size, &shown)) {
            target_set(solved, &search.target, shown);
        }
    }
    job_complete(solved);
    joint_run(solved, CALL_size, report);
    report->size = size;
    conclude_size(report);
}
