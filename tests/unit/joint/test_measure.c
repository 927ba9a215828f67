#include "support/close.h"

#include "joint/measure.h"
#include "joint/thermal.h"

static const double inch_m = 0.0254;
static const double tenth_m = 0.0254e-4;

/* Four stations, two readings each; given out of order on purpose. Worked out
 * by hand from the readings: two-point method, station means, least squares. */
static const struct reading waisted[] = {
    {.has_at = true, .at_m = 4.0 * 0.0254, .size_m = 1.2497 * 0.0254},
    {.has_at = true, .at_m = 0.25 * 0.0254, .size_m = 1.2498 * 0.0254},
    {.has_at = true, .at_m = 1.5 * 0.0254, .size_m = 1.2496 * 0.0254},
    {.has_at = true, .at_m = 2.75 * 0.0254, .size_m = 1.2495 * 0.0254},
    {.has_at = true, .at_m = 0.25 * 0.0254, .size_m = 1.2497 * 0.0254},
    {.has_at = true, .at_m = 1.5 * 0.0254, .size_m = 1.2494 * 0.0254},
    {.has_at = true, .at_m = 2.75 * 0.0254, .size_m = 1.2492 * 0.0254},
    {.has_at = true, .at_m = 4.0 * 0.0254, .size_m = 1.2496 * 0.0254},
};
enum { WAISTED = sizeof waisted / sizeof waisted[0] };

static void
groups_readings_into_stations_in_order(void **state)
{
    (void)state;
    struct station station[STATION_MAX];
    size_t most = 0;

    assert_int_equal(measure_stations(waisted, WAISTED, 1.0, station, &most), 4);
    assert_int_equal(most, 2);
    for (size_t i = 1; i < 4; i++) {
        assert_true(station[i].at_m > station[i - 1].at_m);
    }
    /* Largest difference at a station 1.2495 - 1.2492 in; mean of the means
     * 1.2495625 in. */
    assert_close(station[2].out_of_round_m / inch_m, 0.0003, 1e-6);
    assert_int_equal(station[2].reading_count, 2);
    assert_close(station[2].leave_m, station[2].size_mean_m, 1e-12);
    assert_close(station[0].size_min_m / inch_m, 1.2497, 1e-9);
    assert_close(station[0].size_max_m / inch_m, 1.2498, 1e-9);
    assert_close(measure_mean_m(station, 4) / inch_m, 1.2495625, 1e-9);
}

static void
fits_the_taper_by_least_squares(void **state)
{
    (void)state;
    struct station station[STATION_MAX];
    size_t most = 0;
    double taper_m = 0.0;
    const size_t count = measure_stations(waisted, WAISTED, 1.0, station, &most);

    /* -3.6e-5 in per inch over the 3.75 in from first to last. */
    assert_true(measure_taper_m(station, count, &taper_m));
    assert_close(taper_m / inch_m, -3.6e-5 * 3.75, 1e-5);
}

static void
a_taper_needs_two_places(void **state)
{
    (void)state;
    struct station station[STATION_MAX];
    size_t most = 0;
    double taper_m = 0.0;
    const struct reading near[] = {{.has_at = true, .at_m = 0.01, .size_m = 0.03},
                                   {.has_at = true, .at_m = 0.010005, .size_m = 0.031},
                                   {.size_m = 0.032}};

    assert_int_equal(measure_stations(near, 3, 1.0, station, &most), 2);
    assert_false(station[1].has_at);
    assert_false(measure_taper_m(station, 2, &taper_m));
    assert_null(measure_form(station, 2, tenth_m));
}

/* Property: adding the same slope to every reading adds it to the taper, and
 * turning the part end for end turns the sign. */
