#include "joint/check.h"

#include "joint/clamp.h"

/*
 * Does the torque overload the clamp bolt? Preload against the load that its
 * grade is proved with: beyond that a bolt stays stretched, loses its grip and
 * may break in the engine. A bolt that is taken out again and again, as here,
 * is tightened to three quarters of it [Shigley, eq. 8-31].
 */

static void
judge(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;

    if (!s->preload_known) {
        return;
    }
    const double proof_N = s->bolt_proof_Pa * s->bolt_stress_area_m2;
    const double most_Nm = CLAMP_REUSABLE_SHARE * proof_N * job->clamp_bolt.nut_factor_ratio * s->bolt_diameter_m;

    finding_ceiling(finding, s->bolt_preload_N, CLAMP_REUSABLE_SHARE * proof_N, proof_N);
    finding_advise_value(finding, 0, most_Nm, DIMENSION_TORQUE);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change; the most this bolt may be tightened to is {0_}.");
        return;
    }
    finding_advise(finding,
                   finding->verdict == VERDICT_FAILS
                       ? "This torque stretches the clamp bolt for good and may break it: tighten it to {0_} at "
                         "most, or take a stronger grade or a thicker bolt. Throw away a bolt that had it."
                       : "The clamp bolt is tightened past three quarters of its proof load: {0_} is the most "
                         "for a bolt that is used again; take a stronger grade or a thicker bolt for more.");
    finding_fix_to(finding, FIELD_clamp_bolt_torque, most_Nm);
}

static const enum job_field reads[] = {FIELD_clamp_bolt_diameter, FIELD_clamp_bolt_thread, FIELD_clamp_bolt_grade,
                                       FIELD_clamp_bolt_torque, FIELD_clamp_bolt_nut_factor};
static const struct need needs[] = {NEED2(clamp_bolt_diameter, clamp_bolt_thread), NEED1(clamp_bolt_torque)};

const struct check check_bolt_tension = {
    .id = "bolt_tension",
    .name = "tension of the clamp bolt",
    .section = SECTION_slot,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_FORCE,
    .asks = "Does the bolt stand its tightening torque?",
    .basis = "preload T/(K d) against the proof stress of the grade on the thread's stress area",
    .limit_rule = "limit: the proof load; advised: 0.75 of it",
    .source = "proof stresses of SAE J429 and ISO 898-1; 0.75 for bolts used again: Shigley, eq. 8-31",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge,
};
