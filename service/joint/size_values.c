#include "joint/size_search.h"

#include <math.h>
#include <string.h>

#include "joint/size.h"

/* Searching a range: scan, look closer where it dips, bisect what is found. */

enum {
    SCAN_POINTS = 72,
    GOLDEN_ROUNDS = 48,
    BISECT_ROUNDS = 60,
    POINTS_MAX = SCAN_POINTS + SCAN_POINTS / 2 /* the scan, and windows found between */
};

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
        while (count < SCAN_POINTS && ceil(search->from) + (double)count <= search->to) {
            search_try(search, ceil(search->from) + (double)count, &trials[count]);
            count++;
        }
        return count;
    }
    for (int i = 0; i < SCAN_POINTS; i++) {
        search_try(search, scan_point(search, i), &trials[count++]);
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

    search_try(search, high - ratio * (high - low), &left);
    search_try(search, low + ratio * (high - low), &right);
    for (int round = 0; round < GOLDEN_ROUNDS && !left.passes && !right.passes; round++) {
        if (left.badness <= right.badness) {
            high = right.si;
            right = left;
            search_try(search, high - ratio * (high - low), &left);
        } else {
            low = left.si;
            left = right;
            search_try(search, low + ratio * (high - low), &right);
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
                         trials[i].badness < SEARCH_CONTRADICTS;

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

        if (fabs(fail->si - pass->si) <= 1e-9 * fmax(fabs(pass->si), fabs(fail->si)) ||
            fabs(fail->si - pass->si) <= 1e-12 * (search->to - search->from)) {
            return;
        }
        search_try(search, middle, &trial);
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
    double step;

    if (x == 0.0 || search->target.whole_numbers) {
        return pass->si;
    }
    step = pow(10.0, floor(log10(fabs(x))) - 5.0);
    for (int i = 0; i < 3; i++) {
        const double rounded = up ? (ceil(x / step) + i) * step : (floor(x / step) - i) * step;
        struct trial trial;

        search_try(search, unit_to_si(unit, rounded), &trial);
        if (trial.passes) {
            return trial.si;
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
    if (fail->badness >= SEARCH_CONTRADICTS) {
        struct job job = *search->given;

        target_set(&job, &search->target, fail->si);
        (void)search_make_whole(&job, size->contradiction, sizeof size->contradiction);
    }
}

static void
bounds(const struct search *search, const struct trial *trials, size_t count, const struct run *run, struct size *size)
{
    struct trial low = trials[run->first], high = trials[run->last];
    bool below = run->first > 0;
    const bool above = run->last + 1 < count;

    if (below) {
        struct trial fail = trials[run->first - 1];

        bisect(search, &low, &fail);
        low.si = printed(search, &low, true);
        /* Standing still is another matter than running slowly: no bound to name. */
        below = search->from != 0.0 || low.si > 1e-9 * search->to;
        if (below && (!search->largest || !above)) {
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

/* Nearer to passing: less of the worst check, or, where that one fails alike
 * whatever the value, fewer others: what is said of the rest is then not of a
 * value that nobody would take. */
static bool
nearer(const struct trial *a, const struct trial *b)
{
    return a->badness < b->badness || (a->badness <= b->badness && a->blocked < b->blocked);
}

static const struct trial *
least_bad(const struct trial *trials, size_t count)
{
    const struct trial *best = &trials[0];

    for (size_t i = 1; i < count; i++) {
        best = nearer(&trials[i], best) ? &trials[i] : best;
    }
    return best;
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
    search_try(search, si, &trial);
    size->practical_known = trial.passes;
    size->practical = si;
}

/* Search; *shown is the value found, or the one that comes nearest. False where
 * every value contradicts the document, so that there is none to show. */
bool
search_values(const struct search *search, struct size *size, double *shown)
{
    struct trial trials[POINTS_MAX];
    size_t count = scan(search, trials);
    struct run run;

    if (count == 0) {
        size->outcome = SIZE_NONE_PASSES; /* no whole number in the range */
        return false;
    }
    if (!search->target.whole_numbers) {
        search_dips(search, trials, &count);
    }
    if (choose_run(trials, count, search->largest, &run)) {
        bounds(search, trials, count, &run, size);
        *shown = size->found;
        search_sensitivities(search, size);
        practical(search, size);
        return true;
    }
    size->outcome = SIZE_NONE_PASSES;
    note_governing(search, least_bad(trials, count), size);
    *shown = least_bad(trials, count)->si;
    return least_bad(trials, count)->badness < SEARCH_CONTRADICTS;
}
