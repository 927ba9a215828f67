#include "support/close.h"

#include "joint/clearance_rule.h"
#include "joint/derived.h"

static const double inch_m = 0.0254;

static void
give_limits(struct job *job, enum job_field field, struct limits *limits, double min_m, double max_m)
{
    *limits = (struct limits){.min_m = min_m, .max_m = max_m};
    job->state[field] = FIELD_GIVEN;
}

static void
give_metal(struct job *job, enum job_field field, struct metal_choice *choice, double modulus_Pa, double poisson_ratio,
           double expansion_per_K)
{
    *choice = (struct metal_choice){0};
    choice->own.modulus = (struct figure){.given = true, .si = modulus_Pa};
    choice->own.poisson = (struct figure){.given = true, .si = poisson_ratio};
    choice->own.expansion = (struct figure){.given = true, .si = expansion_per_K};
    job->state[field] = FIELD_GIVEN;
}

static void
give_temperature(struct job *job, double degC)
{
    job->running_fit.pin_temperature_degC = degC;
    job->state[FIELD_running_fit_pin_temperature] = FIELD_GIVEN;
}

/* 38 mm pin, 0.030 mm of clearance, hole metal C93200: no bushing described. */
static void
start(struct job *job)
{
    job_init(job);
    give_limits(job, FIELD_pin_diameter, &job->pin.diameter, 0.038, 0.038);
    give_limits(job, FIELD_running_fit_hole, &job->running_fit.hole, 0.03803, 0.03803);
    give_metal(job, FIELD_running_fit_hole_metal, &job->running_fit.hole_metal, 100.0e9, 0.34, 18.0e-6);
}

/* The bushing of it: 38 x 46 mm in a housing of 75 mm, 0.040 mm of press. */
static void
add_bushing(struct job *job, double press_m, double housing_expansion_per_K)
{
    give_limits(job, FIELD_press_fit_housing_bore, &job->press_fit.housing_bore, 0.046, 0.046);
    give_limits(job, FIELD_press_fit_bushing_outside, &job->press_fit.bushing_outside, 0.046 + press_m,
                0.046 + press_m);
    job->press_fit.bushing_bore_m = 0.038;
    job->state[FIELD_press_fit_bushing_bore] = FIELD_GIVEN;
    job->press_fit.housing_outside_m = 0.075;
    job->state[FIELD_press_fit_housing_outside] = FIELD_GIVEN;
    give_metal(job, FIELD_press_fit_bushing_metal, &job->press_fit.bushing_metal, 100.0e9, 0.34, 18.0e-6);
    give_metal(job, FIELD_press_fit_housing_metal, &job->press_fit.housing_metal, 100.0e9, 0.26,
               housing_expansion_per_K);
}

static struct running
running_of(const struct job *job)
{
    struct derived derived = {0};
    running_derive(job, &derived);
    return derived.running;
}

static void
pairs_the_smallest_hole_with_the_largest_pin(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_limits(&job, FIELD_pin_diameter, &job.pin.diameter, 0.037975, 0.037991);
    give_limits(&job, FIELD_running_fit_hole, &job.running_fit.hole, 0.038, 0.038025);
    const struct running running = running_of(&job);
    /* 38 mm H7/g6: 9 to 50 um [ISO 286, read]. */
    assert_true(running.cold_known);
    assert_close(running.clearance_min_m, 9.0e-6, 1e-9);
    assert_close(running.clearance_max_m, 50.0e-6, 1e-9);
}

static void
prefers_the_pin_of_the_running_fit(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_limits(&job, FIELD_running_fit_pin, &job.running_fit.pin, 0.03799, 0.03799);
    assert_close(running_of(&job).clearance_min_m, 40.0e-6, 1e-9);
}

/* Trade rule, common practice, no source: 0.0005 and 0.001 in per inch. */
static void
aims_at_the_trade_rule_per_inch(void **state)
{
    (void)state;
    const struct clearance_rule aim = clearance_rule_aim(1.25 * inch_m);
    assert_close(aim.min_m / inch_m, 0.000625, 1e-9);
    assert_close(aim.max_m / inch_m, 0.00125, 1e-9);
}

/* Settled window, judgement: 0.0005 d to 0.0015 d, worn at 0.003 d. */
static void
wants_a_share_of_the_diameter_on_a_large_pin(void **state)
{
    (void)state;
    const struct clearance_rule rule = clearance_rule_running(2.0 * inch_m);
    assert_close(rule.min_m / inch_m, 0.001, 1e-9);
    assert_close(rule.max_m / inch_m, 0.003, 1e-9);
    assert_close(rule.worn_m / inch_m, 0.006, 1e-9);
}

/* Floors of the same window: 0.0004, 0.0010 and 0.003 in. */
static void
wants_no_less_than_the_floors_on_a_small_pin(void **state)
{
    (void)state;
    const struct clearance_rule rule = clearance_rule_running(0.5 * inch_m);
    assert_close(rule.min_m / inch_m, 0.0004, 1e-9);
    assert_close(rule.max_m / inch_m, 0.0010, 1e-9);
    assert_close(rule.worn_m / inch_m, 0.003, 1e-9);
}

static void
takes_the_clearance_wanted_and_moves_the_worn_limit_with_it(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_limits(&job, FIELD_running_fit_wanted, &job.running_fit.wanted, 50.0e-6, 200.0e-6);
    const struct running running = running_of(&job);
    assert_close(running.wanted_min_m, 50.0e-6, 1e-12);
    assert_close(running.worn_max_m, 200.0e-6, 1e-12);
}

