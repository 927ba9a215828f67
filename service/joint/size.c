#include "joint/size.h"

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "joint/conclude.h"
#include "joint/joint.h"
#include "joint/run.h"
#include "joint/size_target.h"
#include "quantity/quantity.h"

enum {
    SCAN_POINTS = 72,
    GOLDEN_ROUNDS = 48,
    BISECT_ROUNDS = 60,
    POINTS_MAX = SCAN_POINTS + SCAN_POINTS / 2 /* the scan, and windows found between */
};

/* Badness of a value that contradicts the document: worse than any check. */
#define CONTRADICTS 1.0e9

/* The search: what is given, what is sought. */
struct search {
    const struct job *given; /* as read */
    struct target target;
    bool accept_marginal;
    bool largest;
    double from, to;
};

/* A value tried. */
struct trial {
    double si;
    bool passes;
    double badness;   /* <= 0 passes; how far the worst check is beyond what passes */
    size_t blocking;  /* its check, FINDING_MAX if none */
    double utilization; /* of that check */
};

/* ---- one trial ---- */

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

        badness = f->value * UTILIZATION_MAX > bound && f->value > 0.0 ? bound / f->value - 1.0
                                                                       : UTILIZATION_MAX - f->value;
    }
    if (passes) {
        return fmin(badness, -1e-12);
    }
    return fmax(badness, 1e-12);
}

static void
judge_trial(const struct search *search, const struct job *job, struct report *scratch, struct trial *trial)
{
    struct derived derived;

    memset(scratch, 0, sizeof *scratch);
    derive(job, &derived);
    run_judge(job, &derived, call_row(CALL_size)->sections, scratch);
    trial->badness = -HUGE_VAL;
    trial->blocking = FINDING_MAX;
    for (size_t i = 0; i < check_count(); i++) {
        if (finding_counts(&scratch->finding[i])) {
            const double badness = badness_of(check_row(i), &scratch->finding[i], search->accept_marginal);

            if (badness > trial->badness) {
                trial->badness = badness;
                trial->blocking = i;
                trial->utilization = scratch->finding[i].utilization;
            }
        }
    }
    if (trial->blocking == FINDING_MAX) {
        trial->badness = 1.0; /* nothing can be judged, so nothing passes */
    }
    trial->passes = trial->badness <= 0.0;
}

/* Complete and validate a job; false, and why, if it contradicts itself. */
static bool
make_whole(struct job *job, char *why, size_t size)
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

static void
try_job(const struct search *search, struct job *job, double si, struct trial *trial)
{
    struct report scratch;

    *trial = (struct trial){.si = si, .badness = CONTRADICTS, .blocking = FINDING_MAX};
    if (make_whole(job, NULL, 0)) {
        judge_trial(search, job, &scratch, trial);
    }
}

static void
try_value(const struct search *search, double si, struct trial *trial)
{
    struct job job = *search->given;

    target_set(&job, &search->target, si);
    try_job(search, &job, si, trial);
}

/* ---- the scan ---- */

/* Points spaced by ratio where the range spans much, evenly where it does not;
 * a range that starts at zero has zero and then points by ratio. */
static double
scan_point(const struct search *search, int i)
{
    const double from = search->from, to = search->to, share = (double)i / (SCAN_POINTS - 1);

    if (i == SCAN_POINTS - 1) {
        return to;
    }
    if (from > 0.0 && to > 1.5 * from) {
        return from * pow(to / from, share);
    }
    if (from == 0.0 && to > 0.0) {
        return i == 0 ? 0.0 : to * pow(1.0e-5, 1.0 - share);
    }
    return from + (to - from) * share;
}

static size_t
scan(const struct search *search, struct trial trials[POINTS_MAX])
{
    size_t count = 0;

    if (search->target.whole_numbers) {
        for (double si = ceil(search->from); si <= search->to && count < SCAN_POINTS; si += 1.0) {
            try_value(search, si, &trials[count++]);
        }
        return count;
    }
    for (int i = 0; i < SCAN_POINTS; i++) {
        try_value(search, scan_point(search, i), &trials[count++]);
    }
    return count;
}

/* Golden-section search for the least badness between two values; stops at
 * the first that passes. */
