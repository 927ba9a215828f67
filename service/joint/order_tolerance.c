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

/* The order as it was judged. */
struct judged {
    const struct job *job;
    const struct report *report;
    struct derived *derived; /* of the change before, which moved nothing in the cycle */
};

/* Every check of the order at the changed size has no worse a verdict, and is
 * judged if it was. */
static bool
is_no_worse(const struct judged *judged, const struct change *change)
{
    const section_set sections = call_row(CALL_order)->sections;
    struct job changed = *judged->job;

    if (change->of == CHANGE_LENGTH) {
        changed.pin.length_m += change->by_m;
    } else {
        changed.slot.depth_m += change->by_m;
        if (changed.slot.depth_m <= 0.0 || changed.slot.depth_m >= changed.pin.diameter.min_m) {
            return false;
        }
    }
    derive_again(&changed, sections, judged->derived);
    for (size_t i = 0; i < check_count(); i++) {
        const struct finding *before = &judged->report->finding[i];
        struct finding after = {.judged = false};

        run_judge_one(&changed, judged->derived, sections, check_row(i), &after);
        if (!run_finding_is_finite(&after) || before->judged != after.judged ||
            (before->judged && after.verdict > before->verdict)) {
            return false;
        }
    }
    return true;
}

/* The largest of `most_m`, half of it, ... that can be borne; 0 = none of them.
 * `scale` turns the tolerance into the change that tries it. */
static double
borne_m(const struct judged *judged, struct change change, double most_m, double scale)
{
    double by_m = most_m;

    for (int i = 0; i < HALVINGS; i++) {
        change.by_m = scale * by_m;
        if (is_no_worse(judged, &change)) {
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
tolerate_length(const struct judged *judged, struct order_part *part)
{
    const struct job *job = judged->job;
    const struct order_practice *practice = order_practice(job->units);
    const double length_m = job->pin.length_m;
    const double most_m = length_m > practice->long_from_m ? practice->long_m : practice->length_m;
    const struct change shorter = {.of = CHANGE_LENGTH};

    part->length.max_m = length_m;
    part->length.min_m = length_m - borne_m(judged, shorter, most_m, -1.0);
}

static void
tolerate_depth(const struct judged *judged, struct order_slot *slot)
{
    const struct job *job = judged->job;
    const double most_m = order_practice(job->units)->slot_depth_m;
    const struct change change = {.of = CHANGE_DEPTH};

    slot->depth.min_m = job->slot.depth_m - borne_m(judged, change, most_m, -1.0);
    slot->depth.max_m = job->slot.depth_m + borne_m(judged, change, most_m, 1.0);
}

/* The bolt centers the slot, so a slot out of the middle brings one end of the
 * pin nearer to the wall, as if the pin were longer by twice as much. */
static void
tolerate_place(const struct judged *judged, struct order_slot *slot)
{
    const struct job *job = judged->job;
    const struct change longer = {.of = CHANGE_LENGTH};

    slot->at_known = true;
    slot->at_m = job->pin.length_m / 2.0;
    slot->at_within_m = borne_m(judged, longer, order_practice(job->units)->slot_place_m, 2.0);
}

void
order_tolerances(const struct job *job, const struct derived *derived, const struct report *report,
                 struct order_part *part)
{
    const bool slotted = job->pin.held_in == CHOICE_held_in_ROD && job_known(job, FIELD_slot_depth) &&
                         job_known(job, FIELD_slot_cutter_diameter) && job_known(job, FIELD_pin_diameter) &&
                         job->slot.depth_m > 0.0;
    struct derived trial = *derived;
    const struct judged judged = {job, report, &trial};

    part->length_known = job_given(job, FIELD_pin_length);
    part->slot.known = slotted;
    if (part->length_known) {
        tolerate_length(&judged, part);
    }
    if (slotted) {
        tolerate_depth(&judged, &part->slot);
    }
    if (slotted && part->length_known) {
        tolerate_place(&judged, &part->slot);
    }
}