static void
gives_no_hot_figure_without_a_temperature(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    assert_true(running_of(&job).cold_known);
    assert_false(running_of(&job).hot_known);
}

/* Bushing free to expand, 38 mm, 0.030 mm, 100 degC: 0.0491952 mm (derived). */
static void
lets_an_unhoused_bronze_hole_grow_freely(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_temperature(&job, 100.0);
    const struct running running = running_of(&job);
    assert_true(running.hot_known);
    assert_false(running.bushing_restrained);
    assert_close(running.hot_clearance_min_m, 0.0491952e-3, 1e-6);
}

/* The same with the iron of the eye as hole metal: 0.0291 mm (derived, four
 * figures, for a hole of 38.00 mm). */
static void
follows_the_eye_where_its_metal_sets_the_growth(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    give_metal(&job, FIELD_running_fit_hole_metal, &job.running_fit.hole_metal, 100.0e9, 0.26, 11.4e-6);
    give_temperature(&job, 100.0);
    assert_close_or(running_of(&job).hot_clearance_min_m, 0.0291e-3, 0.0, 0.0001e-3);
}

/* Pressed into an iron eye: 0.0321 mm, against 0.0492 free and 0.0291 with the
 * eye (derived by Lame with the change of interference, four figures, for a
 * hole of 38.00 mm). */
static void
holds_a_pressed_bushing_back_by_its_housing(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    add_bushing(&job, 40.0e-6, 11.4e-6);
    give_temperature(&job, 100.0);
    const struct running running = running_of(&job);
    assert_true(running.bushing_restrained);
    assert_close_or(running.hot_clearance_min_m, 0.0321e-3, 0.0, 0.0001e-3);
}

/* Limit: with equal expansion the press does not change, and the bore grows as
 * free metal does. */
static void
does_not_hold_back_a_bushing_that_grows_like_its_housing(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    add_bushing(&job, 40.0e-6, 18.0e-6);
    give_temperature(&job, 100.0);
    assert_close(running_of(&job).hot_clearance_min_m, 0.0491952e-3, 1e-6);
}

/* Limit: a bushing that is loose cold and hot is free. */
static void
does_not_hold_back_a_loose_bushing(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    add_bushing(&job, -100.0e-6, 11.4e-6);
    give_temperature(&job, 100.0);
    assert_close(running_of(&job).hot_clearance_min_m, 0.0491952e-3, 1e-6);
}

/* An aluminium housing grows more than bronze and gives back closure, so the
 * bore opens beyond the free bushing. */
static void
opens_the_bore_where_an_aluminium_housing_lets_go(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    add_bushing(&job, 40.0e-6, 21.5e-6);
    give_temperature(&job, 100.0);
    assert_true(running_of(&job).hot_clearance_min_m > 0.0492e-3);
}

static void
ignores_a_bushing_of_another_bore(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    add_bushing(&job, 40.0e-6, 11.4e-6);
    job.press_fit.bushing_bore_m = 0.030;
    give_temperature(&job, 100.0);
    assert_false(running_of(&job).bushing_restrained);
}

static void
takes_one_temperature_for_both_parts(void **state)
{
    (void)state;
    struct job one, both;
    start(&one);
    both = one;
    one.running_fit.hole_temperature_degC = 100.0;
    one.state[FIELD_running_fit_hole_temperature] = FIELD_GIVEN;
    give_temperature(&both, 100.0);
    assert_close(running_of(&one).hot_clearance_min_m, running_of(&both).hot_clearance_min_m, 1e-12);
}

static void
a_hotter_pin_takes_up_clearance(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    job.running_fit.hole_temperature_degC = 80.0;
    job.state[FIELD_running_fit_hole_temperature] = FIELD_GIVEN;
    double before_m = 1.0;
    for (int step = 0; step <= 10; step++) {
        give_temperature(&job, 80.0 + 10.0 * step);
        const double after_m = running_of(&job).hot_clearance_min_m;
        assert_true(after_m < before_m);
        before_m = after_m;
    }
}

static void
knows_nothing_without_a_pin(void **state)
{
    (void)state;
    struct job job;
    start(&job);
    job.state[FIELD_pin_diameter] = FIELD_ABSENT;
    const struct running running = running_of(&job);
    assert_false(running.wanted_known);
    assert_false(running.cold_known);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pairs_the_smallest_hole_with_the_largest_pin),
        cmocka_unit_test(prefers_the_pin_of_the_running_fit),
        cmocka_unit_test(aims_at_the_trade_rule_per_inch),
        cmocka_unit_test(wants_a_share_of_the_diameter_on_a_large_pin),
        cmocka_unit_test(wants_no_less_than_the_floors_on_a_small_pin),
        cmocka_unit_test(takes_the_clearance_wanted_and_moves_the_worn_limit_with_it),
        cmocka_unit_test(gives_no_hot_figure_without_a_temperature),
        cmocka_unit_test(lets_an_unhoused_bronze_hole_grow_freely),
        cmocka_unit_test(follows_the_eye_where_its_metal_sets_the_growth),
        cmocka_unit_test(holds_a_pressed_bushing_back_by_its_housing),
        cmocka_unit_test(does_not_hold_back_a_bushing_that_grows_like_its_housing),
        cmocka_unit_test(does_not_hold_back_a_loose_bushing),
        cmocka_unit_test(opens_the_bore_where_an_aluminium_housing_lets_go),
        cmocka_unit_test(ignores_a_bushing_of_another_bore),
        cmocka_unit_test(takes_one_temperature_for_both_parts),
        cmocka_unit_test(a_hotter_pin_takes_up_clearance),
        cmocka_unit_test(knows_nothing_without_a_pin),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
