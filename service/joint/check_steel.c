#include "joint/check.h"

#include "joint/material_rank.h"

/*
 * The pin's steel: strong enough, hard enough for what it runs in, and fit to
 * be slotted or flatted. Strength is the worst of the checks of strength made
 * elsewhere; hardness warns and never refuses; suitability is a word of the
 * steel's row. Not covered: corrosion, depth of case, how the bar was made.
 */

/* Through hardness from which a notch is to be feared, judgement: about 40 HRC. */
static const double brittle_HB = 371.0;

static const char strong_source[] =
    "the sources of bending, yield, shear, fatigue and slot; strengths by the steel's row";

/* ---- strength ---- */

/* A figure as a share of its limit, whichever way the check is read. */
static double
advised_share(const struct check *check, const struct finding *finding)
{
    if (check->sense == SENSE_FLOOR) {
        return finding->advised > 0.0 ? finding->limit / finding->advised : 1.0;
    }
    return finding->limit > 0.0 ? finding->advised / finding->limit : 1.0;
}

static void
judge_strength(const struct job *job, const struct derived *derived, struct finding *finding)
{
    struct standing standing;
    struct finding worst;
    strength_standing(job, derived, &standing, &worst);
    if (!standing.judged || !worst.has_utilization || !worst.has_limits) {
        return;
    }
    finding_ceiling(finding, worst.utilization, advised_share(standing.worst, &worst), 1.0);
    /* Some checks fail by a rule beside their number (a slot too sharp). */
    if (standing.verdict > finding->verdict) {
        finding->verdict = standing.verdict;
    }
    switch (finding->verdict) {
    case VERDICT_OK:
        finding_advise(finding, "Strong enough everywhere; nearest to its limit in {a}.");
        break;
    case VERDICT_MARGINAL:
        finding_advise(finding, "Close to its limit in {a}: a stronger steel, a thicker pin or better measurements of "
                                "the joint would give reserve. The ranking names the steels that do.");
        finding_fix(finding, FIELD_pin_steel);
        break;
    case VERDICT_INCOMPLETE:
    case VERDICT_FAILS:
        finding_advise(finding, "Not strong enough in {a}: take a stronger steel from the ranking, or a thicker pin if "
                                "none there is ok.");
        finding_fix(finding, FIELD_pin_steel);
        break;
    }
    finding_advise_word(finding, 0, standing.worst->name);
}

static const enum job_field strength_reads[] = {
    FIELD_pin_steel,
    FIELD_pin_diameter,
    FIELD_pin_length,
    FIELD_pin_inside_diameter,
    FIELD_pin_held_in,
    FIELD_pin_finish,
    FIELD_eye_width,
    FIELD_boss_length,
    FIELD_boss_gap,
    FIELD_slot_depth,
    FIELD_slot_cutter_diameter,
    FIELD_slot_angle,
    FIELD_limits_bending_factor,
    FIELD_limits_shear_factor,
    FIELD_limits_fatigue_factor,
    READS_FORCE,
};
static const struct need strength_needs[] = {NEED1(pin_steel), NEED1(pin_diameter), NEED_FORCE};

const struct check check_steel_strength = {
    .id = "steel_strength",
    .repeats = true,
    .name = "strength of the steel",
    .section = SECTION_material,
    .sense = SENSE_CEILING,
    .dimension = DIMENSION_RATIO,
    .asks = "Is the chosen steel strong enough for every demand on it?",
    .basis =
        "worst utilization among bending, yield, shear, fatigue, slot_bending and slot_fatigue, as far as they can "
        "be judged",
    .limit_rule = "limit 1; advised: the share of the limit that the governing check advises",
    .source = strong_source,
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(strength_reads),
    .needs = CHECK_LIST(strength_needs),
    .judge = judge_strength,
};

/* ---- hardness ---- */

static void
judge_hardness(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct metal *bushing[2];
    const size_t count = rubbing_bushings(job, bushing);
    const struct metal *asks_most = NULL;
    for (size_t i = 0; i < count; i++) {
        const struct figure *hardness = &bushing[i]->shaft_hardness_min;
        if (hardness->given && (asks_most == NULL || hardness->si > asks_most->shaft_hardness_min.si)) {
            asks_most = bushing[i];
        }
    }
    if (asks_most == NULL) {
        finding_not_applicable(finding, count > 0 ? "no least hardness of the pin is published for this bearing metal"
                                                  : "no bushing is named on the surface that turns on the pin");
        return;
    }
    const double value_HB = derived->strength.surface_HB;
    if (!(value_HB > 0.0)) {
        return;
    }
    finding->judged = true;
    finding->has_value = true;
    finding->value = value_HB;
    finding->advised = asks_most->shaft_hardness_min.si;
    if (value_HB >= finding->advised) {
        finding->verdict = VERDICT_OK;
        finding_advise(finding, "{0} HB at the surface; {1} HB is the least published for a pin in {a}.");
    } else {
        /* Many sound old engines run a softer pin: warn, never refuse. */
        finding->verdict = VERDICT_MARGINAL;
        finding_advise(finding, "{0} HB is soft for {a}, which wants {1} HB or more: grit in the bronze will score the "
                                "pin. It runs if it is smooth and kept oiled; prehard, induction hardened or "
                                "case-hardened steel lasts.");
        finding_fix(finding, FIELD_pin_hardness);
    }
    finding_advise_value(finding, 0, value_HB, DIMENSION_COUNT);
    finding_advise_value(finding, 1, finding->advised, DIMENSION_COUNT);
    finding_advise_word(finding, 0, asks_most->name != NULL ? asks_most->name : "this bearing metal");
}

