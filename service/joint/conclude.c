#include "joint/conclude.h"

#include "joint/conclude_part.h"

/* ---- verdict ---- */

bool
finding_counts(const struct finding *finding)
{
    return finding->judged && finding->not_applicable == NULL;
}

/* Did the client describe what the section is about? */
bool
section_present(const struct job *job, enum section section)
{
    switch (section) {
    case SECTION_load:
        return job_group_given(job, GROUP_engine);
    case SECTION_strength:
        return job_group_given(job, GROUP_engine) && job_group_given(job, GROUP_pin);
    case SECTION_slot:
        return job_group_given(job, GROUP_slot) || job_group_given(job, GROUP_clamp_bolt);
    case SECTION_set_screw:
        return job_group_given(job, GROUP_set_screw);
    case SECTION_fit:
        return job_group_given(job, GROUP_running_fit) || job_group_given(job, GROUP_press_fit);
    case SECTION_material:
        return job_given(job, FIELD_pin_steel);
    case SECTION_inspection:
        return job_group_given(job, GROUP_inspection);
    case SECTION_turning:
        return job_group_given(job, GROUP_turning);
    case SECTION_order: /* has no checks of its own: see order_conclude */
    case SECTION_COUNT:
        break;
    }
    return false;
}

size_t
report_judged_in(const struct report *report, section_set sections)
{
    size_t judged = 0;

    for (size_t i = 0; i < check_count(); i++) {
        judged += (sections & (1u << check_row(i)->section)) != 0 && finding_counts(&report->finding[i]);
    }
    return judged;
}

/* The section that a call of its own name is for: SECTION_COUNT for the calls
 * that take what they are given. */
enum section
section_asked(enum call call)
{
    switch (call) {
    case CALL_strength:
        return SECTION_strength;
    case CALL_slot:
        return SECTION_slot;
    case CALL_set_screw:
        return SECTION_set_screw;
    default: /* a call of one section, which is judged or not as a whole, or the whole joint */
        return SECTION_COUNT;
    }
}

/*
 * Something the call is for could not be judged at all. The loads count as
 * judged once they are computed: their one check needs the speed.
 */
static bool
section_missing(const struct job *job, const struct derived *derived, const struct report *report)
{
    const section_set sections = call_row(report->call)->sections;

    for (int section = 0; section < SECTION_COUNT; section++) {
        const section_set bit = 1u << section;

        if ((sections & bit) == 0 ||
            (!section_present(job, (enum section)section) && (enum section)section != section_asked(report->call))) {
            continue;
        }
        if (report_judged_in(report, bit) == 0 && !(section == SECTION_load && derived->load.known)) {
            return true;
        }
    }
    return report_judged_in(report, sections) == 0;
}

static enum verdict
overall(const struct job *job, const struct derived *derived, const struct report *report)
{
    enum verdict worst = section_missing(job, derived, report) ? VERDICT_INCOMPLETE : VERDICT_OK;

    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *finding = &report->finding[i];

        if (finding_counts(finding)) {
            const enum verdict verdict = finding->assumed_geometry ? VERDICT_INCOMPLETE : finding->verdict;

            worst = verdict > worst ? verdict : worst;
        }
    }
    return worst;
}

/* ---- the checks in order of concern ---- */

/* Is a worse off than b? Verdict first, then what is used of the limit. */
static bool
worse(const struct finding *a, const struct finding *b)
{
    if (a->verdict != b->verdict) {
        return a->verdict > b->verdict;
    }
    return a->utilization > b->utilization;
}

/* Indices of the counting findings, worst first; returns how many. */
static size_t
by_concern(const struct report *report, size_t order[FINDING_MAX])
{
    size_t count = 0;

    for (size_t i = 0; i < check_count(); i++) {
        size_t place = count;

        if (!finding_counts(&report->finding[i])) {
            continue;
        }
        while (place > 0 && worse(&report->finding[i], &report->finding[order[place - 1]])) {
            order[place] = order[place - 1];
            place--;
        }
        order[place] = i;
        count++;
    }
    return count;
}

/* The counting finding nearest its limit among those with a utilization, or
 * FINDING_MAX. */
size_t
report_nearest_limit(const struct report *report)
{
    size_t nearest = FINDING_MAX;

    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *finding = &report->finding[i];

        if (finding_counts(finding) && finding->has_utilization &&
            (nearest == FINDING_MAX || finding->utilization > report->finding[nearest].utilization)) {
            nearest = i;
        }
    }
    return nearest;
}

