#include "support/close.h"

#include <string.h>

#include "joint/material_rank.h"

extern const struct check check_steel_strength, check_steel_hardness, check_steel_suits;

static void
give_number(struct job *job, enum job_field field, double *member, double value)
{
    *member = value;
    job->state[field] = FIELD_GIVEN;
}

static void
give_steel(struct job *job, const char *id)
{
    bool by_grade = false;
    job->pin.steel.row = steel_find(id, &by_grade);
    assert_non_null(job->pin.steel.row);
    job->state[FIELD_pin_steel] = FIELD_GIVEN;
}

static void
give_boss_bushing(struct job *job, const char *id)
{
    job->boss.bushing.row = metal_find(id);
    assert_non_null(job->boss.bushing.row);
    job->state[FIELD_boss_bushing] = FIELD_GIVEN;
}

static void
give_slot(struct job *job)
{
    give_number(job, FIELD_slot_depth, &job->slot.depth_m, 0.0030);
    give_number(job, FIELD_slot_cutter_diameter, &job->slot.cutter_diameter_m, 0.0104);
}

/* A steel of the client's own, by its hardness. */
static void
give_own_steel(struct job *job, double hardness_HB)
{
    job->pin.steel = (struct steel_choice){0};
    job->pin.steel.own.tensile = (struct figure){.given = true, .si = 800e6, .si_high = 800e6};
    job->pin.steel.own.yield = (struct figure){.given = true, .si = 600e6, .si_high = 600e6};
    job->pin.steel.own.hardness_hb = (struct figure){.given = true, .si = hardness_HB, .si_high = hardness_HB};
    job->state[FIELD_pin_steel] = FIELD_GIVEN;
}

/* An invented but ordinary engine: 4.5 x 6 in, 300 psi, a 1 in pin. */
static void
start(struct job *job)
{
    job_init(job);
    give_number(job, FIELD_engine_bore, &job->engine.bore_m, 0.1143);
    give_number(job, FIELD_engine_stroke, &job->engine.stroke_m, 0.1524);
    give_number(job, FIELD_engine_peak_pressure, &job->engine.peak_pressure_Pa, 2.068e6);
    job->pin.diameter = (struct limits){.min_m = 0.0254, .max_m = 0.0254};
    job->state[FIELD_pin_diameter] = FIELD_GIVEN;
    give_boss_bushing(job, "c93200");
}

static struct derived
derived_of(const struct job *job)
{
    struct derived derived;
    memset(&derived, 0, sizeof derived);
    load_derive(job, &derived);
    strength_derive(job, &derived);
    slot_derive(job, &derived);
    return derived;
}

static struct finding
judged(const struct check *check, const struct job *job)
{
    const struct derived derived = derived_of(job);
    struct finding finding = {.fix = FIELD_NONE};
    assert_true(check_needs_known(check, job));
    check->judge(job, &derived, &finding);
    return finding;
}

static void
rank(const struct job *job, struct report *report)
{
    const struct derived derived = derived_of(job);
    memset(report, 0, sizeof *report);
    material_rank(job, &derived, report);
}

/* Place of a steel in the ranking, or its length. */
static size_t
place_of(const struct report *report, const char *id)
{
    size_t place = 0;
    while (place < report->ranking_count && strcmp(report->ranking[place].id, id) != 0) {
        place++;
    }
    return place;
}

static const struct ranking *
entry_of(const struct report *report, const char *id)
{
    const size_t place = place_of(report, id);
    assert_true(place < report->ranking_count);
    return &report->ranking[place];
}

/* ---- ranking ---- */

static void
ranks_every_steel_once_and_best_first(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    size_t steels = 0;
    start(&job);
    give_slot(&job);
    job_complete(&job);
    rank(&job, &report);
    const struct steel *table = steel_table(&steels);
    assert_int_equal(report.ranking_count, steels);
    for (size_t i = 0; i < steels; i++) {
        assert_true(place_of(&report, table[i].id) < steels);
        assert_non_null(report.ranking[i].governing);
        assert_non_null(report.ranking[i].note);
        if (i > 0) {
            const struct ranking *before = &report.ranking[i - 1], *after = &report.ranking[i];
            assert_true(before->verdict <= after->verdict);
            assert_true(before->verdict < after->verdict || before->utilization <= after->utilization);
        }
    }
}

/* Judgement of the table: through-hard, notch-brittle steels are not slotted. */
static void
puts_brittle_steels_last_for_a_slotted_pin(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    give_slot(&job);
    job_complete(&job);
    rank(&job, &report);
    assert_int_equal(entry_of(&report, "52100-hard")->verdict, VERDICT_FAILS);
    assert_string_equal(entry_of(&report, "52100-hard")->governing, "steel_suits");
    assert_true(place_of(&report, "4140-bc") < place_of(&report, "52100-hard"));
}

static void
ranks_a_stronger_steel_of_the_same_hardness_class_higher(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job_complete(&job);
    rank(&job, &report);
    assert_true(place_of(&report, "4140-bd") < place_of(&report, "4140-bb"));
    assert_true(place_of(&report, "1045-cd") < place_of(&report, "1018-cd"));
}

