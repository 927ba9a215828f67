#include "joint/order_part.h"

#include "joint/check.h"
#include "joint/run.h"

/* How far a size may be off before a check gets worse. */

enum { HALVINGS = 6 };

/* One size changed by so much. */
struct change {
    enum { CHANGE_LENGTH, CHANGE_DEPTH } of;
    double by_m;
};

/* Every check of the order at the changed size has no worse a verdict, and is
 * judged if it was. */
static bool
is_no_worse(const struct job *job, const struct report *report, const struct change *change)
{
    const section_set sections = call_row(CALL_order)->sections;
    struct job changed = *job;
    struct derived derived;

    if (change->of == CHANGE_LENGTH) {
        changed.pin.length_m += change->by_m;
    } else {
        changed.slot.depth_m += change->by_m;
        if (changed.slot.depth_m <= 0.0 || changed.slot.depth_m >= changed.pin.diameter.min_m) {
            return false;
        }
    }
    derive(&changed, &derived);
    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *before = &report->finding[i];
        struct finding after = {.judged = false};

        if (!run_judge_one(&changed, &derived, sections, check_row(i), &after) || before->judged != after.judged ||
            (before->judged && after.verdict > before->verdict)) {
            return false;
        }
    }
    return true;
}

/* The largest of `most_m`, half of it, ... that can be borne; 0 = none of them.
 * `scale` turns the tolerance into the change that tries it. */
static double
borne_m(const struct job *job, const struct report *report, struct change change, double most_m, double scale)
{
    double by_m = most_m;

    for (int i = 0; i < HALVINGS; i++) {
        change.by_m = scale * by_m;
        if (is_no_worse(job, report, &change)) {
            return by_m;
        }
        by_m /= 2.0;
    }
    return 0.0;
}

/*
 * All to the minus side: length only eats the clearance of the pin's ends to
 * the cylinder wall, which was judged at the length given.
 */
static void
tolerate_length(const struct job *job, const struct report *report, struct order_part *part)
{
    const struct order_practice *practice = order_practice(job->units);
    const double length_m = job->pin.length_m;
    const double most_m = length_m > practice->long_from_m ? practice->long_m : practice->length_m;
    const struct change shorter = {.of = CHANGE_LENGTH};

    part->length.max_m = length_m;
    part->length.min_m = length_m - borne_m(job, report, shorter, most_m, -1.0);
}

static void
tolerate_depth(const struct job *job, const struct report *report, struct order_slot *slot)
{
    const double most_m = order_practice(job->units)->slot_depth_m;
    const struct change change = {.of = CHANGE_DEPTH};

    slot->depth.min_m = job->slot.depth_m - borne_m(job, report, change, most_m, -1.0);
    slot->depth.max_m = job->slot.depth_m + borne_m(job, report, change, most_m, 1.0);
}

/* The bolt centers the slot, so a slot out of the middle brings one end of the
 * pin nearer to the wall, as if the pin were longer by twice as much. */
static void
tolerate_place(const struct job *job, const struct report *report, struct order_slot *slot)
{
    const struct change longer = {.of = CHANGE_LENGTH};

    slot->at_known = true;
    slot->at_m = job->pin.length_m / 2.0;
    slot->at_within_m = borne_m(job, report, longer, order_practice(job->units)->slot_place_m, 2.0);
}

void
order_tolerances(const struct job *job, const struct report *report, struct order_part *part)
{
    const bool slotted = job->pin.held_in == CHOICE_held_in_ROD && job_known(job, FIELD_slot_depth) &&
                         job_known(job, FIELD_slot_cutter_diameter) && job_known(job, FIELD_pin_diameter) &&
                         job->slot.depth_m > 0.0;

    part->length_known = job_given(job, FIELD_pin_length);
    part->slot.known = slotted;
    if (part->length_known) {
        tolerate_length(job, report, part);
    }
    if (slotted) {
        tolerate_depth(job, report, &part->slot);
    }
    if (slotted && part->length_known) {
        tolerate_place(job, report, &part->slot);
    }
}