static bool
search_window(const struct search *search, double low, double high, struct trial *best)
{
    const double ratio = (sqrt(5.0) - 1.0) / 2.0;
    struct trial left, right;

    try_value(search, high - ratio * (high - low), &left);
    try_value(search, low + ratio * (high - low), &right);
    for (int round = 0; round < GOLDEN_ROUNDS && !left.passes && !right.passes; round++) {
        if (left.badness <= right.badness) {
            high = right.si;
            right = left;
            try_value(search, high - ratio * (high - low), &left);
        } else {
            low = left.si;
            left = right;
            try_value(search, low + ratio * (high - low), &right);
        }
    }
    *best = left.passes || (!right.passes && left.badness <= right.badness) ? left : right;
    return best->passes;
}

static void
insert_trial(struct trial trials[POINTS_MAX], size_t *count, size_t at, const struct trial *trial)
{
    memmove(&trials[at + 1], &trials[at], (*count - at) * sizeof trials[0]);
    trials[at] = *trial;
    (*count)++;
}

/* Where the badness dips between neighbours that do not pass, look closer. */
static void
search_dips(const struct search *search, struct trial trials[POINTS_MAX], size_t *count)
{
    for (size_t i = 1; i + 1 < *count && *count < POINTS_MAX; i++) {
        struct trial best;
        const bool dip = !trials[i].passes && !trials[i - 1].passes && !trials[i + 1].passes &&
                         trials[i].badness <= trials[i - 1].badness && trials[i].badness <= trials[i + 1].badness &&
                         trials[i].badness < CONTRADICTS;

        if (dip && search_window(search, trials[i - 1].si, trials[i + 1].si, &best)) {
            const size_t at = best.si > trials[i].si ? i + 1 : i;

            insert_trial(trials, count, at, &best);
            i++;
        }
    }
}

/* ---- the ends of what passes ---- */

/* Narrow the gap between a passing and a failing value; *pass ends as near the
 * boundary as the figures can tell. */
static void
bisect(const struct search *search, struct trial *pass, struct trial *fail)
{
    for (int round = 0; round < BISECT_ROUNDS && !search->target.whole_numbers; round++) {
        const double middle = pass->si + (fail->si - pass->si) / 2.0;
        struct trial trial;

        if (fabs(fail->si - pass->si) <= 1e-9 * fmax(fabs(pass->si), fabs(fail->si))) {
            return;
        }
        try_value(search, middle, &trial);
        *(trial.passes ? pass : fail) = trial;
    }
}

/*
 * The value as it will be printed, six significant digits in the document's
 * unit, rounded to the side that passes.
 */
static double
printed(const struct search *search, const struct trial *pass, bool up)
{
    const struct unit *unit = unit_of(search->target.dimension, search->given->units);
    const double x = unit_from_si(unit, pass->si);
    double step, si = pass->si;

    if (x == 0.0 || search->target.whole_numbers) {
        return pass->si;
    }
    step = pow(10.0, floor(log10(fabs(x))) - 5.0);
    for (int i = 0; i < 3; i++) {
        const double rounded = up ? (ceil(x / step) + i) * step : (floor(x / step) - i) * step;
        struct trial trial;

        si = unit_to_si(unit, rounded);
        try_value(search, si, &trial);
        if (trial.passes) {
            return si;
        }
    }
    return pass->si;
}

/* A run of passing trials: first and last index. */
struct run {
    size_t first, last;
};

/* The run that the aim asks for: the first, or the last. */
static bool
choose_run(const struct trial *trials, size_t count, bool largest, struct run *run)
{
    bool found = false;

    for (size_t i = 0; i < count; i++) {
        if (!trials[i].passes) {
            continue;
        }
        if (i > 0 && trials[i - 1].passes && found) {
            run->last = run->last + 1 == i ? i : run->last;
        } else if (!found || largest) {
            *run = (struct run){i, i};
            found = true;
        }
    }
    return found;
}

static void
note_governing(const struct search *search, const struct trial *fail, struct size *size)
{
    size->governing = fail->blocking < FINDING_MAX ? check_row(fail->blocking)->id : NULL;
    size->governing_utilization = fail->utilization;
    if (fail->badness >= CONTRADICTS) {
        struct job job = *search->given;

        target_set(&job, &search->target, fail->si);
        (void)make_whole(&job, size->contradiction, sizeof size->contradiction);
    }
}

