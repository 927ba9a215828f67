#include "joint/check.h"

/*
 * Do the pin's ends stay clear of the cylinder wall with all play taken up?
 * The round end of the pin meets the round wall on the chord of the bore at
 * the pin's diameter: the plain (bore - length)/2 overstates what is left by
 * 0.06 to 0.13 in on the joints tried. A pin that touches scores the cylinder.
 */

#define ADVISED_SHARE 0.010
#define LIMIT_SHARE 0.005

static void
judge_wall_clearance(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;
    const struct allowable allowable =
        allowable_factor(job, FIELD_limits_wall_clearance, job->limits.wall_clearance_m,
                         ADVISED_SHARE * job->engine.bore_m, LIMIT_SHARE * job->engine.bore_m);
    const double advised = allowable.advised;

    if (s->fit_known && !s->axial_play_known) {
        finding_not_applicable(finding,
                               "bolt and slot do not fit together: see slot_clears_bolt and cutter_clears_bolt");
    }
    if (!s->wall_known) {
        return;
    }
    finding_floor(finding, s->wall_clearance_m, advised, allowable.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding,
                   "Shorten the pin to {0}, or turn its ends to a button, or take up the play in slot and side gaps.");
    finding_advise_value(finding, 0, job->pin.length_m - 2.0 * (advised - s->wall_clearance_m), DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_pin_length, job->pin.length_m - 2.0 * (advised - s->wall_clearance_m));
}

static const enum job_field reads[] = {
    FIELD_engine_bore,          FIELD_pin_diameter,         FIELD_pin_length,          FIELD_boss_gap,
    FIELD_slot_depth,           FIELD_slot_cutter_diameter, FIELD_clamp_bolt_diameter, FIELD_clamp_bolt_offset,
    FIELD_limits_wall_clearance};
static const struct need needs[] = {NEED1(engine_bore),
                                    NEED1(pin_diameter),
                                    NEED1(slot_depth),
                                    NEED1(slot_cutter_diameter),
                                    NEED2(clamp_bolt_diameter, clamp_bolt_thread),
                                    NEED1(clamp_bolt_offset)};

const struct check check_wall_clearance = {
    .id = "wall_clearance",
    .name = "pin ends to cylinder wall",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_LENGTH,
    .asks = "Do the pin's ends stay clear of the cylinder wall?",
    .basis = "(sqrt(bore2 - d2) - pin length)/2 less axial play and side gap",
    .limit_rule = "at least 0.005 of the bore; advised 0.010 (judgement)",
    .source = "geometry; limits: judgement",
    .override_field = FIELD_limits_wall_clearance,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_wall_clearance,
};