static void
does_not_lend_the_chosen_pins_hardness_to_other_steels(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    job.pin.diameter.min_m = job.pin.diameter.max_m = 0.035; /* thick enough for its bosses */
    give_steel(&job, "1045-cd");
    give_number(&job, FIELD_pin_hardness, &job.pin.hardness_number, 55.0);
    job_complete(&job);
    rank(&job, &report);
    assert_int_equal(entry_of(&report, "1045-cd")->verdict, VERDICT_OK);
    assert_int_equal(entry_of(&report, "1045-hr")->verdict, VERDICT_MARGINAL);
    assert_string_equal(entry_of(&report, "1045-hr")->governing, "steel_hardness");
    assert_ptr_equal(report.chosen, job.pin.steel.row);
}

/* Same verdicts whether a steel is chosen or only tried. */
static void
agrees_with_the_checks_of_the_chosen_steel(void **state)
{
    (void)state;
    static const char *const ids[] = {"1018-hr", "1045-cd", "4140-bc", "8620-carb", "17-4-h900", "o1-hard"};
    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
        struct job job;
        struct report other, own;
        start(&job);
        give_slot(&job);
        give_steel(&job, ids[i]);
        job_complete(&job);
        rank(&job, &own);
        give_steel(&job, "4140-ann");
        rank(&job, &other);
        assert_int_equal(entry_of(&own, ids[i])->verdict, entry_of(&other, ids[i])->verdict);
        assert_close_or(entry_of(&own, ids[i])->utilization, entry_of(&other, ids[i])->utilization, 1e-12, 0.0);
    }
}

static void
ranks_by_suitability_and_hardness_without_an_engine(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    give_slot(&job);
    give_boss_bushing(&job, "c93200");
    job_complete(&job);
    rank(&job, &report);
    assert_int_equal(entry_of(&report, "8620-carb")->verdict, VERDICT_OK);
    assert_int_equal(entry_of(&report, "1018-hr")->verdict, VERDICT_MARGINAL);
    assert_int_equal(entry_of(&report, "w1-hard")->verdict, VERDICT_FAILS);
    assert_close_or(entry_of(&report, "8620-carb")->utilization, 0.0, 0.0, 0.0);
}

static void
leaves_the_job_alone(void **state)
{
    (void)state;
    struct job job, before;
    struct report report;
    start(&job);
    give_steel(&job, "1045-cd");
    job_complete(&job);
    memcpy(&before, &job, sizeof job);
    rank(&job, &report);
    assert_memory_equal(&job, &before, sizeof job);
}

static void
more_load_never_betters_a_steel(void **state)
{
    (void)state;
    struct job job;
    struct report light, heavy;
    start(&job);
    give_slot(&job);
    job_complete(&job);
    rank(&job, &light);
    job.engine.peak_pressure_Pa *= 1.3;
    rank(&job, &heavy);
    for (size_t i = 0; i < light.ranking_count; i++) {
        const struct ranking *then = &light.ranking[i], *now = entry_of(&heavy, then->id);
        assert_true(now->verdict >= then->verdict);
        assert_true(now->utilization >= then->utilization);
    }
}

static void
ranks_bushings_on_the_surface_that_rubs(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    start(&job);
    /* measured, so that a failure rests on nothing assumed */
    give_number(&job, FIELD_pin_length, &job.pin.length_m, 0.1016);
    give_number(&job, FIELD_eye_width, &job.eye.width_m, 0.0508);
    give_number(&job, FIELD_boss_gap, &job.boss.gap_m, 0.0016);
    give_number(&job, FIELD_boss_length, &job.boss.length_m, 0.0222);
    job_complete(&job);
    rank(&job, &report);
    assert_true(report.metal_ranking_count > 0);
    for (size_t i = 0; i < report.metal_ranking_count; i++) {
        assert_true(metal_find(report.metal_ranking[i].id)->pressure_max.given);
    }
    /* Babbitt does not carry 17 MPa: far above every published figure. */
    assert_int_equal(report.metal_ranking[report.metal_ranking_count - 1].verdict, VERDICT_FAILS);
}

static void
ranks_no_bushing_where_nothing_is_known(void **state)
{
    (void)state;
    struct job job;
    struct report report;
    job_init(&job);
    job_complete(&job);
    rank(&job, &report);
    assert_int_equal(report.metal_ranking_count, 0);
}

/* ---- the chosen steel ---- */

static void
strength_takes_the_worst_of_its_checks(void **state)
{
    (void)state;
    struct job job;
    struct standing standing;
    struct finding worst;
    start(&job);
    give_slot(&job);
    give_steel(&job, "1018-hr");
    job_complete(&job);
    const struct derived derived = derived_of(&job);
    strength_standing(&job, &derived, &standing, &worst);
    const struct finding finding = judged(&check_steel_strength, &job);
    assert_true(finding.judged);
    assert_int_equal(finding.verdict, standing.verdict);
    assert_close(finding.utilization, worst.utilization, 1e-12);
    assert_string_equal(finding.advice.word[0], standing.worst->name);
}

