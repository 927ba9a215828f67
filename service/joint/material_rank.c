#include "joint/material_rank.h"

#include <string.h>

#include "joint/surface.h"

#define CHECK(id) extern const struct check check_##id;
#include "joint/check.def"

/* All that the steel moves, the bearing pressures by its hardness; and whether
 * it does so by its strength. */
static const struct {
    const struct check *check;
    bool by_strength;
} steel_checks[] = {
    {&check_bending, true},       {&check_yield, true},           {&check_shear, true},
    {&check_ovalization, false},  {&check_edge_slope, false},     {&check_boss_pressure, false},
    {&check_eye_pressure, false}, {&check_fatigue, true},         {&check_slot_bending, true},
    {&check_slot_fatigue, true},  {&check_steel_hardness, false}, {&check_steel_suits, false},
};

enum { STEEL_CHECK_COUNT = sizeof steel_checks / sizeof steel_checks[0] };

/* What a bearing metal moves, by surface. */
static const struct check *const boss_checks[] = {&check_boss_pressure, &check_boss_pv, &check_steel_hardness};
static const struct check *const eye_checks[] = {&check_eye_pressure, &check_eye_pv, &check_steel_hardness};
static const struct check *const both_checks[] = {&check_boss_pressure, &check_boss_pv, &check_eye_pressure,
                                                  &check_eye_pv, &check_steel_hardness};

static double
utilization_of(const struct finding *finding)
{
    return finding->has_utilization ? finding->utilization : 0.0;
}

/* Take a finding in; is it the worst so far? */
static bool
take(const struct check *check, const struct finding *finding, struct standing *standing)
{
    const double utilization = utilization_of(finding);
    const bool worst = !standing->judged || finding->verdict > standing->verdict ||
                       (finding->verdict == standing->verdict && utilization > standing->worst_utilization);
    if (worst) {
        standing->verdict = finding->verdict;
        standing->worst = check;
        standing->worst_utilization = utilization;
    }
    if (utilization > standing->utilization) {
        standing->utilization = utilization;
    }
    standing->judged = true;
    return worst;
}

static void
note_earnest(const struct check *check, const struct job *job, const struct finding *finding, struct standing *standing)
{
    if (finding->verdict == VERDICT_FAILS && !check_rests_on_assumed_geometry(check, job)) {
        standing->fails_in_earnest = true;
    }
}

/* Does the check, whose needs are known, say anything of the joint? The finding
 * comes zeroed. */
static bool
says(const struct check *check, const struct job *job, const struct derived *derived, struct finding *finding)
{
    finding->fix = FIELD_NONE;
    check->judge(job, derived, finding);
    return finding->judged && finding->not_applicable == NULL;
}

static bool
judge(const struct check *check, const struct job *job, const struct derived *derived, struct finding *finding)
{
    return check_needs_known(check, job) && says(check, job, derived, finding);
}

static void
standing_of(const struct check *const *checks, size_t count, const struct job *job, const struct derived *derived,
            struct standing *standing)
{
    *standing = (struct standing){0};
    for (size_t i = 0; i < count; i++) {
        struct finding finding = {0};
        if (judge(checks[i], job, derived, &finding)) {
            note_earnest(checks[i], job, &finding, standing);
            (void)take(checks[i], &finding, standing);
        }
    }
}

void
strength_standing(const struct job *job, const struct derived *derived, struct standing *standing,
                  struct finding *worst)
{
    *standing = (struct standing){0};
    for (size_t i = 0; i < STEEL_CHECK_COUNT; i++) {
        struct finding finding = {0};
        if (steel_checks[i].by_strength && judge(steel_checks[i].check, job, derived, &finding) &&
            take(steel_checks[i].check, &finding, standing)) {
            *worst = finding;
        }
    }
}

/* Which of the checks have what they need once there is a steel: the same for
 * every steel, so it is asked once. */
static void
find_needs_known(const struct job *with_steel, bool needs_known[STEEL_CHECK_COUNT])
{
    for (size_t i = 0; i < STEEL_CHECK_COUNT; i++) {
        needs_known[i] = check_needs_known(steel_checks[i].check, with_steel);
    }
}

/* All the checks; returns the utilization of the steel's strength. The findings
 * are cleared in one go: of so many steels that takes a tenth of the time. */
static double
steel_standing(const bool needs_known[STEEL_CHECK_COUNT], const struct job *job, const struct derived *derived,
               struct standing *standing)
{
    struct finding finding[STEEL_CHECK_COUNT] = {{0}};
    double strength = 0.0;
    *standing = (struct standing){0};
    for (size_t i = 0; i < STEEL_CHECK_COUNT; i++) {
        const struct check *check = steel_checks[i].check;
        if (needs_known[i] && says(check, job, derived, &finding[i])) {
            note_earnest(check, job, &finding[i], standing);
            (void)take(check, &finding[i], standing);
            if (steel_checks[i].by_strength && utilization_of(&finding[i]) > strength) {
                strength = utilization_of(&finding[i]);
            }
        }
    }
    return strength;
}

size_t
rubbing_bushings(const struct job *job, const struct metal *bushing[2])
{
    size_t count = 0;
    static const enum surface surfaces[] = {SURFACE_BOSS, SURFACE_EYE};
    for (size_t i = 0; i < 2; i++) {
        const struct metal *metal = job_metal(job, surface_bushing_field(surfaces[i]));
        if (surface_rubs(job, surfaces[i]) && metal != NULL) {
            bushing[count++] = metal;
        }
    }
    return count;
}

/* ---- rankings ---- */

