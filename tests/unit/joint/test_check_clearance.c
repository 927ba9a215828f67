#include "support/close.h"

#include "joint/check.h"

static const double thou_m = 2.54e-5;

extern const struct check check_clearance_cold, check_clearance_hot, check_held_clearance;

static void
give_limits(struct job *job, enum job_field field, struct limits *limits, double min_m, double max_m)
{
    *limits = (struct limits){.min_m = min_m, .max_m = max_m};
    job->state[field] = FIELD_GIVEN;
}

/* A pin of exactly 1 in: wanted 0.0005 to 0.0015 in, worn beyond 0.003 in. */
static void
start(struct job *job, double clearance_min_thou, double clearance_max_thou)
{
    job_init(job);
    give_limits(job, FIELD_pin_diameter, &job->pin.diameter, 1000.0 * thou_m, 1000.0 * thou_m);
    give_limits(job, FIELD_running_fit_hole, &job->running_fit.hole, (1000.0 + clearance_min_thou) * thou_m,
                (1000.0 + clearance_max_thou) * thou_m);
}

static struct finding
judged(const struct check *check, const struct job *job)
{
    struct derived derived = {0};
    struct finding finding = {.fix = FIELD_NONE};
    running_derive(job, &derived);
    derived.strength.diameter_known = true;
    derived.strength.d_m = job->pin.diameter.min_m;
    derived.slot.held_known = job_known(job, FIELD_held_fit_hole);
    derived.slot.held_clearance_max_m = job->held_fit.hole.max_m - job->pin.diameter.min_m;
    assert_true(check_needs_known(check, job));
    check->judge(job, &derived, &finding);
    return finding;
}

/* Window and limits: settled for this service, common practice, no source. */
static void
judges_the_window_at_each_of_its_ends(void **state)
{
    (void)state;
    const struct {
        double min_thou, max_thou;
        enum verdict verdict;
    } cases[] = {
        {-0.1, 0.5, VERDICT_FAILS},   {0.0, 0.4, VERDICT_MARGINAL}, {0.4, 1.0, VERDICT_MARGINAL},
        {0.5, 1.5, VERDICT_OK},       {0.7, 1.0, VERDICT_OK},       {0.7, 1.6, VERDICT_MARGINAL},
        {0.2, 2.0, VERDICT_MARGINAL}, {2.0, 3.0, VERDICT_MARGINAL}, {2.0, 3.1, VERDICT_FAILS},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct job job;
        start(&job, cases[i].min_thou, cases[i].max_thou);
        const struct finding finding = judged(&check_clearance_cold, &job);
        assert_true(finding.judged && finding.two_sided);
        assert_int_equal(finding.verdict, cases[i].verdict);
        assert_non_null(finding.advice.text);
    }
}

/* Distance from the middle of 0 and 3 thou over half their width, by hand. */
static void
counts_utilization_from_the_middle_of_the_limits(void **state)
{
    (void)state;
    struct job job;
    start(&job, 1.0, 1.2);
    assert_close(judged(&check_clearance_cold, &job).utilization, 0.5 / 1.5, 1e-6);
    start(&job, 1.5, 1.5);
    assert_close_or(judged(&check_clearance_cold, &job).utilization, 0.0, 0.0, 1e-6);
    start(&job, 0.0, 1.0);
    assert_close(judged(&check_clearance_cold, &job).utilization, 1.0, 1e-6);
    start(&job, 1.0, 4.5);
    assert_close(judged(&check_clearance_cold, &job).utilization, 2.0, 1e-6);
}

static void
says_both_ends_of_value_wanted_and_limit(void **state)
{
    (void)state;
    struct job job;
    start(&job, 0.7, 1.2);
    const struct finding finding = judged(&check_clearance_cold, &job);
    assert_close(finding.value / thou_m, 0.7, 1e-6);
    assert_close(finding.value_high / thou_m, 1.2, 1e-6);
    assert_close(finding.advised_low / thou_m, 0.5, 1e-6);
    assert_close(finding.advised_high / thou_m, 1.5, 1e-6);
    assert_close_or(finding.limit_low, 0.0, 0.0, 0.0);
    assert_close(finding.limit_high / thou_m, 3.0, 1e-6);
}