static void
strength_fails_a_soft_steel_in_a_thin_slotted_pin(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_slot(&job);
    give_steel(&job, "1018-hr");
    job.pin.diameter.min_m = job.pin.diameter.max_m = 0.016;
    job_complete(&job);
    const struct finding finding = judged(&check_steel_strength, &job);
    assert_int_equal(finding.verdict, VERDICT_FAILS);
    assert_true(finding.utilization > 1.0);
    assert_int_equal(finding.fix, FIELD_pin_steel);
}

/* Least journal hardness in C93200: 300 HB (performance table of bearing
 * materials, read); cold-drawn 1045 has 179. */
static void
hardness_warns_and_never_refuses(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_steel(&job, "1045-cd");
    job_complete(&job);
    const struct finding soft = judged(&check_steel_hardness, &job);
    assert_int_equal(soft.verdict, VERDICT_MARGINAL);
    assert_close(soft.value, 179.0, 1e-9);
    assert_close(soft.advised, 300.0, 1e-9);
    assert_false(soft.has_limits || soft.has_utilization);
    give_steel(&job, "8620-carb");
    assert_int_equal(judged(&check_steel_hardness, &job).verdict, VERDICT_OK);
}

static void
hardness_asks_nothing_without_a_bushing(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    job.state[FIELD_boss_bushing] = FIELD_ABSENT;
    give_steel(&job, "1045-cd");
    job_complete(&job);
    const struct finding finding = judged(&check_steel_hardness, &job);
    assert_false(finding.judged);
    assert_non_null(finding.not_applicable);
}

static void
hardness_of_a_floating_pin_obeys_the_harder_demand(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    job.pin.held_in = CHOICE_held_in_FLOATING;
    job.state[FIELD_pin_held_in] = FIELD_GIVEN;
    job.eye.bushing.row = metal_find("c86300");
    job.state[FIELD_eye_bushing] = FIELD_GIVEN;
    give_steel(&job, "4140-bc");
    job_complete(&job);
    /* Manganese bronze: 400 HB (same table, read). */
    assert_close(judged(&check_steel_hardness, &job).advised, 400.0, 1e-9);
}

/* Judgement, by the steel's row. */
static void
suits_by_the_word_of_the_row(void **state)
{
    (void)state;
    const struct {
        const char *id;
        enum verdict slotted, plain;
    } cases[] = {
        {"4140-bc", VERDICT_OK, VERDICT_OK},       {"1045-cd", VERDICT_OK, VERDICT_OK},
        {"8620-carb", VERDICT_OK, VERDICT_OK},     {"17-4-h900", VERDICT_MARGINAL, VERDICT_OK},
        {"52100-hard", VERDICT_FAILS, VERDICT_OK}, {"w1-hard", VERDICT_FAILS, VERDICT_OK},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct job job;
        start(&job);
        give_steel(&job, cases[i].id);
        job_complete(&job);
        assert_int_equal(judged(&check_steel_suits, &job).verdict, cases[i].plain);
        give_slot(&job);
        assert_int_equal(judged(&check_steel_suits, &job).verdict, cases[i].slotted);
    }
}

static void
doubts_a_certified_steel_that_is_hard_right_through(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_slot(&job);
    give_own_steel(&job, 240.0);
    job_complete(&job);
    assert_int_equal(judged(&check_steel_suits, &job).verdict, VERDICT_OK);
    give_own_steel(&job, 450.0);
    assert_int_equal(judged(&check_steel_suits, &job).verdict, VERDICT_MARGINAL);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranks_every_steel_once_and_best_first),
        cmocka_unit_test(puts_brittle_steels_last_for_a_slotted_pin),
        cmocka_unit_test(ranks_a_stronger_steel_of_the_same_hardness_class_higher),
        cmocka_unit_test(does_not_lend_the_chosen_pins_hardness_to_other_steels),
        cmocka_unit_test(agrees_with_the_checks_of_the_chosen_steel),
        cmocka_unit_test(ranks_by_suitability_and_hardness_without_an_engine),
        cmocka_unit_test(leaves_the_job_alone),
        cmocka_unit_test(more_load_never_betters_a_steel),
        cmocka_unit_test(ranks_bushings_on_the_surface_that_rubs),
        cmocka_unit_test(ranks_no_bushing_where_nothing_is_known),
        cmocka_unit_test(strength_takes_the_worst_of_its_checks),
        cmocka_unit_test(strength_fails_a_soft_steel_in_a_thin_slotted_pin),
        cmocka_unit_test(hardness_warns_and_never_refuses),
        cmocka_unit_test(hardness_asks_nothing_without_a_bushing),
        cmocka_unit_test(hardness_of_a_floating_pin_obeys_the_harder_demand),
        cmocka_unit_test(suits_by_the_word_of_the_row),
        cmocka_unit_test(doubts_a_certified_steel_that_is_hard_right_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
