#include "joint/conclude.h"

#include <string.h>

/* What a search for one unknown says, in a sentence and a first step. */

static const char *
governing_name(const struct size *size)
{
    const size_t index = size->governing != NULL ? check_index(size->governing) : check_count();

    return index < check_count() ? check_row(index)->name : "";
}

static void
set_value(struct message *message, size_t place, double si, enum dimension dimension)
{
    message->value[place].si = si;
    message->value[place].dimension = dimension;
}

static void
summarize_steels(const struct size *size, struct message *summary)
{
    summary->word[0] = size->found_id;
    summary->word[1] = governing_name(size);
    set_value(summary, 0, size->governing_utilization, DIMENSION_RATIO);
    switch (size->outcome) {
    case SIZE_NONE_PASSES:
        summary->text = size->governing_utilization > 0.0
                            ? "None of these steels passes: {b} blocks the best of them, at {0%} of its limit."
                            : "None of these steels passes: {b} blocks the best of them.";
        break;
    case SIZE_ALL_PASS:
        summary->text = "Every one of these steels passes; {a} has the most strength to spare.";
        break;
    case SIZE_LIMIT:
    case SIZE_WINDOW:
        summary->text = "{a} passes with the most strength to spare; {b} is nearest its limit, at {0%} of it.";
        break;
    }
}

/* The sentence for one bound: what stops it, if anything we can name. */
static const char *
limit_text(const struct size *size)
{
    const bool least = size->found == size->found_low;

    if (size->governing == NULL) {
        return least ? "{a} must be at least {0}; below that the document contradicts itself."
                     : "{a} may be at most {0}; beyond that the document contradicts itself.";
    }
    return least ? "{a} must be at least {0}; below that {b} is not met."
                 : "{a} may be at most {0}; beyond that {b} is not met.";
}

static void
summarize_values(const struct size *size, struct message *summary)
{
    const enum dimension dimension = job_field_row(size->field)->dimension;

    summary->word[0] = size->what;
    summary->word[1] = governing_name(size);
    set_value(summary, 0, size->found, dimension);
    switch (size->outcome) {
    case SIZE_LIMIT:
        summary->text = limit_text(size);
        break;
    case SIZE_WINDOW:
        summary->text = "{a} may lie between {0} and {1}.";
        set_value(summary, 0, size->found_low, dimension);
        set_value(summary, 1, size->found_high, dimension);
        break;
    case SIZE_ALL_PASS:
        summary->text = "Every value of {a} from {0} to {1} passes.";
        set_value(summary, 0, size->found_low, dimension);
        set_value(summary, 1, size->found_high, dimension);
        break;
    case SIZE_NONE_PASSES:
        if (size->governing == NULL) {
            summary->text = "No value of {a} could be judged; see what the checks need.";
            break;
        }
        summary->text =
            size->governing_utilization > 0.0
                ? "No value of {a} passes: {b} blocks it, at best at {0%} of its limit."
                : "No value of {a} passes: {b} blocks it whatever the value; if that is acceptable, ask with "
                  "keep \"not_fails\".";
        set_value(summary, 0, size->governing_utilization, DIMENSION_RATIO);
        break;
    }
}

static void
first_step(const struct size *size, struct report *report)
{
    struct next_step step = {.at = size->field, .has_to = true};

    if (!size->found_known || size->outcome == SIZE_ALL_PASS) {
        return;
    }
    step.to = size->practical_known ? size->practical : size->found;
    step.text.text = size->practical_known ? "Take {0}, the next practical size." : "Take {0}.";
    set_value(&step.text, 0, step.to, job_field_row(size->field)->dimension);
    if (report->next_step_count == NEXT_STEP_MAX) {
        report->next_step_count--;
    }
    memmove(&report->next_step[1], &report->next_step[0], report->next_step_count * sizeof step);
    report->next_step[0] = step;
    report->next_step_count++;
}

void
conclude_size(struct report *report)
{
    const struct size *size = &report->size;

    memset(&report->summary, 0, sizeof report->summary);
    if (size->of_steel) {
        summarize_steels(size, &report->summary);
    } else {
        summarize_values(size, &report->summary);
        first_step(size, report);
    }
}
