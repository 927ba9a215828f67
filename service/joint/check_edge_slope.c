#include "joint/check.h"

#include <math.h>

#include "joint/pin_reads.h"

/*
 * Does the bent pin lean on the inner edges of the bosses? Slope of a simple
 * beam over the boss centers; the piston stiffens the real pin, so it is on
 * the safe side.
 */

#define ADVISED_rad 0.001
#define LIMIT_rad 0.002

static void
judge_edge_slope(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const struct allowable allowable =
        allowable_ceiling(job, FIELD_limits_edge_slope, job->limits.edge_slope_ratio, ADVISED_rad, LIMIT_rad);

    if (!s->stress_known) {
        return;
    }
    finding_ceiling(finding, s->edge_slope_rad, allowable.advised, allowable.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding,
                   "Thicken the pin to {0^}, or relieve the inner edges of the bosses; over the boss length the pin "
                   "leans by {1}, which must stay within the running clearance.");
    finding_advise_value(finding, 0, s->d_m * sqrt(sqrt(s->edge_slope_rad / allowable.advised)), DIMENSION_LENGTH);
    finding_advise_value(finding, 1, s->edge_slope_rad * s->boss_m, DIMENSION_LENGTH);
    finding_fix_to(finding, FIELD_pin_diameter, s->d_m * sqrt(sqrt(s->edge_slope_rad / allowable.advised)));
}

static const enum job_field reads[] = {READS_BENDING, FIELD_pin_steel, FIELD_limits_edge_slope};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter)};

const struct check check_edge_slope = {
    .id = "edge_slope",
    .name = "slope at the boss edge",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_ANGLE,
    .asks = "Does the bent pin lean on the edges of the bosses?",
    .basis = "F (3 s2 - w2) / (48 E I), s span between boss centers, w eye width",
    .limit_rule = "0.002 rad (0.115 deg); advised 0.001 rad (judgement)",
    .source = "beam theory",
    .override_field = FIELD_limits_edge_slope,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_edge_slope,
};