/* ---- summary ---- */

/* Why what the call is for does not apply to this joint, or NULL. */
const char *
asked_in_vain(const struct report *report)
{
    for (size_t i = 0; i < check_count(); i++) {
        if (check_row(i)->section == section_asked(report->call) && report->finding[i].not_applicable != NULL &&
            report_judged_in(report, 1u << check_row(i)->section) == 0) {
            return report->finding[i].not_applicable;
        }
    }
    return NULL;
}

static void
summarize(struct report *report, const size_t order[], size_t count)
{
    size_t worst = count > 0 ? order[0] : FINDING_MAX;
    struct message *summary = &report->summary;

    if (report->verdict == VERDICT_INCOMPLETE && asked_in_vain(report) != NULL) {
        summary->text = "Nothing to judge here: {a}.";
        summary->word[0] = asked_in_vain(report);
        return;
    }
    if (report->verdict == VERDICT_OK) {
        worst = report_nearest_limit(report);
    }
    if (worst == FINDING_MAX) {
        summary->text = report->verdict == VERDICT_OK
                            ? "Every check that could be made passes."
                            : "Not enough is known to judge this joint; see what each check needs.";
        return;
    }
    summary->word[0] = check_row(worst)->name != NULL ? check_row(worst)->name : check_row(worst)->id;
    summary->value[0].si = report->finding[worst].utilization;
    summary->value[0].dimension = DIMENSION_RATIO;
    switch (report->verdict) {
    case VERDICT_OK:
        summary->text = "Every check that could be made passes; the nearest to its limit is {a}, at {0%} of it.";
        break;
    case VERDICT_MARGINAL:
        summary->text = report->finding[worst].has_utilization
                            ? "No check fails, but {a} is beyond what is advised, at {0%} of its limit."
                            : "No check fails, but {a} is not as advised.";
        break;
    case VERDICT_FAILS:
        summary->text =
            report->finding[worst].has_utilization ? "It fails: {a} stands at {0%} of its limit." : "It fails: {a}.";
        break;
    case VERDICT_INCOMPLETE:
        summary->text = report->finding[worst].assumed_geometry
                            ? "Not settled: {a} would fail, at {0%} of its limit, but it rests on dimensions that were "
                              "assumed. Measure them first."
                            : "Something that was asked for could not be judged; see what each check needs.";
        break;
    }
}

/* ---- cautions ---- */

static void
add_caution(struct report *report, const char *text)
{
    if (report->caution_count < CAUTION_MAX) {
        report->caution[report->caution_count++] = text;
    }
}

static void
collect_cautions(struct report *report)
{
    size_t count;
    const char *const *always = caution_always(&count);

    for (size_t i = 0; i < count; i++) {
        add_caution(report, always[i]);
    }
#define CAUTION(id, when, text) CAUTION_WHEN_##when(text)
#define CAUTION_WHEN_ALWAYS(text)
#define CAUTION_WHEN(section, text)                                                                                    \
    if ((report->computed & SECTION_BIT(section)) != 0) {                                                              \
        add_caution(report, text);                                                                                     \
    }
#define CAUTION_WHEN_load(text) CAUTION_WHEN(load, text)
#define CAUTION_WHEN_strength(text) CAUTION_WHEN(strength, text)
#define CAUTION_WHEN_slot(text) CAUTION_WHEN(slot, text)
#define CAUTION_WHEN_set_screw(text) CAUTION_WHEN(set_screw, text)
#define CAUTION_WHEN_fit(text) CAUTION_WHEN(fit, text)
#define CAUTION_WHEN_material(text) CAUTION_WHEN(material, text)
#define CAUTION_WHEN_inspection(text) CAUTION_WHEN(inspection, text)
#define CAUTION_WHEN_turning(text) CAUTION_WHEN(turning, text)
#define CAUTION_WHEN_order(text) CAUTION_WHEN(order, text)
#include "joint/caution.def"
}

/* ---- together ---- */

void
conclude(const struct job *job, const struct derived *derived, struct report *report)
{
    size_t order[FINDING_MAX];
    const size_t count = by_concern(report, order);

    report->verdict = overall(job, derived, report);
    summarize(report, order, count);
    conclude_steps(job, derived, report, order, count);
    assume(job, derived, report);
    collect_cautions(report);
}
