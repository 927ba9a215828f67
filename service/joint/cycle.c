#include "joint/cycle.h"

#include <math.h>

#define PI 3.14159265358979323846

static double
root_q(double lambda, double sine)
{
    return sqrt(1.0 - lambda * lambda * sine * sine);
}

double
cycle_travel_m(const struct cycle *cycle, double angle_rad)
{
    return cycle->crank_m * (1.0 - cos(angle_rad)) + cycle->rod_m * (1.0 - root_q(cycle->lambda, sin(angle_rad)));
}

double
cycle_velocity_m_s(const struct cycle *cycle, double angle_rad)
{
    const double s = sin(angle_rad), c = cos(angle_rad);

    return cycle->crank_m * cycle->speed_rad_s * (s + cycle->lambda * s * c / root_q(cycle->lambda, s));
}

double
cycle_acceleration_m_s2(const struct cycle *cycle, double angle_rad)
{
    const double s = sin(angle_rad), c = cos(angle_rad), lambda = cycle->lambda;
    const double q = root_q(lambda, s), s2 = s * s;

    return cycle->crank_m * cycle->speed_rad_s * cycle->speed_rad_s *
           (c + (lambda * (c * c - s2) + lambda * lambda * lambda * s2 * s2) / (q * q * q));
}

double
cycle_rod_angle_rad(const struct cycle *cycle, double angle_rad)
{
    return asin(cycle->lambda * sin(angle_rad));
}

double
polytropic_compression_Pa(double intake_Pa, double ratio, double exponent)
{
    return intake_Pa * pow(ratio, exponent);
}

/*
 * What the gas does in a stroke. Each stroke is half a turn; at a dead centre
 * the pressure jumps (the charge burns, a valve opens), so a stroke is named
 * with the angle and not worked out from it.
 */
enum stroke_kind { STROKE_EXPANSION, STROKE_OPEN, STROKE_COMPRESSION };

static int
stroke_count(const struct cycle *cycle)
{
    return cycle->two_stroke ? 2 : 4;
}

static enum stroke_kind
stroke_kind_of(const struct cycle *cycle, int stroke)
{
    if (stroke == 0) {
        return STROKE_EXPANSION;
    }
    return stroke == stroke_count(cycle) - 1 ? STROKE_COMPRESSION : STROKE_OPEN;
}

/* Gauge pressure in a stroke; `travel` from the top dead centre. */
static double
stroke_pressure_Pa(const struct cycle *cycle, enum stroke_kind kind, double travel_m)
{
    const double ratio = cycle->compression_ratio;
    /* volume over clearance volume: 1 at the top, `ratio` at the bottom */
    const double volume = 1.0 + (ratio - 1.0) * travel_m / (2.0 * cycle->crank_m);

    switch (kind) {
    case STROKE_EXPANSION:
        return (cycle->peak_gauge_Pa + cycle->ambient_Pa) * pow(volume, -cycle->exponent) - cycle->ambient_Pa;
    case STROKE_COMPRESSION:
        return cycle->intake_Pa * pow(ratio / volume, cycle->exponent) - cycle->ambient_Pa;
    case STROKE_OPEN:
        break;
    }
    return 0.0;
}

static double
stroke_load_N(const struct cycle *cycle, enum stroke_kind kind, double angle_rad)
{
    const double inertia = -cycle->mass_kg * cycle_acceleration_m_s2(cycle, angle_rad);

    if (kind == STROKE_OPEN) {
        return inertia;
    }
    return cycle->piston_area_m2 * stroke_pressure_Pa(cycle, kind, cycle_travel_m(cycle, angle_rad)) + inertia;
}

/* The stroke that holds the angle, reduced to one cycle. */
static enum stroke_kind
stroke_kind_at(const struct cycle *cycle, double angle_rad)
{
    double turned = fmod(angle_rad, cycle->period_rad);
    int stroke;

    if (turned < 0.0) {
        turned += cycle->period_rad;
    }
    stroke = (int)(turned / PI);
    return stroke_kind_of(cycle, stroke < stroke_count(cycle) ? stroke : 0);
}

double
cycle_pressure_Pa(const struct cycle *cycle, double angle_rad)
{
    return stroke_pressure_Pa(cycle, stroke_kind_at(cycle, angle_rad), cycle_travel_m(cycle, angle_rad));
}