/* The pin it advises must be ok in the same hole. */
static void
advises_a_pin_that_suits_the_hole(void **state)
{
    (void)state;
    const double clearance_thou[] = {-2.0, 0.2, 2.0, 6.0};
    for (size_t i = 0; i < 4; i++) {
        struct job job;
        start(&job, clearance_thou[i], clearance_thou[i] + 0.5);
        struct finding finding = judged(&check_clearance_cold, &job);
        assert_int_equal(finding.fix, FIELD_pin_diameter);
        assert_true(finding.has_fix_to);
        give_limits(&job, FIELD_pin_diameter, &job.pin.diameter, finding.fix_to, finding.fix_to);
        assert_int_equal(judged(&check_clearance_cold, &job).verdict, VERDICT_OK);
    }
}

static void
points_at_the_pin_of_the_running_fit_where_it_is_given(void **state)
{
    (void)state;
    struct job job;
    start(&job, 0.7, 1.2);
    give_limits(&job, FIELD_running_fit_pin, &job.running_fit.pin, 1002.0 * thou_m, 1002.0 * thou_m);
    assert_int_equal(judged(&check_clearance_cold, &job).fix, FIELD_running_fit_pin);
}

static void
allows_the_interference_that_was_asked_for(void **state)
{
    (void)state;
    struct job job;
    start(&job, -0.2, 0.2);
    assert_int_equal(judged(&check_clearance_cold, &job).verdict, VERDICT_FAILS);
    give_limits(&job, FIELD_running_fit_wanted, &job.running_fit.wanted, -0.3 * thou_m, 0.3 * thou_m);
    assert_int_equal(judged(&check_clearance_cold, &job).verdict, VERDICT_OK);
}

/* ---- hot ---- */

/* Clearance at 120 degC that starts from `cold_thou` with a hole whose metal
 * grows by `difference` per K less than the pin does. */
static void
start_hot(struct job *job, double cold_thou, double difference_per_K)
{
    start(job, cold_thou, cold_thou);
    job->running_fit.hole_metal = (struct metal_choice){0};
    job->running_fit.hole_metal.own.expansion = (struct figure){.given = true, .si = 11.7e-6 - difference_per_K};
    job->state[FIELD_running_fit_hole_metal] = FIELD_GIVEN;
    job->running_fit.pin_temperature_degC = 120.0;
    job->state[FIELD_running_fit_pin_temperature] = FIELD_GIVEN;
}

/* 1 in x 5e-6 per K x 100 K takes 0.5 thou; half of the 0.5 thou wanted cold is
 * advised, zero is the limit (settled for this service). */
static void
judges_what_is_left_at_running_heat(void **state)
{
    (void)state;
    const double cold_thou[] = {0.40, 0.55, 0.70, 0.80};
    const enum verdict wanted[] = {VERDICT_FAILS, VERDICT_MARGINAL, VERDICT_MARGINAL, VERDICT_OK};
    for (size_t i = 0; i < 4; i++) {
        struct job job;
        start_hot(&job, cold_thou[i], 5.0e-6);
        const struct finding finding = judged(&check_clearance_hot, &job);
        assert_int_equal(finding.verdict, wanted[i]);
        assert_true((finding.utilization > 1.0) == (wanted[i] == VERDICT_FAILS));
    }
}

static void
a_hot_joint_without_clearance_left_is_at_its_limit(void **state)
{
    (void)state;
    struct job job;
    start_hot(&job, 0.5, 5.0e-6);
    /* The hole is 0.5 thou larger than the pin, so grows by 4e-7 thou more. */
    assert_close_or(judged(&check_clearance_hot, &job).utilization, 1.0, 0.0, 1e-3);
}

static void
advises_a_pin_that_keeps_its_clearance_hot(void **state)
{
    (void)state;
    struct job job;
    start_hot(&job, 0.2, 5.0e-6);
    const struct finding finding = judged(&check_clearance_hot, &job);
    assert_true(finding.has_fix_to);
    give_limits(&job, FIELD_pin_diameter, &job.pin.diameter, finding.fix_to, finding.fix_to);
    assert_int_equal(judged(&check_clearance_hot, &job).verdict, VERDICT_OK);
}

