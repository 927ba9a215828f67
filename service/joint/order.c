#include "joint/order.h"

#include <string.h>

#include "joint/check.h"
#include "joint/conclude.h"
#include "joint/order_part.h"

static const struct order_reason_row rows[ORDER_REASON_CODES] = {
#define HOLD true
#define RELEASE false
#define ORDER_REASON(code, outcome, brief, meaning) {#code, outcome, brief, meaning},
#include "joint/order_reason.def"
#undef HOLD
#undef RELEASE
};

const struct order_reason_row *
order_reason_row(enum order_reason_code code)
{
    return &rows[code];
}

/* ---- the document ---- */

static enum choice_action
action_of(const struct job *job)
{
    return job_known(job, FIELD_order_action) ? (enum choice_action)job->order.action : CHOICE_action_NEW;
}

void
order_validate(const struct job *job, struct fault_list *faults)
{
    const char *pointer = job_field_pointer(FIELD_order_supersedes);
    const char *supersedes = job->order.supersedes;
    const bool given = job_given(job, FIELD_order_supersedes);

    if (action_of(job) != CHOICE_action_NEW && !given) {
        fault_add(faults, FAULT_MISSING, pointer, "To replace or cancel, say which record: its record_id.");
        return;
    }
    if (action_of(job) == CHOICE_action_NEW && given) {
        fault_add(faults, FAULT_CONTRADICTION, pointer,
                  "%s and %s contradict: a new order supersedes nothing; say replace or cancel.", pointer,
                  job_field_pointer(FIELD_order_action));
        return;
    }
    if (given && (strlen(supersedes) != ORDER_ID_LENGTH || strspn(supersedes, "0123456789abcdef") != ORDER_ID_LENGTH)) {
        fault_add(faults, FAULT_OUT_OF_RANGE, pointer, "Must be a record_id: 64 digits 0 to 9 and a to f.");
    }
}

/* ---- what the record means for the answer ---- */

/* What is not judged, assumed or without limits makes the answer incomplete,
 * what the bar does not hold fails; the rest the checks have said. */
static enum verdict
verdict_of(const struct order *order, enum verdict verdict)
{
    for (size_t i = 0; i < order->reason_count; i++) {
        switch (order->reason[i].code) {
        case ORDER_contradiction:
        case ORDER_not_judged:
        case ORDER_assumed_geometry:
        case ORDER_no_tolerance:
            verdict = verdict < VERDICT_INCOMPLETE ? VERDICT_INCOMPLETE : verdict;
            break;
        case ORDER_stock:
            verdict = VERDICT_FAILS;
            break;
        default:
            break;
        }
    }
    return verdict;
}

static void
summarize(struct report *report)
{
    const struct order *order = &report->order;
    struct message *summary = &report->summary;
    const size_t nearest = report_nearest_limit(report);

    *summary = (struct message){.text = "On hold: {a}."};
    summary->word[0] = order_reason_row(order->reason[0].code)->brief;
    if (!order->released || nearest == FINDING_MAX) {
        return;
    }
    summary->text =
        report->verdict == VERDICT_OK
            ? "Released: every check passes; the nearest to its limit is {a}, at {0%} of it."
            : "Released: no check fails, and the buyer accepts what is beyond the advised; the nearest to its "
              "limit is {a}, at {0%} of it.";
    summary->word[0] = check_row(nearest)->name;
    message_value(summary, 0, report->finding[nearest].utilization, DIMENSION_RATIO);
}

static struct message *
add_step(struct report *report, const char *text, enum job_field at)
{
    struct next_step *step = &report->next_step[report->next_step_count];

    if (report->next_step_count == NEXT_STEP_MAX || (at != FIELD_NONE && report_has_step_at(report, at))) {
        return NULL;
    }
    report->next_step_count++;
    *step = (struct next_step){.text = {.text = text}, .at = at};
    return &step->text;
}

/* What would mend a reason, where the checks' own advice does not say it. */
static void
step_from(struct report *report, const struct order_reason *reason)
{
    struct message *step = NULL;

    switch (reason->code) {
    case ORDER_assumed_geometry:
        step = reason->check == NULL ? add_step(report, "Measure {a} and give it.", reason->at) : NULL;
        break;
    case ORDER_not_judged:
        step = reason->at != FIELD_NONE && reason->check != NULL ? add_step(report, "Give {a}.", reason->at) : NULL;
        break;
    case ORDER_contradiction:
    case ORDER_no_tolerance:
    case ORDER_stock:
        step = add_step(report, NULL, reason->at);
        if (step != NULL) {
            *step = reason->text;
        }
        return;
    case ORDER_marginal:
        add_step(report, "Or accept what is marginal: order.accept_marginal true.", FIELD_order_accept_marginal);
        return;
    default:
        return;
    }
    if (step != NULL) {
        step->word[0] = job_field_row(reason->at)->path;
    }
}

static void
steps(struct report *report)
{
    const struct order *order = &report->order;

    if (report->next_step_count == 1 && report->next_step[0].at == FIELD_NONE) {
        report->next_step_count = 0; /* that no change is called for */
    }
    if (order->action == CHOICE_action_CANCEL) {
        report->next_step_count = 0;
        add_step(report, "Mark the record that this one cancels, and tell whoever holds it.", FIELD_NONE);
        return;
    }
    for (size_t i = 0; i < order->reason_count; i++) {
        step_from(report, &order->reason[i]);
    }
    if (order->released) {
        add_step(report,
                 "Buy and make the pin as the record says; measure it when it comes back, and send the readings to the "
                 "inspection call.",
                 FIELD_NONE);
    }
    if (order->released && order->action == CHOICE_action_REPLACE) {
        add_step(report, "Mark the record that this one replaces, and tell whoever holds it.", FIELD_NONE);
    }
}

void
order_conclude(const struct job *job, const struct derived *derived, struct report *report)
{
    struct order *order = &report->order;

    order->known = true;
    order->action = action_of(job);
    order->supersedes = job_given(job, FIELD_order_supersedes) ? job->order.supersedes : NULL;
    order->part.known = job_known(job, FIELD_pin_diameter) || job_known(job, FIELD_running_fit_pin);
    if (order->part.known) {
        order->part.diameter = *order_limits(job);
        order_tolerances(job, derived, report, &order->part);
        order_part(job, derived, &order->part);
    }
    order_release(job, derived, report, order);
    report->verdict = verdict_of(order, report->verdict);
    summarize(report);
    steps(report);
}
