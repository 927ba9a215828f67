#include "joint/check.h"

#include "joint/clamp.h"

/*
 * Does the bolt in its slot hold the pin as a key would, alone, as if the grip
 * of the eye were lost? Along the pin: shear of the bolt, and pressure of bolt
 * on slot flank. About the pin: shear of the bolt at the slot's corner.
 * bolt_shear and flank_pressure tell which of the two governs.
 */

#define FACTOR_ADVISED 2.0
#define FACTOR_LIMIT 1.25

static void
judge_hold(const struct job *job, double factor, double intrusion_m, double demand, enum dimension dimension,
           struct finding *finding)
{
    const struct allowable allowable =
        allowable_factor(job, FIELD_limits_bolt_factor, job->limits.bolt_factor_ratio, FACTOR_ADVISED, FACTOR_LIMIT);

    finding_floor(finding, factor, allowable.advised, allowable.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise_value(finding, 0, demand * allowable.advised, dimension);
    finding_advise(
        finding,
        intrusion_m > 0.0
            ? "Hold at least {0}: take a stronger grade of bolt, or a thicker one, or let it reach deeper into "
              "the pin with the slot cut to suit."
            : "The bolt misses the pin, so it holds nothing: check the offset of its axis, it must be "
              "less than the radii of pin and bolt together.");
    finding_fix(finding, intrusion_m > 0.0 ? FIELD_clamp_bolt_diameter : FIELD_clamp_bolt_offset);
}

static void
judge_axial(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->hold_known && s->axial_demand_known) {
        judge_hold(job, clamp_factor(s->hold_axial_N, s->axial_demand_N), s->intrusion_m, s->axial_demand_N,
                   DIMENSION_FORCE, finding);
    }
}

static void
judge_torque(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->hold_torque_known && s->torque_demand_known) {
        judge_hold(job, clamp_factor(s->hold_torque_Nm, s->torque_demand_Nm), s->intrusion_m, s->torque_demand_Nm,
                   DIMENSION_TORQUE, finding);
    }
}

static void
judge_part(const struct job *job, double factor, const char *advice, struct finding *finding)
{
    const struct allowable allowable =
        allowable_factor(job, FIELD_limits_bolt_factor, job->limits.bolt_factor_ratio, FACTOR_ADVISED, FACTOR_LIMIT);

    finding_floor(finding, factor, allowable.advised, allowable.limit);
    finding_advise(finding, finding->verdict == VERDICT_OK ? "Nothing to change." : advice);
}

static void
judge_bolt_shear(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->hold_torque_known && s->axial_demand_known && s->torque_demand_known) {
        judge_part(
            job, s->bolt_shear_factor,
            "The bolt shears first: take a stronger grade or a thicker bolt, and keep the thread out of the pin.",
            finding);
    }
}

static void
judge_flank(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->hold_known && s->axial_demand_known) {
        judge_part(job, s->flank_factor, "Bolt and slot flank crush first: let the bolt reach deeper into the pin.",
                   finding);
    }
}

#define READS_KEY                                                                                                      \
    FIELD_pin_diameter, FIELD_slot_depth, FIELD_slot_cutter_diameter, FIELD_clamp_bolt_diameter,                       \
        FIELD_clamp_bolt_grade, FIELD_clamp_bolt_offset, FIELD_limits_bolt_factor
static const enum job_field axial_reads[] = {READS_KEY, FIELD_pin_steel, FIELD_clamp_bolt_shear_planes,
                                             FIELD_demand_axial, READS_FORCE};
static const enum job_field torque_reads[] = {READS_KEY, FIELD_demand_torque, READS_FORCE};
static const enum job_field both_reads[] = {READS_KEY, FIELD_clamp_bolt_shear_planes, FIELD_demand_axial,
                                            FIELD_demand_torque, READS_FORCE};
#define NEEDS_KEY                                                                                                      \
    NEED1(pin_diameter), NEED1(slot_depth), NEED1(slot_cutter_diameter),                                               \
        NEED2(clamp_bolt_diameter, clamp_bolt_thread), NEED1(clamp_bolt_offset)
static const struct need axial_needs[] = {NEEDS_KEY, NEED1(pin_steel), NEED_DEMAND(demand_axial)};
static const struct need torque_needs[] = {NEEDS_KEY, NEED_DEMAND(demand_torque)};
static const struct need both_needs[] = {NEEDS_KEY, NEED_DEMAND(demand_axial), NEED_DEMAND(demand_torque)};

#define KEY_RULE "at least 1.25 on the demand; advised 2.0 (judgement)"
#define KEY_SOURCE                                                                                                     \
    "statics of the bolt as a key; strengths of SAE J429 and ISO 898-1; demand of 5 % of the peak load: judgement"

const struct check check_hold_axial = {
    .id = "hold_axial",
    .name = "bolt and slot against walking along",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Do bolt and slot keep the pin from walking into the cylinder wall?",
    .basis =
        "smaller of shank shear 0.577 Sy on the shear planes and softer yield on the overlap's segment, over the axial "
        "demand",
    .limit_rule = KEY_RULE,
    .source = KEY_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(axial_reads),
    .needs = CHECK_LIST(axial_needs),
    .judge = judge_axial,
};

const struct check check_hold_torque = {
    .id = "hold_torque",
    .name = "bolt and slot against turning",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Do bolt and slot keep the pin from turning?",
    .basis = "shank shear 0.577 Sy on one plane at half the chord of the overlap, over the torque demand 0.15 F d/2",
    .limit_rule = KEY_RULE,
    .source = KEY_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(torque_reads),
    .needs = CHECK_LIST(torque_needs),
    .judge = judge_torque,
};

const struct check check_bolt_shear = {
    .id = "bolt_shear",
    .repeats = true,
    .name = "shear of the clamp bolt",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Does the bolt shear before the demand is met?",
    .basis = "0.577 Sy over the larger of the bolt's shear stresses from axial and torque demand",
    .limit_rule = KEY_RULE,
    .source = KEY_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(both_reads),
    .needs = CHECK_LIST(both_needs),
    .judge = judge_bolt_shear,
};

const struct check check_flank_pressure = {
    .id = "flank_pressure",
    .repeats = true,
    .name = "pressure of bolt on slot flank",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Do bolt and slot flank crush before the demand is met?",
    .basis = "softer yield over axial demand divided by the segment area of the overlap",
    .limit_rule = KEY_RULE,
    .source = KEY_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(axial_reads),
    .needs = CHECK_LIST(axial_needs),
    .judge = judge_flank,
};
