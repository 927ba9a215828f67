#include "support/close.h"

#include "joint/cycle.h"

/*
 * Slider-crank: crank 76.2 mm, rod 381 mm, 450 rpm. Expected values: closed
 * form derived for this project and checked by central differences.
 */

#define PI 3.14159265358979323846
#define DEG (PI / 180.0)

static struct cycle
sample(void)
{
    struct cycle cycle = {.crank_m = 0.0762, .rod_m = 0.381, .lambda = 0.2, .speed_rad_s = 450.0 * 2.0 * PI / 60.0,
                          .mass_kg = 6.5, .ambient_Pa = 101325.0, .intake_Pa = 101325.0, .exponent = 1.3,
                          .compression_ratio = 4.0, .period_rad = 4.0 * PI};

    cycle.piston_area_m2 = PI / 4.0 * 0.1143 * 0.1143;
    cycle.peak_gauge_Pa = 300.0 * 6894.757293168361;
    return cycle;
}

static void
kinematics_at_30_and_120_degrees(void **state)
{
    const struct cycle cycle = sample();

    (void)state;
    assert_close(cycle_travel_m(&cycle, 30.0 * DEG), 12.11865069e-3, 1e-8);
    assert_close(cycle_velocity_m_s(&cycle, 30.0 * DEG), 2.107962742, 1e-8);
    assert_close(cycle_acceleration_m_s2(&cycle, 30.0 * DEG), 163.8083017, 1e-8);
    assert_close(cycle_rod_angle_rad(&cycle, 30.0 * DEG), 5.739170477 * DEG, 1e-8);
    assert_close(cycle_travel_m(&cycle, 120.0 * DEG), 120.0585178e-3, 1e-8);
    assert_close(cycle_velocity_m_s(&cycle, 120.0 * DEG), 2.794010821, 1e-8);
    assert_close(cycle_acceleration_m_s2(&cycle, 120.0 * DEG), -101.5226123, 1e-8);
}

static void
velocity_and_acceleration_are_derivatives_of_travel(void **state)
{
    const struct cycle cycle = sample();
    const double h = 1.0e-4;

    (void)state;
    for (double angle = 0.1; angle < 6.2; angle += 0.37) {
        const double left = cycle_travel_m(&cycle, angle - h), mid = cycle_travel_m(&cycle, angle),
                     right = cycle_travel_m(&cycle, angle + h);

        assert_close_or(cycle_velocity_m_s(&cycle, angle), cycle.speed_rad_s * (right - left) / (2.0 * h), 1e-6, 1e-6);
        assert_close_or(cycle_acceleration_m_s2(&cycle, angle),
                        cycle.speed_rad_s * cycle.speed_rad_s * (right - 2.0 * mid + left) / (h * h), 1e-4, 1e-2);
    }
}

static void
dead_centres_agree_with_the_two_term_form(void **state)
{
    const struct cycle cycle = sample();

    (void)state;
    /* r w^2 (1 + lambda) and -r w^2 (1 - lambda), exact at both */
    assert_close(cycle_acceleration_m_s2(&cycle, 0.0), 203.0572409, 1e-9);
    assert_close(cycle_acceleration_m_s2(&cycle, PI), -135.371494, 1e-8);
}

static void
compression_to_ratio_four_gives_89_psia(void **state)
{
    (void)state;
    /* p V^n = const, n 1.30, 14.7 psia: 89.12413411 psia */
    assert_close(polytropic_compression_Pa(14.7, 4.0, 1.3), 89.12413411, 1e-9);
}

static void
pressure_on_the_expansion_stroke(void **state)
{
    struct cycle cycle = sample();

    (void)state;
    /* polytropic expansion from 2.1 MPa absolute, 30 degrees after the dead
     * centre: 1.590116339 MPa absolute, gas force 15.27622955 kN */
    cycle.peak_gauge_Pa = 2.1e6 - 101325.0;
    assert_close(cycle_pressure_Pa(&cycle, 30.0 * DEG) + 101325.0, 1.590116339e6, 1e-8);
    assert_close(cycle_pressure_Pa(&cycle, 30.0 * DEG) * cycle.piston_area_m2, 15.27622955e3, 1e-8);
}

static void
pressure_follows_the_strokes_of_both_cycles(void **state)
{
    struct cycle cycle = sample();

    (void)state;
    assert_close(cycle_pressure_Pa(&cycle, 0.0), cycle.peak_gauge_Pa, 1e-12);
    assert_close_or(cycle_pressure_Pa(&cycle, 1.5 * PI), 0.0, 0.0, 1e-9); /* exhaust */
    assert_close_or(cycle_pressure_Pa(&cycle, 2.5 * PI), 0.0, 0.0, 1e-9); /* suction */
    assert_close(cycle_pressure_Pa(&cycle, 4.0 * PI - 1e-9), 101325.0 * (pow(4.0, 1.3) - 1.0), 1e-6);
    assert_close(cycle_pressure_Pa(&cycle, 4.0 * PI + 0.3), cycle_pressure_Pa(&cycle, 0.3), 1e-9);
    cycle.two_stroke = true;
    cycle.period_rad = 2.0 * PI;
    assert_true(cycle_pressure_Pa(&cycle, 1.5 * PI) > 0.0); /* already compressing */
}

static void
net_load_at_firing_and_exhaust_dead_centre(void **state)
{
    const struct cycle cycle = sample();
    struct cycle_extremes extremes;

    (void)state;
    /* statics: 4.5 in, 300 psi, 6.5 kg: +19,903.90 N and -1,319.872 N */
    cycle_extremes_of(&cycle, &extremes);
    assert_close(extremes.pin_load_max_N, 19903.90034, 1e-8);
    assert_close(extremes.pin_load_min_N, -1319.872066, 1e-8);
}

