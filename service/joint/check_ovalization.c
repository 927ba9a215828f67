#include "joint/check.h"

/*
 * Does a hollow pin go oval under load by more than its clearance can bear?
 * Solid pins do not. Formula and its range in oval.h.
 */

#define ADVISED_SHARE 0.00025
#define LIMIT_SHARE 0.0005
#define RANGE_LOW 0.4
#define RANGE_HIGH 0.8

static void
judge_ovalization(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct strength *s = &derived->strength;
    const double hollow = s->inside_m / s->d_m;

    (void)job;
    if (!s->oval_known) {
        finding_not_applicable(finding, "the pin is solid, or as good as solid");
        return;
    }
    finding_ceiling(finding, s->ovalization_m, ADVISED_SHARE * s->d_m, LIMIT_SHARE * s->d_m);
    if (finding->verdict != VERDICT_OK) {
        finding_advise(finding, "Leave a thicker wall, or make the pin longer or solid.");
        finding_fix(finding, FIELD_pin_inside_diameter);
    } else if (hollow < RANGE_LOW || hollow > RANGE_HIGH) {
        finding_advise(finding, "Nothing to change, but this pin lies outside the range the formula was made for (bore "
                                "0.4 to 0.8 of the diameter).");
    } else {
        finding_advise(finding, "Nothing to change.");
    }
}

static const enum job_field reads[] = {READS_FORCE, FIELD_pin_diameter, FIELD_pin_inside_diameter, FIELD_pin_length,
                                       FIELD_pin_steel};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter)};

const struct check check_ovalization = {
    .id = "ovalization",
    .name = "ovalization of the hollow pin",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_LENGTH,
    .asks = "Does the hollow pin stay round enough under load?",
    .basis = "0.09 K F / (E l) ((1+a)/(1-a))^3, a bore over diameter, K = max(15 [0.1 - (a-0.4)^3], 1.10)",
    .limit_rule = "0.0005 of the diameter; advised 0.00025 (judgement)",
    .source = "Kolchin and Demidov, Design of Automotive Engines (from memory), confirmed by ring theory and elements",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_ovalization,
};
