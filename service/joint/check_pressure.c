#include "joint/check.h"

#include <math.h>

#include "joint/surface.h"

/*
 * Mean pressure on the projected area of pin and bearing, in the bosses and in
 * the eye, and its product with the mean rubbing speed.
 *
 * Rubbing surfaces (oscillating, boundary lubricated), bronze, load reversing:
 * advised 12.6 MPa [Khurmi and Gupta table 26.3, from memory], limit 15.4 for a
 * soft pin, 19.7 for one hardened to 55 HRC or more [Mathot 1905 ch. II, 1,500
 * to 2,850 psi, read], 17.2 between them for a prehard pin of 250 HB or more
 * (interpolated). Load that never reverses: 8.4 and 12.6 MPa [Khurmi and Gupta
 * table 26.3, from memory]. Grey iron and steel without a bushing: 0.5 of the
 * advised and 0.9 of the limit, babbitt 0.7 of both (judgement); published
 * continuous-duty figures for iron are lower (3.4 MPa). Never above the
 * bearing metal's own limit.
 *
 * Surfaces that stand still: crushing of the softer part, factor 2.5.
 *
 * Not covered: pressure at the edges, about twice the mean; oil grooves.
 */

#define MPa 1.0e6
#define ADVISED_REVERSING_Pa (12.6 * MPa)
#define LIMIT_SOFT_PIN_Pa (15.4 * MPa)
#define LIMIT_PREHARD_PIN_Pa (17.2 * MPa)
#define LIMIT_HARD_PIN_Pa (19.7 * MPa)
#define ADVISED_ONE_WAY_Pa (8.4 * MPa)
#define LIMIT_ONE_WAY_Pa (12.6 * MPa)
#define PREHARD_HB 250.0
#define HARD_HRC 55.0
#define IRON_ADVISED_SHARE 0.5
#define IRON_LIMIT_SHARE 0.9
#define BABBITT_SHARE 0.7
#define CRUSH_FACTOR 2.5
#define ADVISED_SHARE 0.9
/* Cast bronze, boundary lubrication [Shigley table 12-8, from memory]. */
#define PV_LIMIT_Pa_m_s (1.75 * MPa)

static struct allowable
rubbing_allowable(const struct derived *derived, const struct metal *metal)
{
    const double hardness = derived->strength.surface_HB;
    struct allowable allowable = {ADVISED_ONE_WAY_Pa, LIMIT_ONE_WAY_Pa};

    if (derived->load.reverses) {
        allowable.advised = ADVISED_REVERSING_Pa;
        allowable.limit = hardness >= hardness_HB_from_HRC(HARD_HRC) ? LIMIT_HARD_PIN_Pa
                          : hardness >= PREHARD_HB                   ? LIMIT_PREHARD_PIN_Pa
                                                                     : LIMIT_SOFT_PIN_Pa;
    }
    if (metal->kind == METAL_GREY_IRON || metal->kind == METAL_STEEL) {
        allowable.advised *= IRON_ADVISED_SHARE;
        allowable.limit *= IRON_LIMIT_SHARE;
    } else if (metal->kind == METAL_BABBITT) {
        allowable.advised *= BABBITT_SHARE;
        allowable.limit *= BABBITT_SHARE;
    }
    if (metal->bearing && metal->pressure_max.given) {
        allowable.limit = fmin(allowable.limit, metal->pressure_max.si);
        allowable.advised = fmin(allowable.advised, allowable.limit);
    }
    return allowable;
}

/* The softer of the surface and the pin; a metal with no yield figure is
 * taken by its tensile strength, as grey iron is. */
static struct allowable
static_allowable(const struct derived *derived, const struct metal *metal)
{
    double strength = metal->yield.given ? metal->yield.si : metal->tensile.si;
    struct allowable allowable;

    if (derived->strength.yield_Pa > 0.0) {
        strength = strength > 0.0 ? fmin(strength, derived->strength.yield_Pa) : derived->strength.yield_Pa;
    }
    allowable.limit = strength / CRUSH_FACTOR;
    allowable.advised = ADVISED_SHARE * allowable.limit;
    return allowable;
}

/*
 * What else raises the allowance of a surface that rubs: bronze in place of
 * iron or babbitt, and a harder pin, which moves the limit alone and helps only
 * where the load reverses.
 */