double
cycle_pin_load_N(const struct cycle *cycle, double angle_rad)
{
    return stroke_load_N(cycle, stroke_kind_at(cycle, angle_rad), angle_rad);
}

/* ---- extremes ---- */

enum { STROKE_STEPS = 36 }; /* 5 degrees, even for Simpson's rule */
enum { REFINE_ROUNDS = 5 };

typedef double stroke_function(const struct cycle *cycle, enum stroke_kind kind, double angle_rad);

static double
negative_load_N(const struct cycle *cycle, enum stroke_kind kind, double angle_rad)
{
    return -stroke_load_N(cycle, kind, angle_rad);
}

static double
side_thrust_N(const struct cycle *cycle, enum stroke_kind kind, double angle_rad)
{
    return fabs(stroke_load_N(cycle, kind, angle_rad) * tan(cycle_rod_angle_rad(cycle, angle_rad)));
}

/* The largest sample of a function and where it was. */
struct peak {
    double value, angle_rad;
    int stroke;
};

static void
peak_offer(struct peak *peak, double value, double angle_rad, int stroke)
{
    if (value > peak->value) {
        peak->value = value;
        peak->angle_rad = angle_rad;
        peak->stroke = stroke;
    }
}

/*
 * Climb from the largest sample: the vertex of the parabola through three
 * neighbours, with a stencil that shrinks each round. It never leaves the
 * stroke and never goes down.
 */
static double
peak_refine(const struct cycle *cycle, stroke_function *function, struct peak peak)
{
    const enum stroke_kind kind = stroke_kind_of(cycle, peak.stroke);
    const double first = peak.stroke * PI, last = first + PI;
    double step = PI / STROKE_STEPS;

    for (int round = 0; round < REFINE_ROUNDS; round++) {
        const double left = fmax(first, peak.angle_rad - step), right = fmin(last, peak.angle_rad + step);
        const double centre = (left + right) / 2.0, half = (right - left) / 2.0;
        const double l = function(cycle, kind, left), c = function(cycle, kind, centre),
                     r = function(cycle, kind, right);
        const double bend = l - 2.0 * c + r;

        peak_offer(&peak, l, left, peak.stroke);
        peak_offer(&peak, c, centre, peak.stroke);
        peak_offer(&peak, r, right, peak.stroke);
        if (bend < 0.0) {
            const double vertex = centre + half * (l - r) / (2.0 * bend);

            if (vertex > first && vertex < last) {
                peak_offer(&peak, function(cycle, kind, vertex), vertex, peak.stroke);
            }
        }
        step /= 4.0;
    }
    return peak.value;
}

void
cycle_extremes_of(const struct cycle *cycle, struct cycle_extremes *extremes)
{
    struct peak most = {-HUGE_VAL, 0.0, 0}, least = most, thrust = most;
    double sum = 0.0;

    for (int stroke = 0; stroke < stroke_count(cycle); stroke++) {
        const enum stroke_kind kind = stroke_kind_of(cycle, stroke);

        for (int step = 0; step <= STROKE_STEPS; step++) {
            const double angle = stroke * PI + step * PI / STROKE_STEPS;
            const double load = stroke_load_N(cycle, kind, angle);
            const double simpson = step == 0 || step == STROKE_STEPS ? 1.0 : step % 2 == 1 ? 4.0 : 2.0;

            peak_offer(&most, load, angle, stroke);
            peak_offer(&least, -load, angle, stroke);
            peak_offer(&thrust, fabs(load * tan(cycle_rod_angle_rad(cycle, angle))), angle, stroke);
            sum += simpson * fabs(load);
        }
    }
    extremes->pin_load_max_N = peak_refine(cycle, stroke_load_N, most);
    extremes->pin_load_min_N = -peak_refine(cycle, negative_load_N, least);
    extremes->side_thrust_max_N = peak_refine(cycle, side_thrust_N, thrust);
    extremes->pin_load_mean_N = sum / 3.0 / (STROKE_STEPS * stroke_count(cycle));
}

double
cycle_rubbing_speed_m_s(double pin_m, double lambda, double speed_rad_s)
{
    return 2.0 * pin_m * asin(lambda) * speed_rad_s / (2.0 * PI);
}
