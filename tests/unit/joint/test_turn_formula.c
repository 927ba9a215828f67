#include "support/close.h"

#include "joint/section.h"
#include "joint/turn_formula.h"

#define PI 3.14159265358979323846

static const double inch_m = 0.0254;
static const double ft_min_m_s = 0.3048 / 60.0;
static const double rpm_rad_s = 2.0 * PI / 60.0;

/* n = 12 V/(pi D), 100 ft/min on 1.25 in: 305.577 rev/min (derived). */
static void
spindle_speed_is_cutting_speed_over_circumference(void **state)
{
    (void)state;
    assert_close(turn_spindle_rad_s(100.0 * ft_min_m_s, 1.25 * inch_m) / rpm_rad_s, 305.5774907, 1e-9);
}

static void
half_the_diameter_turns_twice_as_fast(void **state)
{
    (void)state;
    assert_close(turn_spindle_rad_s(0.5, 0.02), 2.0 * turn_spindle_rad_s(0.5, 0.04), 1e-15);
}

/* f2/32r, 0.1 mm a turn, nose 0.8 mm: Ra 0.390625 um (derived). */
static void
roughness_follows_the_convention(void **state)
{
    (void)state;
    assert_close(turn_roughness_m(0.1e-3, 0.8e-3), 0.390625e-6, 1e-9);
}

/* The arithmetic mean of parabolic scallops by quadrature, f2/(18 sqrt(3) r)
 * = f2/31.18r: the convention is 2.6 % under it. */
static void
convention_lies_near_the_mean_of_parabolic_scallops(void **state)
{
    (void)state;
    const double feed = 0.1, radius = 0.8;
    const int steps = 20000;
    double mean = 0.0, deviation = 0.0;

    for (int i = 0; i < steps; i++) {
        const double x = ((double)i + 0.5) / steps * feed - feed / 2.0;
        mean += x * x / (2.0 * radius) / steps;
    }
    for (int i = 0; i < steps; i++) {
        const double x = ((double)i + 0.5) / steps * feed - feed / 2.0;
        deviation += fabs(x * x / (2.0 * radius) - mean) / steps;
    }
    assert_close(deviation, feed * feed / (18.0 * sqrt(3.0) * radius), 1e-6);
    assert_close(turn_roughness_m(feed, radius), deviation, 0.027);
}

/* sqrt(32 r Ra), 0.4 um, 0.8 mm: 0.1011929 mm a turn (derived). */
static void
feed_for_a_roughness_gives_it_back(void **state)
{
    (void)state;
    assert_close(turn_feed_m(0.4e-6, 0.8e-3), 0.101192885e-3, 1e-8);
    for (double roughness_m = 0.1e-6; roughness_m < 10e-6; roughness_m *= 1.7) {
        assert_close(turn_roughness_m(turn_feed_m(roughness_m, 0.4e-3), 0.4e-3), roughness_m, 1e-12);
    }
}

/* 0.0012 in over 3.5 in, 7 in between centers: 0.0012 in (derived). */
static void
tailstock_moves_half_the_taper_of_the_whole_length(void **state)
{
    (void)state;
    assert_close(turn_tailstock_offset_m(0.0012 * inch_m, 3.5 * inch_m, 7.0 * inch_m) / inch_m, 0.0012, 1e-9);
    assert_close(turn_tailstock_offset_m(-0.0012 * inch_m, 3.5 * inch_m, 7.0 * inch_m) / inch_m, -0.0012, 1e-9);
}

/* 1.5 in to 1.25 in, 0.020 in left on the diameter, 0.050 in deep at most: 3
 * cuts of 0.038333 in on the radius (derived). */
static void
roughing_takes_the_fewest_equal_passes(void **state)
{
    (void)state;
    const double radius_in = (1.5 - 1.25 - 0.020) / 2.0;

    assert_close(turn_passes(radius_in * inch_m, 0.050 * inch_m), 3.0, 1e-15);
    assert_close(radius_in / turn_passes(radius_in, 0.050), 0.0383333333, 1e-8);
}

static void
passes_that_just_do_it_are_not_one_more(void **state)
{
    (void)state;
    for (int count = 1; count <= 30; count++) {
        assert_close(turn_passes(0.1 * count, 0.1), (double)count, 1e-15);
        assert_close(turn_passes(0.1 * count + 0.001, 0.1), (double)(count + 1), 1e-15);
    }
}

static void
nothing_to_take_takes_no_pass(void **state)
{
    (void)state;
    assert_true(turn_passes(0.0, 1e-3) <= 0.0);
    assert_true(turn_passes(-1e-3, 1e-3) <= 0.0);
}

/* 1/2 in cutter, 0.1 in deep: cuts at 0.4 in (derived, exact geometry). */
static void
ball_nose_cuts_at_the_chord_of_its_depth(void **state)
{
    (void)state;
    assert_close(turn_ball_diameter_m(0.5 * inch_m, 0.1 * inch_m) / inch_m, 0.4, 1e-9);
    /* the same chord by the section of a round */
    for (double depth = 0.02; depth < 0.25; depth += 0.02) {
        assert_close(turn_ball_diameter_m(0.5, depth), 2.0 * segment_half_chord_m(0.25, depth), 1e-12);
    }
}

static void
ball_nose_cuts_at_its_whole_diameter_from_half_of_it_on(void **state)
{
    (void)state;
    assert_close(turn_ball_diameter_m(0.01, 0.005), 0.01, 1e-15);
    assert_close(turn_ball_diameter_m(0.01, 0.02), 0.01, 1e-15);
    assert_close(turn_ball_diameter_m(0.01, 0.00499999), 0.01, 1e-9);
    assert_true(turn_ball_diameter_m(0.01, 0.0) <= 0.0);
}

/* 1.25 in pin, 0.1875 in deep: chord 0.8926786 in, segment 0.1154292 in2,
 * 0.9059398 of the area left (derived, circle geometry). */
static void
slot_across_the_pin_is_a_segment_of_a_circle(void **state)
{
    (void)state;
    assert_close(2.0 * segment_half_chord_m(0.625, 0.1875), 0.8926785536, 1e-9);
    assert_close(segment_area_m2(0.625, 0.1875), 0.1154292344, 1e-8);
    assert_close(1.0 - segment_area_m2(0.625, 0.1875) / round_area_m2(1.25, 0.0), 0.9059397978, 1e-9);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spindle_speed_is_cutting_speed_over_circumference),
        cmocka_unit_test(half_the_diameter_turns_twice_as_fast),
        cmocka_unit_test(roughness_follows_the_convention),
        cmocka_unit_test(convention_lies_near_the_mean_of_parabolic_scallops),
        cmocka_unit_test(feed_for_a_roughness_gives_it_back),
        cmocka_unit_test(tailstock_moves_half_the_taper_of_the_whole_length),
        cmocka_unit_test(roughing_takes_the_fewest_equal_passes),
        cmocka_unit_test(passes_that_just_do_it_are_not_one_more),
        cmocka_unit_test(nothing_to_take_takes_no_pass),
        cmocka_unit_test(ball_nose_cuts_at_the_chord_of_its_depth),
        cmocka_unit_test(ball_nose_cuts_at_its_whole_diameter_from_half_of_it_on),
        cmocka_unit_test(slot_across_the_pin_is_a_segment_of_a_circle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