static void
extremes_are_those_of_a_fine_scan(void **state)
{
    struct cycle cycle = sample();
    struct cycle_extremes extremes;

    (void)state;
    for (int fast = 0; fast < 4; fast++) {
        double most = -HUGE_VAL, least = HUGE_VAL, thrust = 0.0, sum = 0.0;
        const int steps = 72000;

        cycle.speed_rad_s = 20.0 + 60.0 * fast; /* from gas-ruled to inertia-ruled */
        cycle_extremes_of(&cycle, &extremes);
        for (int i = 0; i < steps; i++) {
            const double angle = cycle.period_rad * (i + 0.5) / steps;
            const double load = cycle_pin_load_N(&cycle, angle);

            most = fmax(most, load);
            least = fmin(least, load);
            thrust = fmax(thrust, fabs(load * tan(cycle_rod_angle_rad(&cycle, angle))));
            sum += fabs(load) / steps;
        }
        assert_close(extremes.pin_load_max_N, most, 2e-4); /* the scan misses the dead centre itself */
        assert_close(extremes.pin_load_min_N, least, 2e-4);
        assert_close(extremes.side_thrust_max_N, thrust, 1e-5);
        assert_close(extremes.pin_load_mean_N, sum, 1e-6);
    }
}

/*
 * A fast engine of low pressure: the greatest load lies on a flat hump between
 * two of the places first looked at. Expected values by golden section and
 * tanh-sinh quadrature with 25 digits (mpmath).
 */
static void
climbs_a_flat_hump_to_its_top(void **state)
{
    struct cycle cycle = {.crank_m = 61.2615e-3, .rod_m = 4.5 * 61.2615e-3, .lambda = 1.0 / 4.5, .mass_kg = 5.56943,
                          .peak_gauge_Pa = 1.06788e6, .ambient_Pa = 101325.0, .intake_Pa = 101325.0, .exponent = 1.3,
                          .period_rad = 4.0 * PI};
    struct cycle_extremes extremes;

    (void)state;
    cycle.speed_rad_s = 1243.0 * 2.0 * PI / 60.0;
    cycle.piston_area_m2 = PI / 4.0 * (4.07046 * 0.0254) * (4.07046 * 0.0254);
    cycle.compression_ratio = pow((1.06788e6 / 4.0 + 101325.0) / 101325.0, 1.0 / 1.3);
    cycle_extremes_of(&cycle, &extremes);
    assert_close(extremes.pin_load_max_N, 6346.2921103903284, 1e-12);
    assert_close(extremes.pin_load_min_N, -7065.5836950678558, 1e-12);
    assert_close(extremes.side_thrust_max_N, 1195.4559940713900, 1e-12);
    assert_close(extremes.pin_load_mean_N, 3756.9324721167382, 1e-12);
}

/*
 * A two-stroke whose inertia all but lifts the piston off the compressed gas:
 * the strongest pull is at 3.3 degrees before the firing dead centre, between a
 * lesser one at 5 and at the dead centre itself. By golden section with 25
 * digits (mpmath).
 */
static void
finds_the_pull_beside_a_dead_centre(void **state)
{
    struct cycle cycle = {.two_stroke = true, .crank_m = 0.2785516 / 2.0, .rod_m = 0.749361, .speed_rad_s = 105.139,
                          .mass_kg = 32.0689, .ambient_Pa = 101325.0, .intake_Pa = 103073.0, .exponent = 1.3,
                          .compression_ratio = 4.478632, .peak_gauge_Pa = 2490007.0, .period_rad = 2.0 * PI};
    struct cycle_extremes extremes;

    (void)state;
    cycle.lambda = cycle.crank_m / cycle.rod_m;
    cycle.piston_area_m2 = PI / 4.0 * 0.23722 * 0.23722;
    cycle_extremes_of(&cycle, &extremes);
    assert_close(extremes.pin_load_min_N, -31037.063788511837, 1e-11);
}

/* At a standstill, as a client may say it: no load but the gas, and no pull. */
static void
pulls_nothing_at_a_standstill(void **state)
{
    struct cycle cycle = sample();
    struct cycle_extremes extremes;

    (void)state;
    cycle.speed_rad_s = 0.0;
    cycle_extremes_of(&cycle, &extremes);
    assert_true(extremes.pin_load_min_N == 0.0);
    assert_true(extremes.pin_load_max_N == cycle.piston_area_m2 * ((cycle.peak_gauge_Pa + 101325.0) - 101325.0));
}

static void
rubbing_speed_of_a_one_inch_pin(void **state)
{
    (void)state;
    /* 2 d asin(lambda) n; quadrature of |dphi/dt| agrees: 0.07671736782 m/s */
    assert_close(cycle_rubbing_speed_m_s(0.0254, 0.2, 450.0 * 2.0 * PI / 60.0), 0.07671736782, 1e-9);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinematics_at_30_and_120_degrees),
        cmocka_unit_test(velocity_and_acceleration_are_derivatives_of_travel),
        cmocka_unit_test(dead_centres_agree_with_the_two_term_form),
        cmocka_unit_test(compression_to_ratio_four_gives_89_psia),
        cmocka_unit_test(pressure_on_the_expansion_stroke),
        cmocka_unit_test(pressure_follows_the_strokes_of_both_cycles),
        cmocka_unit_test(net_load_at_firing_and_exhaust_dead_centre),
        cmocka_unit_test(extremes_are_those_of_a_fine_scan),
        cmocka_unit_test(climbs_a_flat_hump_to_its_top),
        cmocka_unit_test(finds_the_pull_beside_a_dead_centre),
        cmocka_unit_test(pulls_nothing_at_a_standstill),
        cmocka_unit_test(rubbing_speed_of_a_one_inch_pin),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