static void
needs_a_temperature_for_the_hot_clearance(void **state)
{
    (void)state;
    struct job job;
    start(&job, 0.7, 1.2);
    assert_false(check_needs_known(&check_clearance_hot, &job));
}

/* ---- where the pin is held ---- */

/* Judgement: 0.0005 d advised, 0.0015 d the limit at 1 in. */
static void
judges_how_far_the_eye_must_close(void **state)
{
    (void)state;
    const double held_thou[] = {-0.3, 0.0, 0.49, 0.51, 1.49, 1.51};
    const enum verdict wanted[] = {VERDICT_OK,       VERDICT_OK,       VERDICT_OK,
                                   VERDICT_MARGINAL, VERDICT_MARGINAL, VERDICT_FAILS};
    for (size_t i = 0; i < 6; i++) {
        struct job job;
        start(&job, 1.0, 1.0);
        give_limits(&job, FIELD_held_fit_hole, &job.held_fit.hole, 1000.0 * thou_m, (1000.0 + held_thou[i]) * thou_m);
        const struct finding finding = judged(&check_held_clearance, &job);
        assert_int_equal(finding.verdict, wanted[i]);
        assert_true(finding.utilization >= 0.0);
    }
}

/* Judgement: floors of 0.0003 and 0.0010 in on a half-inch pin. */
static void
does_not_ask_the_impossible_of_a_small_eye(void **state)
{
    (void)state;
    struct job job;
    job_init(&job);
    give_limits(&job, FIELD_pin_diameter, &job.pin.diameter, 500.0 * thou_m, 500.0 * thou_m);
    give_limits(&job, FIELD_held_fit_hole, &job.held_fit.hole, 500.29 * thou_m, 500.29 * thou_m);
    assert_int_equal(judged(&check_held_clearance, &job).verdict, VERDICT_OK);
    give_limits(&job, FIELD_held_fit_hole, &job.held_fit.hole, 500.9 * thou_m, 500.9 * thou_m);
    assert_int_equal(judged(&check_held_clearance, &job).verdict, VERDICT_MARGINAL);
}

/* Found by fuzzing: 10 mm of clearance wanted of a pin of 5 mm would take a pin
 * of less than nothing. */
static void
advises_no_pin_that_cannot_be(void **state)
{
    (void)state;
    struct job job;
    job_init(&job);
    give_limits(&job, FIELD_running_fit_pin, &job.running_fit.pin, 0.005, 0.005);
    give_limits(&job, FIELD_running_fit_hole, &job.running_fit.hole, 0.005, 0.005);
    give_limits(&job, FIELD_running_fit_wanted, &job.running_fit.wanted, 0.009, 0.010);
    job.pin.diameter = job.running_fit.pin;
    const struct finding finding = judged(&check_clearance_cold, &job);
    assert_int_equal(finding.fix, FIELD_running_fit_pin);
    assert_false(finding.has_fix_to);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(judges_the_window_at_each_of_its_ends),
        cmocka_unit_test(counts_utilization_from_the_middle_of_the_limits),
        cmocka_unit_test(says_both_ends_of_value_wanted_and_limit),
        cmocka_unit_test(advises_a_pin_that_suits_the_hole),
        cmocka_unit_test(points_at_the_pin_of_the_running_fit_where_it_is_given),
        cmocka_unit_test(allows_the_interference_that_was_asked_for),
        cmocka_unit_test(judges_what_is_left_at_running_heat),
        cmocka_unit_test(a_hot_joint_without_clearance_left_is_at_its_limit),
        cmocka_unit_test(advises_a_pin_that_keeps_its_clearance_hot),
        cmocka_unit_test(needs_a_temperature_for_the_hot_clearance),
        cmocka_unit_test(judges_how_far_the_eye_must_close),
        cmocka_unit_test(does_not_ask_the_impossible_of_a_small_eye),
        cmocka_unit_test(advises_no_pin_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