static void
bounds(const struct search *search, const struct trial *trials, size_t count, const struct run *run, struct size *size)
{
    struct trial low = trials[run->first], high = trials[run->last];
    const bool below = run->first > 0, above = run->last + 1 < count;

    if (below) {
        struct trial fail = trials[run->first - 1];

        bisect(search, &low, &fail);
        low.si = printed(search, &low, true);
        if (!search->largest || !above) {
            note_governing(search, &fail, size);
        }
    }
    if (above) {
        struct trial fail = trials[run->last + 1];

        bisect(search, &high, &fail);
        high.si = printed(search, &high, false);
        if (search->largest || !below) {
            note_governing(search, &fail, size);
        }
    }
    size->outcome = below && above ? SIZE_WINDOW : below || above ? SIZE_LIMIT : SIZE_ALL_PASS;
    size->found_known = size->range_known = true;
    size->found_low = low.si;
    size->found_high = high.si;
    /* Where only one side is bounded, that bound is the answer. */
    size->found = below && !above ? low.si : above && !below ? high.si : search->largest ? high.si : low.si;
}

static const struct trial *
least_bad(const struct trial *trials, size_t count)
{
    const struct trial *best = &trials[0];

    for (size_t i = 1; i < count; i++) {
        best = trials[i].badness < best->badness ? &trials[i] : best;
    }
    return best;
}

/* ---- what follows from the value found ---- */

static double
utilization_with(const struct search *search, struct job *job, size_t check)
{
    struct report scratch;
    struct derived derived;

    (void)search;
    if (!make_whole(job, NULL, 0)) {
        return -1.0;
    }
    memset(&scratch, 0, sizeof scratch);
    derive(job, &derived);
    run_judge(job, &derived, call_row(CALL_size)->sections, &scratch);
    return finding_counts(&scratch.finding[check]) && scratch.finding[check].has_utilization
               ? scratch.finding[check].utilization
               : -1.0;
}

static void
keep_sensitivity(struct size *size, enum job_field at, double change)
{
    size_t place = size->sensitivity_count;

    if (change == 0.0) {
        return;
    }
    while (place > 0 && fabs(change) > fabs(size->sensitivity[place - 1].utilization_per_percent)) {
        if (place < SENSITIVITY_MAX) {
            size->sensitivity[place] = size->sensitivity[place - 1];
        }
        place--;
    }
    if (place < SENSITIVITY_MAX) {
        size->sensitivity[place] = (struct sensitivity){at, change};
        size->sensitivity_count += size->sensitivity_count < SENSITIVITY_MAX;
    }
}

/* One percent more of each number that was given, one at a time. */
static void
sensitivities(const struct search *search, struct size *size)
{
    const size_t check = size->governing != NULL ? check_index(size->governing) : check_count();
    struct job base = *search->given;
    double before;

    if (check == check_count()) {
        return;
    }
    target_set(&base, &search->target, size->found);
    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        struct job moved = base;
        const struct target target = {.field = (enum job_field)field, .dimension = row->dimension};
        double value, after;

        if (row->kind != KIND_NUMBER || !job_given(&base, (enum job_field)field) || field == (int)search->target.field ||
            row->dimension == DIMENSION_COUNT || row->dimension == DIMENSION_TEMPERATURE) {
            continue;
        }
        value = *(const double *)(const void *)((const char *)&base + row->offset);
        target_set(&moved, &target, 1.01 * value);
        after = utilization_with(search, &moved, check);
        moved = base;
        before = utilization_with(search, &moved, check);
        if (before >= 0.0 && after >= 0.0) {
            keep_sensitivity(size, (enum job_field)field, after - before);
        }
    }
}

static void
practical(const struct search *search, struct size *size)
{
    const bool up = size->outcome == SIZE_LIMIT ? size->found == size->found_low : !search->largest;
    struct trial trial;
    double si = 0.0;

    if (search->target.whole_numbers ||
        !size_practical(search->target.field, search->given->units, size->found, up, &si)) {
        return;
    }
    try_value(search, si, &trial);
    size->practical_known = trial.passes;
    size->practical = si;
}

