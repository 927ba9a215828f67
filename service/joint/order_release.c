#include "joint/order_part.h"

#include <math.h>

#include "joint/check.h"
#include "joint/conclude.h"

/* Release or hold, and why. */

/* Two limits of one part that are closer than this are one. */
static const double same_size_m = 1e-9;

static struct order_reason *
add(struct order *order, enum order_reason_code code, const char *text, enum job_field at)
{
    struct order_reason *reason = &order->reason[order->reason_count];

    /* The last place stays the last one's: held is held, by however many. */
    order->reason_count += order->reason_count + 1 < ORDER_REASON_MAX;
    *reason = (struct order_reason){.code = code, .text = {.text = text}, .at = at};
    return reason;
}

/* About one check: {a} is its name, {0} what it uses of its limit. */
static void
add_check(struct order *order, enum order_reason_code code, size_t index, const struct finding *finding,
          const char *text, const char *text_without_number)
{
    struct order_reason *reason = add(order, code, finding->has_utilization ? text : text_without_number, finding->fix);

    reason->check = check_row(index)->id;
    reason->text.word[0] = check_row(index)->name;
    message_value(&reason->text, 0, finding->utilization, DIMENSION_RATIO);
}

/* ---- what a release needs ---- */

enum group { GROUP_OF_LOAD, GROUP_OF_STRENGTH, GROUP_OF_LOCK, GROUP_OF_FIT, GROUP_OF_STEEL, GROUPS, GROUP_OF_NONE };

static const char *const group_names[GROUPS] = {"the load", "the strength of the pin", "what locks the pin",
                                                "the running fit", "the steel"};

/* The part of a release that the check belongs to. The press of a bushing is
 * not the pin's: it counts where it was judged. */
static enum group
group_of(const struct job *job, size_t index)
{
    switch (check_row(index)->section) {
    case SECTION_load:
        return GROUP_OF_LOAD;
    case SECTION_strength:
        return GROUP_OF_STRENGTH;
    case SECTION_slot:
        return job->pin.held_in == CHOICE_held_in_ROD ? GROUP_OF_LOCK : GROUP_OF_NONE;
    case SECTION_set_screw:
        return job->pin.held_in == CHOICE_held_in_PISTON ? GROUP_OF_LOCK : GROUP_OF_NONE;
    case SECTION_fit:
        return index == CHECK_clearance_cold || index == CHECK_clearance_hot ? GROUP_OF_FIT : GROUP_OF_NONE;
    case SECTION_material:
        return GROUP_OF_STEEL;
    default:
        return GROUP_OF_NONE;
    }
}

/* The first member that the check still needs; where one of several would do,
 * the pin's own. */
static enum job_field
first_need(const struct job *job, const struct check *check)
{
    for (size_t i = 0; i < check->needs_count; i++) {
        const struct need *need = &check->needs[i];
        enum job_field wanted = need->any[0];
        bool met = false;

        for (size_t j = 0; j < NEED_ANY_MAX && need->any[j] != FIELD_NONE; j++) {
            const bool own = need->any[j] == FIELD_pin_diameter || need->any[j] == FIELD_pin_steel;

            met = met || job_known(job, need->any[j]);
            wanted = own ? need->any[j] : wanted;
        }
        if (!met) {
            return wanted;
        }
    }
    return FIELD_NONE;
}