static void
taper_is_linear_and_turns_with_the_part(void **state)
{
    (void)state;
    struct station station[STATION_MAX];
    struct reading steeper[WAISTED], turned[WAISTED];
    size_t most = 0;
    double taper_m = 0.0, steeper_m = 0.0, turned_m = 0.0;

    for (size_t i = 0; i < WAISTED; i++) {
        steeper[i] = turned[i] = waisted[i];
        steeper[i].size_m += 1e-4 * waisted[i].at_m;
        turned[i].at_m = 4.25 * inch_m - waisted[i].at_m;
    }
    size_t count = measure_stations(waisted, WAISTED, 1.0, station, &most);
    assert_true(measure_taper_m(station, count, &taper_m));
    count = measure_stations(steeper, WAISTED, 1.0, station, &most);
    assert_true(measure_taper_m(station, count, &steeper_m));
    count = measure_stations(turned, WAISTED, 1.0, station, &most);
    assert_true(measure_taper_m(station, count, &turned_m));
    assert_close(steeper_m - taper_m, 1e-4 * 3.75 * inch_m, 1e-9);
    assert_close(turned_m, -taper_m, 1e-9);
}

static const char *
form_of(double first, double middle, double last)
{
    const struct station station[] = {
        {.has_at = true, .at_m = 0.0, .size_mean_m = first * tenth_m},
        {.has_at = true, .at_m = 0.05, .size_mean_m = middle * tenth_m},
        {.has_at = true, .at_m = 0.10, .size_mean_m = last * tenth_m},
    };
    return measure_form(station, 3, tenth_m);
}

static void
names_the_form(void **state)
{
    (void)state;
    assert_string_equal(form_of(12490.0, 12491.0, 12490.0), "straight");
    assert_string_equal(form_of(12490.0, 12492.0, 12494.0), "tapered");
    assert_string_equal(form_of(12490.0, 12493.0, 12491.0), "barrel");
    assert_string_equal(form_of(12493.0, 12490.0, 12492.0), "waist");
}

/*
 * A round of odd lobes, r = R + a cos 3 t, has one diameter all round,
 * 2R + a cos 3t + a cos 3(t + 180 deg) = 2R: two points see nothing of it
 * though its radius runs out by 2a (geometry).
 */
static void
three_lobes_stay_unseen(void **state)
{
    (void)state;
    struct reading around[12];
    struct station station[STATION_MAX];
    size_t most = 0;
    const double radius_m = 0.019, lobe_m = 5e-6, pi = acos(-1.0);

    for (size_t i = 0; i < 12; i++) {
        const double t = pi * (double)i / 12.0;
        around[i] = (struct reading){
            .has_around = true,
            .around_rad = t,
            .size_m = 2.0 * radius_m + lobe_m * cos(3.0 * t) + lobe_m * cos(3.0 * (t + pi)),
        };
    }
    assert_int_equal(measure_stations(around, 12, 1.0, station, &most), 1);
    assert_int_equal(most, 12);
    assert_true(station[0].out_of_round_m < 1e-12);
}

/* Each part by the GUM (rectangular half-width a: a / sqrt 3; resolution d:
 * d / (2 sqrt 3)): step and limit of error 0.0001 in, 1.25 in at 6.5 uin/in/degF
 * and 4 degF: 28.8675, 57.7350 and 18.7639 uin. */
static void
adds_the_uncertainty_up(void **state)
{
    (void)state;
    struct measure_budget budget = {.resolution_m = tenth_m};
    assert_close(measure_uncertainty_m(&budget) / inch_m, 2.0 * 2.88675134595e-5, 1e-6);
    budget = (struct measure_budget){.instrument_m = tenth_m};
    assert_close(measure_uncertainty_m(&budget) / inch_m, 2.0 * 5.77350269190e-5, 1e-6);
    budget =
        (struct measure_budget){.temperature_K = 4.0 / 1.8, .expansion_per_K = 6.5e-6 * 1.8, .size_m = 1.25 * inch_m};
    assert_close(measure_uncertainty_m(&budget) / inch_m, 2.0 * 1.87638837487e-5, 1e-6);

    /* With 50 uin of scatter beside them the budget's total is 83.77798 uin. */
    budget.resolution_m = budget.instrument_m = tenth_m;
    assert_close(hypot(measure_uncertainty_m(&budget) / 2.0 / inch_m, 5e-5), 8.377798040e-5, 1e-6);
}

/* 37.975 to 37.991 mm with U = 3 um [ISO 14253-1, U with k = 2, from memory]:
 * proved from 37.978 to 37.988, rejected below 37.972. */
