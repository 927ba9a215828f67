#include "joint/check.h"

#include <math.h>

#include "joint/pin_reads.h"

/*
 * Does the pin stand its slot? Nominal stress of the net section against
 * yield, and fatigue at the slot with its notch factor. The slot sits at
 * mid-length, where the moment is greatest.
 *
 * Fails whatever the figures say: a hollow pin with less than a tenth of its
 * diameter left under the slot (slot_bending), a root radius under 0.05 of the
 * diameter, for which no formula holds (slot_fatigue).
 *
 * Not covered: fretting under the bolt, tool marks in the floor, the case of a
 * case-hardened pin cut through.
 */

#define BENDING_ADVISED 2.0
#define BENDING_LIMIT 1.5
#define FATIGUE_ADVISED 1.5
#define FATIGUE_LIMIT 1.0
#define WALL_SHARE_MIN 0.1
#define RADIUS_SHARE_MIN 0.05

/* Nothing to compute where the slot has cut the pin in two: it fails. */
static void
judge_cut_through(struct finding *finding)
{
    finding->judged = finding->has_utilization = true;
    finding->verdict = VERDICT_FAILS;
    finding->utilization = UTILIZATION_MAX;
    finding_advise(finding, "The slot leaves nothing of the pin: cut it shallower, so that it just clears the bolt.");
    finding_fix(finding, FIELD_slot_depth);
}

static void
judge_slot_bending(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;
    const double yield = derived->strength.yield_Pa;
    const struct allowable factor = allowable_factor(job, FIELD_limits_bending_factor, job->limits.bending_factor_ratio,
                                                     BENDING_ADVISED, BENDING_LIMIT);

    if (s->cut_through) {
        judge_cut_through(finding);
        return;
    }
    if (!s->stress_known || yield <= 0.0) {
        return;
    }
    finding_ceiling(finding, s->nominal_stress_Pa, yield / factor.advised, yield / factor.limit);
    if (s->inside_m > 0.0 && s->wall_left_m < WALL_SHARE_MIN * s->d_min_m) {
        finding->verdict = VERDICT_FAILS;
        finding->utilization = fmax(finding->utilization, 1.0 + (WALL_SHARE_MIN - s->wall_left_m / s->d_min_m));
        finding_advise(finding,
                       "The slot leaves {0} of wall over the bore of the pin, less than a tenth of the diameter: make "
                       "the pin solid, or lock it another way.");
        finding_advise_value(finding, 0, s->wall_left_m, DIMENSION_LENGTH);
        finding_fix_to(finding, FIELD_pin_inside_diameter, 0.0);
        return;
    }
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(
        finding,
        "Thicken the pin to about {0^}, cut the slot shallower, or take a steel with a yield strength of {1^}.");
    finding_advise_value(finding, 0, s->d_min_m * cbrt(s->nominal_stress_Pa * factor.advised / yield),
                         DIMENSION_LENGTH);
    finding_advise_value(finding, 1, s->nominal_stress_Pa * factor.advised, DIMENSION_PRESSURE);
    finding_fix_to(finding, FIELD_pin_diameter, s->d_min_m * cbrt(s->nominal_stress_Pa * factor.advised / yield));
}

static void
advise_slot_fatigue(const struct job *job, const struct derived *derived, double advised, struct finding *finding)
{
    const struct slot *s = &derived->slot;
    const double share = advised / s->notch_fatigue_factor;

    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, s->notch_in_range
                                    ? "Nothing to change."
                                    : "Nothing to change, but this slot lies outside the range of the notch "
                                      "factor; the larger of two formulas was used.");
        return;
    }
    finding_advise_value(finding, 0, s->d_min_m * cbrt(share), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, derived->strength.tensile_Pa * share, DIMENSION_PRESSURE);
    finding_advise(
        finding,
        job->slot.angle_rad == 0.0
            ? "Take a steel with a tensile strength near {1^}, or a pin near {0^}; a shallower slot, a larger cutter, "
              "or turning the slot to the side of the pin (90 deg from the load), where bending hardly reaches it, "
              "all help."
            : "Take a steel with a tensile strength near {1^}, or a pin near {0^}; a shallower slot or a larger "
              "cutter helps.");
    finding_fix_to(finding, FIELD_pin_diameter, s->d_min_m * cbrt(share));
}

static void
judge_slot_fatigue(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct slot *s = &derived->slot;
    const struct allowable factor = allowable_factor(job, FIELD_limits_fatigue_factor, job->limits.fatigue_factor_ratio,
                                                     FATIGUE_ADVISED, FATIGUE_LIMIT);

    if (s->cut_through) {
        judge_cut_through(finding);
        return;
    }
    if (!s->fatigue_known) {
        return;
    }
    finding_floor(finding, s->notch_fatigue_factor, factor.advised, factor.limit);
    if (s->cutter_radius_m < RADIUS_SHARE_MIN * s->d_min_m) {
        finding->verdict = VERDICT_FAILS;
        finding->utilization = fmax(finding->utilization, RADIUS_SHARE_MIN * s->d_min_m / s->cutter_radius_m);
        finding_advise(finding,
                       "The bottom of the slot is too sharp for any formula: cut it with a radius of at least {0^}.");
        finding_advise_value(finding, 0, RADIUS_SHARE_MIN * s->d_min_m, DIMENSION_LENGTH);
        finding_fix_to(finding, FIELD_slot_cutter_diameter, 2.0 * RADIUS_SHARE_MIN * s->d_min_m);
        return;
    }
    advise_slot_fatigue(job, derived, factor.advised, finding);
}

#define READS_SLOT FIELD_slot_depth, FIELD_slot_cutter_diameter, FIELD_slot_angle
static const enum job_field bending_reads[] = {READS_BENDING, FIELD_pin_steel, READS_SLOT, FIELD_limits_bending_factor};
static const enum job_field fatigue_reads[] = {READS_BENDING, FIELD_pin_steel, READS_SLOT, FIELD_limits_fatigue_factor};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter), NEED1(pin_steel), NEED1(slot_depth),
                                    NEED1(slot_cutter_diameter)};

const struct check check_slot_bending = {
    .id = "slot_bending",
    .name = "bending at the slot",
    .section = SECTION_slot,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Does what the slot leaves of the pin keep its shape?",
    .basis =
        "bending moment over the smaller section modulus of the round less the slot's segment, at the slot's angle",
    .limit_rule =
        "minimum yield strength over 1.5; advised over 2.0 (judgement); at least 0.1 of the diameter left over "
        "the bore of a hollow pin",
    .source = "statics; section of a circle cut by a chord (derived, checked by quadrature)",
    .override_field = FIELD_limits_bending_factor,
    .reads = CHECK_LIST(bending_reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_slot_bending,
};

const struct check check_slot_fatigue = {
    .id = "slot_fatigue",
    .name = "fatigue at the slot",
    .section = SECTION_slot,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Does the pin last with its slot?",
    .basis =
        "Goodman with the notch factor of the slot on mean and alternating stress, milled surface, load ratio of the "
        "cycle",
    .limit_rule = "at least 1.0; advised 1.5; root radius at least 0.05 of the diameter",
    .source = "notch factor: finite elements of this shape (derived), flat-bar value of Roark table 17.1 beside it; "
              "Shigley, 8th to 10th editions",
    .override_field = FIELD_limits_fatigue_factor,
    .reads = CHECK_LIST(fatigue_reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_slot_fatigue,
};