/* One reason for each group that is not judged whole. */
static void
add_not_judged(const struct job *job, const struct report *report, struct order *order)
{
    for (int group = 0; group < GROUPS; group++) {
        size_t judged = 0, open = 0, first = FINDING_MAX;

        for (size_t i = 0; i < check_count(); i++) {
            const struct finding *finding = &report->finding[i];

            if ((int)group_of(job, i) == group && finding->not_applicable == NULL) {
                judged += finding->judged;
                open += !finding->judged;
                first = first == FINDING_MAX && !finding->judged ? i : first;
            }
        }
        if (open > 0) {
            struct order_reason *reason = add(
                order, ORDER_not_judged, open == 1 ? "Not judged: {a} ({b})." : "Not judged: {a} ({b}, and {0} more).",
                first_need(job, check_row(first)));
            reason->check = check_row(first)->id;
            reason->text.word[0] = group_names[group];
            reason->text.word[1] = check_row(first)->name;
            message_value(&reason->text, 0, (double)(open - 1), DIMENSION_COUNT);
        } else if (judged == 0) {
            struct order_reason *reason =
                add(order, ORDER_not_judged,
                    group == GROUP_OF_LOCK
                        ? "Not judged: what keeps a floating pin from the cylinder wall. Buttons and rings "
                          "are not judged here, so no floating pin is released."
                        : "Not judged: {a}.",
                    group == GROUP_OF_LOCK ? FIELD_pin_held_in : FIELD_NONE);
            reason->text.word[0] = group_names[group];
        }
    }
}

/*
 * A length or a thread that a default stands in for. That the pin is solid and
 * where round the pin the slot lies is what the order says, not what somebody
 * should have measured.
 */
static bool
is_assumed_geometry(const struct job *job, enum job_field field)
{
    const struct job_field_row *row = job_field_row(field);
    const bool length = row->kind == KIND_NUMBER && row->dimension == DIMENSION_LENGTH;

    return job->state[field] == FIELD_ASSUMED && field != FIELD_pin_inside_diameter &&
           (length || row->kind == KIND_THREAD);
}

static bool
enters_a_check(const struct job *job, const struct report *report, enum job_field field)
{
    for (size_t i = 0; i < check_count(); i++) {
        if (group_of(job, i) != GROUP_OF_NONE && finding_counts(&report->finding[i]) &&
            check_reads_field(check_row(i), job, field)) {
            return true;
        }
    }
    return false;
}

static void
add_assumed(const struct job *job, const struct report *report, struct order *order)
{
    for (int i = 0; i < FIELD_COUNT; i++) {
        const enum job_field field = (enum job_field)i;

        /* The pin's length is to be made, even where the bosses tell it. */
        if (is_assumed_geometry(job, field) && (field == FIELD_pin_length || enters_a_check(job, report, field))) {
            struct order_reason *reason = add(order, ORDER_assumed_geometry, "Assumed, not given: {a}.", field);

            reason->text.word[0] = job_field_row(field)->path;
        }
    }
    for (size_t i = 0; i < check_count(); i++) {
        if (finding_counts(&report->finding[i]) && report->finding[i].assumed_geometry) {
            add_check(order, ORDER_assumed_geometry, i, &report->finding[i],
                      "It would fail on dimensions that are assumed: {a}, at {0%} of its limit.",
                      "It would fail on dimensions that are assumed: {a}.");
        }
    }
}

/* ---- sizes ---- */

/* Strength was judged on pin.diameter, the fit on running_fit.pin: they must be
 * the same pin. */
static void
add_contradiction(const struct job *job, struct order *order)
{
    const struct limits *own = &job->pin.diameter, *made = order_limits(job);

    if (job_known(job, FIELD_pin_diameter) && job_known(job, FIELD_running_fit_pin) &&
        (fabs(own->min_m - made->min_m) > same_size_m || fabs(own->max_m - made->max_m) > same_size_m ||
         fabs(job->running_fit.pin.min_m - made->min_m) > same_size_m ||
         fabs(job->running_fit.pin.max_m - made->max_m) > same_size_m)) {
        struct order_reason *reason = add(
            order, ORDER_contradiction,
            "pin.diameter ({0.} to {1.}) and running_fit.pin ({2.} to {3.}) are one pin: give both the limits that are "
            "to be made, or one of them alone.",
            FIELD_running_fit_pin);

        message_value(&reason->text, 0, own->min_m, DIMENSION_LENGTH);
        message_value(&reason->text, 1, own->max_m, DIMENSION_LENGTH);
        message_value(&reason->text, 2, job->running_fit.pin.min_m, DIMENSION_LENGTH);
        message_value(&reason->text, 3, job->running_fit.pin.max_m, DIMENSION_LENGTH);
    }
}