/* An entry and what settles a tie, most telling first. */
struct candidate {
    struct ranking entry;
    double strength;            /* utilization of its strength */
    enum slot_suitability slot; /* where a slot or flat is cut, else all alike */
    double merit;               /* hardness of a pin; less for a metal that asks for a hard one */
};

struct candidates {
    size_t count;
    struct candidate list[RANKING_MAX];
};

/* Below zero if a ranks before b, zero where both are alike. */
static int
order_of(double a, double b)
{
    return (a > b) - (a < b);
}

static bool
ranks_before(const struct candidate *a, const struct candidate *b)
{
    int order = (int)a->entry.verdict - (int)b->entry.verdict;
    order = order != 0 ? order : order_of(a->entry.utilization, b->entry.utilization);
    order = order != 0 ? order : order_of(a->strength, b->strength);
    order = order != 0 ? order : (int)a->slot - (int)b->slot;
    order = order != 0 ? order : order_of(b->merit, a->merit);
    order = order != 0 ? order : strcmp(a->entry.id, b->entry.id);
    return order < 0;
}

/* Put a candidate in its place; the worst drops out of a full list. */
static void
rank_in(struct candidates *candidates, const struct candidate *candidate)
{
    struct candidate *list = candidates->list;
    size_t place = candidates->count;
    if (place < RANKING_MAX) {
        candidates->count++;
    } else if (ranks_before(candidate, &list[place - 1])) {
        place--;
    } else {
        return;
    }
    while (place > 0 && ranks_before(candidate, &list[place - 1])) {
        list[place] = list[place - 1];
        place--;
    }
    list[place] = *candidate;
}

static struct ranking
entry_of(const char *id, const char *note, const struct standing *standing)
{
    /* A failure that rests on assumed dimensions is not settled. */
    const enum verdict verdict =
        standing->verdict == VERDICT_FAILS && !standing->fails_in_earnest ? VERDICT_INCOMPLETE : standing->verdict;
    const struct ranking entry = {.id = id,
                                  .verdict = verdict,
                                  .governing = standing->worst->id,
                                  .utilization = standing->utilization,
                                  .note = note};
    return entry;
}

static size_t
list_out(const struct candidates *candidates, struct ranking *ranking)
{
    for (size_t i = 0; i < candidates->count; i++) {
        ranking[i] = candidates->list[i].entry;
    }
    return candidates->count;
}

static void
rank_steels(const struct job *job, const struct derived *derived, struct report *report)
{
    size_t count = 0;
    const struct steel *table = steel_table(&count);
    const struct steel *chosen = job_steel(job);
    const bool cut = job_known(job, FIELD_slot_depth) || job_known(job, FIELD_set_screw_flat_depth);
    struct job trial = *job;
    struct derived trial_derived = *derived;
    struct candidates candidates = {0};
    bool needs_known[STEEL_CHECK_COUNT];
    trial.state[FIELD_pin_steel] = FIELD_GIVEN;
    find_needs_known(&trial, needs_known);
    for (size_t i = 0; i < count; i++) {
        struct standing standing;
        trial.pin.steel.row = &table[i];
        /* A hardness entered for the chosen pin says nothing of another steel. */
        trial.state[FIELD_pin_hardness] = &table[i] == chosen ? job->state[FIELD_pin_hardness] : FIELD_ABSENT;
        strength_derive_steel(&trial, &trial_derived);
        slot_derive_steel(&trial, &trial_derived);
        const double strength = steel_standing(needs_known, &trial, &trial_derived, &standing);
        if (standing.judged) {
            const struct candidate candidate = {.entry = entry_of(table[i].id, table[i].pin_note, &standing),
                                                .strength = strength,
                                                .slot = cut ? table[i].slot : SLOT_SUITS,
                                                .merit = trial_derived.strength.surface_HB};
            rank_in(&candidates, &candidate);
        }
    }
    report->ranking_count = list_out(&candidates, report->ranking);
}

static void
metal_standing(const struct job *job, const struct derived *derived, struct standing *standing)
{
    if (!surface_rubs(job, SURFACE_EYE)) {
        standing_of(CHECK_LIST(boss_checks), job, derived, standing);
    } else if (!surface_rubs(job, SURFACE_BOSS)) {
        standing_of(CHECK_LIST(eye_checks), job, derived, standing);
    } else {
        standing_of(CHECK_LIST(both_checks), job, derived, standing);
    }
}

static void
rank_metals(const struct job *job, const struct derived *derived, struct report *report)
{
    size_t count = 0;
    const struct metal *table = bearing_metal_table(&count);
    struct job trial = *job;
    struct candidates candidates = {0};
    for (size_t i = 0; i < count; i++) {
        struct standing standing;
        if (!table[i].bearing || !table[i].pressure_max.given) {
            continue; /* nothing is published of it as a bushing */
        }
        if (surface_rubs(job, SURFACE_BOSS)) {
            trial.state[FIELD_boss_bushing] = FIELD_GIVEN;
            trial.boss.bushing.row = &table[i];
        }
        if (surface_rubs(job, SURFACE_EYE)) {
            trial.state[FIELD_eye_bushing] = FIELD_GIVEN;
            trial.eye.bushing.row = &table[i];
        }
        metal_standing(&trial, derived, &standing);
        if (standing.judged) {
            const struct candidate candidate = {.entry = entry_of(table[i].id, table[i].note, &standing),
                                                .merit = -table[i].shaft_hardness_min.si};
            rank_in(&candidates, &candidate);
        }
    }
    report->metal_ranking_count = list_out(&candidates, report->metal_ranking);
}

void
material_rank(const struct job *job, const struct derived *derived, struct report *report)
{
    report->chosen = job_steel(job);
    rank_steels(job, derived, report);
    rank_metals(job, derived, report);
}
