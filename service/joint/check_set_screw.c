#include "joint/check.h"

#include <math.h>

#include "joint/lock_demand.h"

/*
 * Set screws that hold the pin in its bosses: holding power over demand, along
 * the pin and about it. Published powers are static; makers ask for 4 to 8 over
 * them where the load shakes, so a screw that only just passes here is a screw
 * to watch. Not covered: screws at an angle to each other (two hold less than
 * twice one), a flat's positive stop, a dog point in a drilled hole (holds more).
 */

/* Published powers are for a shaft that the point bites into, 15 HRC or more
 * below a screw of 50; less difference costs up to 15 % [makers' guide, read]. */
static const double hard_pin_hrc = 35.0;
static const double dynamic_factor = 4.0;

static const double factor_advised = 2.0;
static const double factor_limit = 1.25;

static void
advise_weak(const struct job *job, const struct screw_lock *lock, struct finding *finding)
{
    const struct screw_hold *row = screw_hold_find(job->set_screw.thread.diameter_m);
    if (row == NULL || lock->seating_ratio >= 1.0) {
        finding_advise(finding, "The screws hold {0} times the demand, {1} is wanted: more screws, larger ones, or a "
                                "pin clamped in the rod.");
        finding_fix(finding, FIELD_set_screw_thread);
        return;
    }
    if (finding->value >= finding->advised * lock->seating_ratio) {
        finding_advise(finding, "The screws hold {0} times the demand, {1} is wanted, because they are seated at less "
                                "than the published torque: tighten each to {2}.");
    } else {
        finding_advise(finding, "The screws hold {0} times the demand, {1} is wanted. Tightening each to {2} helps but "
                                "is not enough: more screws, larger ones, or a pin clamped in the rod.");
    }
    finding_advise_value(finding, 2, row->seating_torque_Nm, DIMENSION_TORQUE);
    finding_fix_to(finding, FIELD_set_screw_torque, row->seating_torque_Nm);
}

static void
advise_strong(const struct derived *derived, struct finding *finding)
{
    if (derived->set_screw.over_torque) {
        finding_advise(finding, "The torque is above the published one: it strips the socket and holds no more than is "
                                "counted here. Holds {0} times the demand.");
        finding_fix(finding, FIELD_set_screw_torque);
    } else if (derived->strength.surface_HB > hardness_HB_from_HRC(hard_pin_hrc)) {
        finding_advise(finding, "Holds {0} times the demand on a pin the point can bite into; this one is hard, which "
                                "costs about 15 %: file or grind the seats through the case.");
    } else if (finding->value < dynamic_factor) {
        finding_advise(finding, "Holds {0} times the demand; makers ask for 4 to 8 where the load shakes. Lock the "
                                "screws and look at them after the first hours.");
    } else {
        finding_advise(finding, "Holds {0} times the demand, the reserve that makers ask for where the load shakes.");
    }
}

static void
judge_hold(const struct job *job, const struct derived *derived, double hold, double demand, struct finding *finding)
{
    if (!(demand > 0.0)) {
        finding_not_applicable(finding, "the demand given is zero: nothing to hold");
        return;
    }
    const struct allowable factor =
        allowable_factor(job, FIELD_limits_bolt_factor, job->limits.bolt_factor_ratio, factor_advised, factor_limit);
    finding_floor(finding, fmin(hold / demand, UTILIZATION_MAX), factor.advised, factor.limit);
    if (finding->verdict == VERDICT_OK) {
        advise_strong(derived, finding);
    } else {
        advise_weak(job, &derived->set_screw, finding);
    }
    finding_advise_value(finding, 0, finding->value, DIMENSION_RATIO);
    finding_advise_value(finding, 1, finding->advised, DIMENSION_RATIO);
}

/* Nothing to judge: say why where the job gives all that is asked for. */
static bool
hold_known(const struct derived *derived, struct finding *finding)
{
    if (derived->set_screw.below_table) {
        finding_not_applicable(finding, "the screw is smaller than any in the published table of holding powers");
    }
    return derived->set_screw.hold_known;
}

static void
judge_axial(const struct job *job, const struct derived *derived, struct finding *finding)
{
    double demand_N = 0.0;
    if (hold_known(derived, finding) && lock_axial_demand_N(job, derived, &demand_N)) {
        judge_hold(job, derived, derived->set_screw.hold_axial_N, demand_N, finding);
    }
}

static void
judge_torque(const struct job *job, const struct derived *derived, struct finding *finding)
{
    double demand_Nm = 0.0;
    if (hold_known(derived, finding) && lock_torque_demand_Nm(job, derived, &demand_Nm)) {
        judge_hold(job, derived, derived->set_screw.hold_torque_Nm, demand_Nm, finding);
    }
}

#define READS_SCREW                                                                                                    \
    FIELD_set_screw_thread, FIELD_set_screw_count, FIELD_set_screw_torque, FIELD_set_screw_point, FIELD_pin_diameter,  \
        FIELD_limits_bolt_factor
#define NEED_SCREW NEED1(set_screw_thread), NEED1(set_screw_torque), NEED1(pin_diameter)
#define HOLD_RULE                                                                                                      \
    "advised 2.0, limit 1.25; limits.bolt_factor moves the limit; makers ask for 1.5 to 2 under steady and 4 to 8 "    \
    "under shaking load"
#define HOLD_SOURCE                                                                                                    \
    "published holding powers of cup-point socket set screws (Shigley, Mechanical Engineering Design, table of set "   \
    "screw holding power; makers' tables); demand and factors: judgement"

static const enum job_field axial_reads[] = {READS_SCREW, FIELD_demand_axial, READS_FORCE};
static const struct need axial_needs[] = {
    NEED_SCREW, NEED2(demand_axial, engine_bore), NEED2(demand_axial, engine_stroke),
    NEED4(demand_axial, engine_peak_pressure, engine_compression_pressure, engine_compression_ratio)};

const struct check check_screw_axial = {
    .id = "screw_axial",
    .name = "axial hold of the set screws",
    .section = SECTION_set_screw,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Do the set screws keep the pin from walking out sideways?",
    .basis =
        "number of screws x published axial holding power x torque / published seating torque (at most 1) x factor "
        "of the point, over the axial demand (given, else 5 % of the pin load)",
    .limit_rule = HOLD_RULE,
    .source = HOLD_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(axial_reads),
    .needs = CHECK_LIST(axial_needs),
    .judge = judge_axial,
};

static const enum job_field torque_reads[] = {READS_SCREW, FIELD_demand_torque, READS_FORCE};
static const struct need torque_needs[] = {
    NEED_SCREW, NEED2(demand_torque, engine_bore), NEED2(demand_torque, engine_stroke),
    NEED4(demand_torque, engine_peak_pressure, engine_compression_pressure, engine_compression_ratio)};

const struct check check_screw_torque = {
    .id = "screw_torque",
    .name = "hold of the set screws against turning",
    .section = SECTION_set_screw,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_RATIO,
    .asks = "Do the set screws keep the pin from turning?",
    .basis =
        "axial hold of the screws x radius of the pin (published powers are tangential at the surface as well), over "
        "the torque demand (given, else 0.15 x pin load x half the diameter)",
    .limit_rule = HOLD_RULE,
    .source = HOLD_SOURCE,
    .override_field = FIELD_limits_bolt_factor,
    .reads = CHECK_LIST(torque_reads),
    .needs = CHECK_LIST(torque_needs),
    .judge = judge_torque,
};