static const char *
allowed_more(const struct derived *derived, const struct metal *metal, enum verdict verdict)
{
    const bool bronze = metal->kind == METAL_GREY_IRON || metal->kind == METAL_STEEL || metal->kind == METAL_BABBITT;
    const bool hard = verdict == VERDICT_FAILS && derived->load.reverses &&
                      derived->strength.surface_HB < hardness_HB_from_HRC(HARD_HRC);

    if (bronze) {
        return hard ? "; a bronze bushing or a hard pin also raises what is allowed"
                    : "; a bronze bushing also raises what is allowed";
    }
    return hard ? "; a hard pin also raises what is allowed" : "";
}

static void
judge_pressure(const struct job *job, const struct derived *derived, enum surface surface, double pressure_Pa,
               struct finding *finding)
{
    const bool boss = surface == SURFACE_BOSS;
    const struct metal *metal = surface_metal(job, surface);
    const bool rubs = surface_rubs(job, surface);
    struct allowable allowable = rubs ? rubbing_allowable(derived, metal) : static_allowable(derived, metal);
    const enum job_field override = boss ? FIELD_limits_boss_pressure : FIELD_limits_eye_pressure;
    const bool own = job_given(job, override);
    double length;

    allowable = allowable_ceiling(job, override, boss ? job->limits.boss_pressure_Pa : job->limits.eye_pressure_Pa,
                                  allowable.advised, allowable.limit);
    if (allowable.limit <= 0.0) {
        finding_not_applicable(finding, "no strength is known for this metal");
        return;
    }
    finding_ceiling(finding, pressure_Pa, allowable.advised, allowable.limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    length = (boss ? derived->strength.boss_m : derived->strength.eye_m) * pressure_Pa / allowable.advised;
    finding_advise_value(finding, 0, length, DIMENSION_LENGTH);
    finding_advise_value(finding, 1, derived->strength.d_m * pressure_Pa / allowable.advised, DIMENSION_LENGTH);
    finding_advise(finding,
                   boss ? "Give each boss a bearing length of {0^}, if piston and pin leave room for it, or "
                          "thicken the pin to {1^}{a}."
                        : "Widen the eye to {0^}, if the bosses leave room for it, or thicken the pin to {1^}{a}.");
    finding_advise_word(finding, 0, rubs && !own ? allowed_more(derived, metal, finding->verdict) : "");
    finding_fix_to(finding, boss ? FIELD_boss_length : FIELD_eye_width, length);
}

static void
judge_boss_pressure(const struct job *job, const struct derived *derived, struct finding *finding)
{
    if (derived->strength.boss_pressure_known) {
        judge_pressure(job, derived, SURFACE_BOSS, derived->strength.boss_pressure_Pa, finding);
    }
}

static void
judge_eye_pressure(const struct job *job, const struct derived *derived, struct finding *finding)
{
    if (derived->strength.eye_pressure_known) {
        judge_pressure(job, derived, SURFACE_EYE, derived->strength.eye_pressure_Pa, finding);
    }
}

static void
judge_pv(const struct job *job, enum surface surface, bool known, double pv_Pa_m_s, struct finding *finding)
{
    const struct metal *metal = surface_metal(job, surface);
    double limit = PV_LIMIT_Pa_m_s;

    if (!surface_rubs(job, surface)) {
        finding_not_applicable(finding, "this surface stands still");
        return;
    }
    if (!known) {
        return;
    }
    if (metal->bearing && metal->pv_max.given) {
        limit = metal->pv_max.si;
    }
    finding_ceiling(finding, pv_Pa_m_s, ADVISED_SHARE * limit, limit);
    if (finding->verdict == VERDICT_OK) {
        finding_advise(finding, "Nothing to change.");
        return;
    }
    finding_advise(finding, "The bearing will run hot: run at {0} at most, or lengthen the bearing.");
    finding_advise_value(finding, 0, job->engine.speed_rad_s * ADVISED_SHARE * limit / pv_Pa_m_s, DIMENSION_ROTATION);
    finding_fix_to(finding, FIELD_engine_speed, job->engine.speed_rad_s * ADVISED_SHARE * limit / pv_Pa_m_s);
}

static void
judge_boss_pv(const struct job *job, const struct derived *derived, struct finding *finding)
{
    judge_pv(job, SURFACE_BOSS, derived->strength.boss_pv_known, derived->strength.boss_pv_Pa_m_s, finding);
}

static void
judge_eye_pv(const struct job *job, const struct derived *derived, struct finding *finding)
{
    judge_pv(job, SURFACE_EYE, derived->strength.eye_pv_known, derived->strength.eye_pv_Pa_m_s, finding);
}

#define READS_PIN                                                                                                      \
    FIELD_pin_held_in, FIELD_pin_diameter, FIELD_pin_length, FIELD_eye_width, FIELD_boss_gap, FIELD_boss_length
#define READS_HARDNESS FIELD_pin_steel, FIELD_pin_hardness, FIELD_pin_hardness_scale

static const enum job_field boss_reads[] = {READS_FORCE,      READS_PIN,      FIELD_boss_bushing,
                                            FIELD_boss_metal, READS_HARDNESS, FIELD_limits_boss_pressure};
static const enum job_field eye_reads[] = {READS_FORCE,     FIELD_pin_held_in,        FIELD_pin_diameter,
                                           FIELD_eye_width, FIELD_eye_bushing,        FIELD_eye_metal,
                                           READS_HARDNESS,  FIELD_limits_eye_pressure};
static const enum job_field boss_pv_reads[] = {READS_FORCE, READS_PIN, FIELD_boss_bushing, FIELD_boss_metal};
static const enum job_field eye_pv_reads[] = {READS_FORCE,     FIELD_pin_held_in, FIELD_pin_diameter,
                                              FIELD_eye_width, FIELD_eye_bushing, FIELD_eye_metal};
static const struct need needs[] = {NEED_FORCE, NEED1(pin_diameter)};
static const struct need pv_needs[] = {NEED_FORCE, NEED1(engine_speed), NEED1(pin_diameter)};

#define PRESSURE_RULE                                                                                                  \
    "where the pin rubs on bronze under a reversing load: advised 12.6 MPa, limit 15.4 (17.2 for a pin of 250 HB, "    \
    "19.7 for 55 HRC); 8.4 and 12.6 where the load never reverses; bare iron or steel 0.5 and 0.9 of these, babbitt "  \
    "0.7; never above the metal's own limit. Where it stands still: yield of the softer part over 2.5"
#define PRESSURE_SOURCE                                                                                                \
    "Mathot 1905 ch. II (1,500 to 2,850 psi); Khurmi and Gupta table 26.3 (from memory); shares for iron and "         \
    "babbitt: judgement"

const struct check check_boss_pressure = {
    .id = "boss_pressure",
    .name = "pressure in the bosses",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Do both bosses together carry the peak load?",
    .basis = "peak load over pin diameter times both bearing lengths",
    .limit_rule = PRESSURE_RULE,
    .source = PRESSURE_SOURCE,
    .override_field = FIELD_limits_boss_pressure,
    .reads = CHECK_LIST(boss_reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_boss_pressure,
};

const struct check check_eye_pressure = {
    .id = "eye_pressure",
    .name = "pressure in the rod eye",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PRESSURE,
    .asks = "Does the rod eye carry the peak load?",
    .basis = "peak load over pin diameter times eye width",
    .limit_rule = PRESSURE_RULE,
    .source = PRESSURE_SOURCE,
    .override_field = FIELD_limits_eye_pressure,
    .reads = CHECK_LIST(eye_reads),
    .needs = CHECK_LIST(needs),
    .judge = judge_eye_pressure,
};

#define PV_RULE "the bearing metal's own PV, else 1.75 MPa.m/s; advised 0.9 of it"
#define PV_SOURCE "bearing metal table; Shigley table 12-8, cast bronze (from memory)"

const struct check check_boss_pv = {
    .id = "boss_pv",
    .name = "pressure times speed in the bosses",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PV,
    .asks = "Will the bosses run cool enough?",
    .basis = "mean over the cycle of the load's magnitude over the projected area, times mean rubbing speed",
    .limit_rule = PV_RULE,
    .source = PV_SOURCE,
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(boss_pv_reads),
    .needs = CHECK_LIST(pv_needs),
    .whole_cycle = true,
    .judge = judge_boss_pv,
};

const struct check check_eye_pv = {
    .id = "eye_pv",
    .name = "pressure times speed in the eye",
    .section = SECTION_strength,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_PV,
    .asks = "Will the eye run cool enough?",
    .basis = "mean over the cycle of the load's magnitude over the projected area, times mean rubbing speed",
    .limit_rule = PV_RULE,
    .source = PV_SOURCE,
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(eye_pv_reads),
    .needs = CHECK_LIST(pv_needs),
    .whole_cycle = true,
    .judge = judge_eye_pv,
};