static const enum job_field hardness_reads[] = {FIELD_pin_steel,   FIELD_pin_hardness, FIELD_pin_hardness_scale,
                                                FIELD_pin_held_in, FIELD_boss_bushing, FIELD_eye_bushing};
static const struct need hardness_needs[] = {NEED2(pin_hardness, pin_steel)};

const struct check check_steel_hardness = {
    .id = "steel_hardness",
    .name = "hardness of the pin",
    .section = SECTION_material,
    .sense = SENSE_FLOOR,
    .dimension = DIMENSION_COUNT,
    .asks = "Is the pin hard enough for the bushing it turns in?",
    .basis =
        "Brinell hardness of the running surface (pin.hardness, else the steel's own; the case where case-hardened) "
        "against the least hardness published for a journal in that bearing metal",
    .limit_rule = "advised: the least hardness of the bearing metal's row; no limit: a softer pin is marginal, never "
                  "refused",
    .source = "least journal hardness by the bearing metal's row; Rockwell C to Brinell by ASTM E140",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(hardness_reads),
    .needs = CHECK_LIST(hardness_needs),
    .judge = judge_hardness,
};

/* ---- suitability ---- */

static void
suits(struct finding *finding, enum verdict verdict, const char *advice, const char *word)
{
    finding->judged = true;
    finding->verdict = verdict;
    finding_advise(finding, advice);
    finding_advise_word(finding, 0, word);
    if (verdict != VERDICT_OK) {
        finding_fix(finding, FIELD_pin_steel);
    }
}

/* Hard right through, where a slot needs toughness. */
static bool
hard_through(const struct steel *steel)
{
    const double core_HB = steel->hardness_hb.given    ? steel->hardness_hb.si
                           : steel->hardness_hrc.given ? hardness_HB_from_HRC(steel->hardness_hrc.si)
                                                       : 0.0;
    return !steel->case_hardened && core_HB >= brittle_HB;
}

static void
judge_suits(const struct job *job, const struct derived *derived, struct finding *finding)
{
    const struct steel *steel = job_steel(job);
    (void)derived;
    if (steel == NULL) {
        return;
    }
    const char *const note =
        steel->note != NULL && steel->note[0] != '\0' ? steel->note : "nothing more is noted, so break every edge";
    const bool cut = job_known(job, FIELD_slot_depth) || job_known(job, FIELD_set_screw_flat_depth);
    if (!cut) {
        suits(finding, VERDICT_OK, "No slot or flat is named, so nothing speaks against this steel.", note);
    } else if (steel->slot == SLOT_UNSUITABLE) {
        suits(finding, VERDICT_FAILS,
              "Hard right through: a milled slot or flat is where it cracks. Take a tough steel, prehard or with a "
              "hard case "
              "over a soft core. About this steel: {a}.",
              note);
    } else if (hard_through(steel)) {
        suits(finding, VERDICT_MARGINAL,
              "Hard right through and sensitive to notches: only with a polished slot of large radius; a tougher "
              "condition "
              "of it, or a hard case over a soft core, is better. About this steel: {a}.",
              note);
    } else if (steel->case_hardened) {
        suits(finding, VERDICT_OK,
              "Suits if the slot is cut before hardening and kept soft, or milled through the case "
              "afterwards and its edges broken. About this steel: {a}.",
              note);
    } else if (steel->slot == SLOT_WITH_CARE) {
        suits(finding, VERDICT_OK, "Can be slotted with care. About this steel: {a}.", note);
    } else {
        suits(finding, VERDICT_OK, "Tough enough to be slotted as it is. About this steel: {a}.", note);
    }
}

static const enum job_field suits_reads[] = {FIELD_pin_steel, FIELD_slot_depth, FIELD_set_screw_flat_depth};
static const struct need suits_needs[] = {NEED1(pin_steel)};

const struct check check_steel_suits = {
    .id = "steel_suits",
    .name = "suitability of the steel",
    .section = SECTION_material,
    .sense = SENSE_WORD,
    .dimension = DIMENSION_RATIO,
    .asks = "Does the steel suit a pin with a slot or a flat?",
    .basis = "toughness at a milled notch, by the steel's row; hard right through is notch-brittle",
    .limit_rule =
        "fails where the row says unsuitable, marginal where hard right through (about 40 HRC or more), else ok; "
        "ok without a slot or flat",
    .source = "judgement, after the published notes of the steel's row",
    .override_field = FIELD_NONE,
    .reads = CHECK_LIST(suits_reads),
    .needs = CHECK_LIST(suits_needs),
    .judge = judge_suits,
};