static void
keeps_the_uncertainty_back_at_both_ends(void **state)
{
    (void)state;
    const struct measure_window window = {37.975e-3, 37.991e-3, 3e-6};
    const struct limits pass = measure_pass(&window);

    assert_close(pass.min_m, 37.978e-3, 1e-9);
    assert_close(pass.max_m, 37.988e-3, 1e-9);
    assert_int_equal(measure_zone(&window, 37.986e-3, 37.986e-3), MEASURE_PROVED);
    assert_int_equal(measure_zone(&window, 37.978e-3, 37.988e-3), MEASURE_PROVED);
    assert_int_equal(measure_zone(&window, 37.977e-3, 37.986e-3), MEASURE_IN_DOUBT);
    assert_int_equal(measure_zone(&window, 37.973e-3, 37.986e-3), MEASURE_IN_DOUBT);
    assert_int_equal(measure_zone(&window, 37.971e-3, 37.986e-3), MEASURE_SHORT);
    /* Metal above can come off, so there is no doubt to settle there. */
    assert_int_equal(measure_zone(&window, 37.980e-3, 37.989e-3), MEASURE_EXCESS);
    assert_int_equal(measure_zone(&window, 37.980e-3, 37.995e-3), MEASURE_EXCESS);
    assert_int_equal(measure_zone(&window, 37.971e-3, 37.995e-3), MEASURE_SHORT);
    /* Doubt at the end where metal is missing comes first. */
    assert_int_equal(measure_zone(&window, 37.977e-3, 37.995e-3), MEASURE_IN_DOUBT);
}

static void
a_coarse_instrument_proves_only_the_far_side(void **state)
{
    (void)state;
    const struct measure_window window = {37.975e-3, 37.991e-3, 8e-6};

    assert_int_equal(measure_zone(&window, 37.983e-3, 37.983e-3), MEASURE_COARSE);
    assert_int_equal(measure_zone(&window, 37.983e-3, 37.998e-3), MEASURE_COARSE);
    assert_int_equal(measure_zone(&window, 37.983e-3, 38.000e-3), MEASURE_EXCESS);
    assert_int_equal(measure_zone(&window, 37.966e-3, 37.983e-3), MEASURE_SHORT);
}

static void
rounds_limits_inward_to_the_dial(void **state)
{
    (void)state;
    const struct limits limits = {.min_m = 12490.3 * tenth_m, .max_m = 12494.7 * tenth_m};
    const struct limits narrow = {.min_m = 12490.3 * tenth_m, .max_m = 12490.7 * tenth_m};
    const struct limits inward = measure_inward(&limits, tenth_m);

    assert_close(inward.min_m, 12491.0 * tenth_m, 1e-9);
    assert_close(inward.max_m, 12494.0 * tenth_m, 1e-9);
    assert_close(measure_inward(&narrow, tenth_m).min_m, narrow.min_m, 1e-12);
    assert_close(measure_inward(&limits, 0.0).max_m, limits.max_m, 1e-12);
}

/* 38 mm read at 40 degC, 11.7 um/m/K, instrument at 20 degC: 37.99111008 mm
 * (worked out by hand). */
static void
brings_a_warm_reading_to_20_degrees(void **state)
{
    (void)state;
    struct station station[STATION_MAX];
    size_t most = 0;
    const struct reading warm = {.size_m = 38.0e-3};
    const double ratio = thermal_size_from_reading_m(1.0, 11.7e-6, 40.0, 11.5e-6, 20.0);

    assert_int_equal(measure_stations(&warm, 1, ratio, station, &most), 1);
    assert_close(station[0].size_mean_m, 37.99111008024122e-3, 1e-8);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(groups_readings_into_stations_in_order),
        cmocka_unit_test(fits_the_taper_by_least_squares),
        cmocka_unit_test(a_taper_needs_two_places),
        cmocka_unit_test(taper_is_linear_and_turns_with_the_part),
        cmocka_unit_test(names_the_form),
        cmocka_unit_test(three_lobes_stay_unseen),
        cmocka_unit_test(adds_the_uncertainty_up),
        cmocka_unit_test(keeps_the_uncertainty_back_at_both_ends),
        cmocka_unit_test(a_coarse_instrument_proves_only_the_far_side),
        cmocka_unit_test(rounds_limits_inward_to_the_dial),
        cmocka_unit_test(brings_a_warm_reading_to_20_degrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