static void
add_no_tolerance(const struct job *job, const struct order_part *part, struct order *order)
{
    const struct limits *made = order_limits(job);

    if (part->known && made->max_m <= made->min_m) {
        add(order, ORDER_no_tolerance,
            "The pin's diameter has no limits, so nobody can make it: give a least and a greatest size.",
            FIELD_pin_diameter);
    }
    if (part->length_known && part->length.max_m <= part->length.min_m) {
        add(order, ORDER_no_tolerance, "The pin can be no shorter by any amount before a check gets worse.",
            FIELD_pin_length);
    }
    if (part->slot.known && part->slot.depth.max_m <= part->slot.depth.min_m) {
        add(order, ORDER_no_tolerance,
            "The slot can be neither deeper nor shallower by any amount before a check gets worse.", FIELD_slot_depth);
    }
    if (part->slot.known && part->slot.at_known && part->slot.at_within_m <= 0.0) {
        add(order, ORDER_no_tolerance,
            "The slot can lie out of the middle of the pin by no amount before a check gets worse.", FIELD_pin_length);
    }
}

/* The bar that the client has must hold the pin. */
static void
add_stock(const struct job *job, const struct derived *derived, struct order *order)
{
    const struct check *check = check_row(CHECK_stock_enough);
    struct finding finding = {.fix = FIELD_NONE};

    if (check_needs_known(check, job)) {
        check->judge(job, derived, &finding);
    }
    if (finding.judged && finding.verdict == VERDICT_FAILS) {
        struct order_reason *reason = add(order, ORDER_stock, NULL, finding.fix);

        reason->text = finding.advice;
        reason->check = check->id;
    }
}

/* ---- verdicts ---- */

static void
add_verdicts(const struct report *report, enum verdict verdict, enum order_reason_code code, struct order *order,
             const char *text, const char *text_without_number)
{
    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *finding = &report->finding[i];

        if (finding_counts(finding) && finding->verdict == verdict && !finding->assumed_geometry) {
            add_check(order, code, i, finding, text, text_without_number);
        }
    }
}

static bool
holds(const struct order *order)
{
    for (size_t i = 0; i < order->reason_count; i++) {
        if (order_reason_row(order->reason[i].code)->holds) {
            return true;
        }
    }
    return false;
}

void
order_release(const struct job *job, const struct derived *derived, const struct report *report, struct order *order)
{
    const bool accepted = job_known(job, FIELD_order_accept_marginal) && job->order.accept_marginal;

    if (order->action == CHOICE_action_CANCEL) {
        struct order_reason *reason =
            add(order, ORDER_canceled, "This record cancels the record {a}: nothing is to be made by either.",
                FIELD_order_supersedes);

        reason->text.word[0] = order->supersedes;
        return;
    }
    add_verdicts(report, VERDICT_FAILS, ORDER_fails, order, "This fails: {a}, at {0%} of its limit.",
                 "This fails: {a}.");
    add_contradiction(job, order);
    add_not_judged(job, report, order);
    add_assumed(job, report, order);
    add_no_tolerance(job, &order->part, order);
    add_stock(job, derived, order);
    add_verdicts(report, VERDICT_MARGINAL, accepted ? ORDER_marginal_accepted : ORDER_marginal, order,
                 accepted ? "Beyond what is advised, and accepted by the buyer: {a}, at {0%} of its limit."
                          : "Beyond what is advised, and not accepted by the buyer: {a}, at {0%} of its limit.",
                 accepted ? "Not as advised, and accepted by the buyer: {a}."
                          : "Not as advised, and not accepted by the buyer: {a}.");
    /* The verdict of the checks as a whole has the last word. */
    order->released =
        !holds(order) && (report->verdict == VERDICT_OK || (report->verdict == VERDICT_MARGINAL && accepted));
    if (order->released) {
        add(order, ORDER_judged,
            "Load, strength, lock, running fit and steel are judged on given dimensions, and no check fails.",
            FIELD_NONE);
    } else if (!holds(order)) {
        add(order, ORDER_not_judged, "Something that was asked for could not be judged; see what each check needs.",
            FIELD_NONE);
    }
}
