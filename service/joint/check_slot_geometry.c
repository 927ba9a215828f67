#include "joint/check.h"
#include "joint/printed.h"

/*
 * Does the clamp bolt pass through its slot freely? Clearance between bolt and
 * floor, and between bolt and the walls that the cutter leaves. A bolt that
 * touches the slot's floor carries the load of the pin and breaks.
 */

#define ADVISED_m (0.005 * SI_PER_INCH)
#define LIMIT_m (0.002 * SI_PER_INCH)
#define CLEARANCE_RULE "at least 0.002 in (0.05 mm); advised 0.005 in (0.13 mm) (judgement)"

static void
judge_floor(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (!s->fit_known) {
        return;
    }
    finding_floor(finding, s->bottom_clearance_m, ADVISED_m, LIMIT_m);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding, "Cut the slot {0} deep, so that the bolt clears its floor by {1}.");
    finding_advise_value(finding, 0, job->slot.depth_m + ADVISED_m - s->bottom_clearance_m, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, ADVISED_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_slot_depth, job->slot.depth_m + ADVISED_m - s->bottom_clearance_m);
}

static void
judge_walls(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;
    const double clearance = s->cutter_radius_m - s->bolt_diameter_m / 2.0;

    if (!job_known(job, FIELD_slot_cutter_diameter) || !job_known(job, FIELD_clamp_bolt_diameter)) {
        return;
    }
    finding_floor(finding, clearance, ADVISED_m, LIMIT_m);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding, "Take a cutter of {0} or a little more for this bolt.");
    finding_advise_value(finding, 0, s->bolt_diameter_m + 2.0 * ADVISED_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_slot_cutter_diameter, s->bolt_diameter_m + 2.0 * ADVISED_m);
}

static const enum job_field floor_reads[] = {FIELD_pin_diameter, FIELD_slot_depth, FIELD_slot_cutter_diameter,
                                             FIELD_clamp_bolt_diameter, FIELD_clamp_bolt_offset};
static const struct need floor_needs[] = {NEED1(pin_diameter), NEED1(slot_depth), NEED1(slot_cutter_diameter),
                                          NEED2(clamp_bolt_diameter, clamp_bolt_thread), NEED1(clamp_bolt_offset)};
static const enum job_field wall_reads[] = {FIELD_slot_cutter_diameter, FIELD_clamp_bolt_diameter};
static const struct need wall_needs[] = {NEED1(slot_cutter_diameter), NEED2(clamp_bolt_diameter, clamp_bolt_thread)};

const struct check check_slot_clears_bolt = {
    .id = "slot_clears_bolt",
    .name = "bolt over the slot's floor",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the slot deep enough for the bolt to pass?",
    .basis = "slot depth less the bolt's intrusion R - (e - rb), thickest pin",
    .limit_rule = CLEARANCE_RULE,
    .source = "geometry; limits: judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(floor_reads),
    .needs = CHECK_LIST(floor_needs),
    .judge = judge_floor,
};

const struct check check_cutter_clears_bolt = {
    .id = "cutter_clears_bolt",
    .name = "bolt between the slot's walls",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Is the slot wide enough for the bolt to pass?",
    .basis = "cutter radius less bolt radius",
    .limit_rule = CLEARANCE_RULE,
    .source = "geometry; limits: judgement",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(wall_reads),
    .needs = CHECK_LIST(wall_needs),
    .judge = judge_walls,
};
