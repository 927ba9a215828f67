#include "joint/check.h"

#include "joint/clamp.h"

/*
 * Does friction alone hold the pin in the clamped eye? Hinge model, the lower
 * of two figures; good only once the eye has closed on the pin. A weak grip is
 * at worst marginal while the bolt as key holds both demands: then the pin
 * works in its eye and wears, but does not come loose.
 */

#define GRIP_ADVISED 1.5
#define GRIP_LIMIT 1.0
#define KEY_LIMIT 1.25

static bool
key_holds(const struct job *job, const struct slot *s)
{
    const struct allowable key =
        allowable_factor(job, FIELD_limits_bolt_factor, job->limits.bolt_factor_ratio, KEY_LIMIT, KEY_LIMIT);

    return s->hold_known && clamp_factor(s->hold_axial_N, s->axial_demand_N) >= key.limit &&
           clamp_factor(s->hold_torque_Nm, s->torque_demand_Nm) >= key.limit;
}

static void
advise(const struct job *job, const struct slot *s, double factor, struct finding *finding)
{
    const double reusable_N = CLAMP_REUSABLE_SHARE * s->bolt_proof_Pa * s->bolt_stress_area_m2;
    const double wanted_Nm = job->clamp_bolt.torque_Nm * GRIP_ADVISED / factor;
    const double most_Nm = reusable_N * job->clamp_bolt.nut_factor_ratio * s->bolt_diameter_m;

    finding_advise_value(finding, 0, wanted_Nm, DIMENSION_TORQUE);
    finding_advise_value(finding, 1, most_Nm, DIMENSION_TORQUE);
    if (s->bolt_preload_N > reusable_N) {
        finding_advise(finding,
                       "The bolt is tightened past three quarters of its proof load: {1_} is the most for this bolt; "
                       "take a stronger grade for more.");
        finding_fix_to(finding, FIELD_clamp_bolt_torque, most_Nm);
    } else if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change; the most this bolt may be tightened to is {1_}.");
    } else if (wanted_Nm <= most_Nm) {
        finding_advise(finding, "Tighten the bolt to {0^} (this bolt may have {1_}), and ream or lap the eye so that "
                                "it closes on the pin.");
        finding_fix_to(finding, FIELD_clamp_bolt_torque, wanted_Nm);
    } else {
        finding_advise(
            finding,
            "Friction would need {0^} on the bolt and {1_} is the most it may have: take a stronger grade or a "
            "thicker bolt, and rely on the slot meanwhile.");
        finding_fix(finding, FIELD_clamp_bolt_grade);
    }
}

static void
judge_grip(const struct job *job, const struct slot *s, double hold, double demand, struct finding *finding)
{
    const double factor = clamp_factor(hold, demand);

    finding_floor(finding, factor, GRIP_ADVISED, GRIP_LIMIT);
    if (finding->verdict == VERDICT_FAILS && key_holds(job, s)) {
        finding->verdict = VERDICT_MARGINAL;
    }
    if (factor > 0.0) {
        advise(job, s, factor, finding);
    } else {
        finding_advise(finding, "Tighten the clamp bolt: without torque nothing grips.");
        finding_fix(finding, FIELD_clamp_bolt_torque);
    }
}

static void
judge_axial(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->grip_known && s->axial_demand_known) {
        judge_grip(job, s, s->grip_axial_N, s->axial_demand_N, finding);
    }
}

static void
judge_torque(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (s->grip_known && s->torque_demand_known) {
        judge_grip(job, s, s->grip_torque_Nm, s->torque_demand_Nm, finding);
    }
}

#define READS_GRIP                                                                                                     \
    FIELD_pin_diameter, FIELD_clamp_bolt_diameter, FIELD_clamp_bolt_thread, FIELD_clamp_bolt_grade,                    \
        FIELD_clamp_bolt_offset, FIELD_clamp_bolt_hinge_offset, FIELD_clamp_bolt_torque, FIELD_clamp_bolt_nut_factor,  \
        FIELD_clamp_bolt_friction
static const enum job_field axial_reads[] = {READS_GRIP, FIELD_demand_axial, READS_FORCE};
static const enum job_field torque_reads[] = {READS_GRIP, FIELD_demand_torque, READS_FORCE};
#define NEEDS_GRIP                                                                                                     \
    NEED1(pin_diameter), NEED2(clamp_bolt_diameter, clamp_bolt_thread), NEED1(clamp_bolt_offset),                      \
        NEED1(clamp_bolt_torque)
static const struct need axial_needs[] = {NEEDS_GRIP, NEED_DEMAND(demand_axial)};
static const struct need torque_needs[] = {NEEDS_GRIP, NEED_DEMAND(demand_torque)};

#define GRIP_RULE "at least 1.0 on the demand; advised 1.5; at worst marginal while the bolt as key holds (judgement)"
#define GRIP_SOURCE                                                                                                    \
    "slotted-hub lever rule of German machine-element texts (from memory); friction 0.10 to 0.15 (from memory)"

const struct check check_grip_axial = {
    .id = "grip_axial",
    .name = "grip of the eye along the pin",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Does friction in the clamped eye keep the pin from walking?",
    .basis = "2 mu Fi (lb + lh)/lh over the axial demand, Fi = T/(K d)",
    .limit_rule = GRIP_RULE,
    .source = GRIP_SOURCE,
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(axial_reads),
    .needs = CHECK_LIST(axial_needs),
    .judge = judge_axial,
};

const struct check check_grip_torque = {
    .id = "grip_torque",
    .name = "grip of the eye against turning",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Does friction in the clamped eye keep the pin from turning?",
    .basis = "2 mu Fi (lb + lh)/lh times the pin's radius over the torque demand, Fi = T/(K d)",
    .limit_rule = GRIP_RULE,
    .source = GRIP_SOURCE,
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(torque_reads),
    .needs = CHECK_LIST(torque_needs),
    .judge = judge_torque,
};