/* ---- among the steels ---- */

static void
try_steel(const struct search *search, const struct steel *steel, struct trial *trial)
{
    struct job job = *search->given;

    job.state[FIELD_pin_steel] = FIELD_GIVEN;
    job.pin.steel.row = steel;
    job.pin.steel.by_grade = false;
    try_job(search, &job, 0.0, trial);
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

/* Tries every steel; the passing ones best first, and the best of all in
 * *best. */
static const struct steel *
search_steels(const struct search *search, struct size *size)
{
    size_t count, tried = 0;
    const struct steel *table = steel_table(&count), *best = NULL;
    struct trial of_best = {.badness = HUGE_VAL}, trial;
    double badness[SIZE_PASSING_MAX];

    for (size_t i = 0; i < count; i++) {
        if (!among(search->given, &table[i])) {
            continue;
        }
        tried++;
        try_steel(search, &table[i], &trial);
        if (best == NULL || trial.badness < of_best.badness) {
            best = &table[i];
            of_best = trial;
        }
        if (trial.passes && size->passing_count < SIZE_PASSING_MAX) {
            size_t place = size->passing_count++;

            for (; place > 0 && trial.badness < badness[place - 1]; place--) {
                size->passing[place] = size->passing[place - 1];
                badness[place] = badness[place - 1];
            }
            size->passing[place] = table[i].id;
            badness[place] = trial.badness;
        }
    }
    size->outcome = size->passing_count == 0     ? SIZE_NONE_PASSES
                    : size->passing_count == tried ? SIZE_ALL_PASS
                                                   : SIZE_LIMIT;
    size->found_id = size->passing_count > 0 ? size->passing[0] : NULL;
    if (of_best.blocking < FINDING_MAX) {
        size->governing = check_row(of_best.blocking)->id;
        size->governing_utilization = of_best.utilization;
    }
    return best;
}

/* ---- entry ---- */

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
            fault_add(faults, reading.code, job_field_pointer(ends[i].field), "%s", why);
            return false;
        }
        if (!(*ends[i].si >= row->minimum && *ends[i].si <= row->maximum)) {
            fault_add(faults, FAULT_OUT_OF_RANGE, job_field_pointer(ends[i].field), "outside the range of %s", row->path);
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
        fault_add(faults, FAULT_MISSING, job_field_pointer(FIELD_find_what), "name the member sought, pin.diameter for example");
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
            fault_add(faults, FAULT_OUT_OF_RANGE, job_field_pointer(FIELD_find_among), "%s is no steel of the table", job->find.among[i]);
        }
    }
    target_drop(&rest, &search.target);
    job_complete(&rest);
    job_validate(&rest, faults);
    return faults->count == 0;
}

/* Search; *shown is the value found, or the one that comes nearest. False where
 * every value contradicts the document, so that there is none to show. */
static bool
search_values(const struct search *search, struct size *size, double *shown)
{
    struct trial trials[POINTS_MAX];
    size_t count = scan(search, trials);
    struct run run;

    if (!search->target.whole_numbers) {
        search_dips(search, trials, &count);
    }
    if (choose_run(trials, count, search->largest, &run)) {
        bounds(search, trials, count, &run, size);
        *shown = size->found;
        sensitivities(search, size);
        practical(search, size);
        return true;
    }
    size->outcome = SIZE_NONE_PASSES;
    note_governing(search, least_bad(trials, count), size);
    *shown = least_bad(trials, count)->si;
    return least_bad(trials, count)->badness < CONTRADICTS;
}

void
size_run(const struct job *job, struct job *solved, struct report *report)
{
    struct fault_list faults;
    struct search search;
    struct size size;
    double shown = 0.0;

    memset(&size, 0, sizeof size);
    memset(&search, 0, sizeof search);
    fault_list_init(&faults);
    (void)search_of(job, &search, &faults); /* held already: size_accepts */
    *solved = *job;
    size.searched = true;
    size.field = search.target.field;
    size.of_steel = search.target.of_steel;
    text_copy(size.what, sizeof size.what, job->find.what);
    if (size.of_steel) {
        solved->state[FIELD_pin_steel] = FIELD_GIVEN;
        solved->pin.steel.row = search_steels(&search, &size);
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
