#include "joint/cycle.h"

#include <math.h>
#include <stddef.h>

#include "base/numeric.h"

#define PI 3.14159265358979323846

static double
root_q(double lambda, double sine)
{
    return sqrt(1.0 - lambda * lambda * sine * sine);
}

/* What all the figures of one crank angle rest on. */
struct place {
    double sine, cosine, q;
};

static struct place
place_at(const struct cycle *cycle, double angle_rad)
{
    const double sine = sin(angle_rad);

    return (struct place){sine, cos(angle_rad), root_q(cycle->lambda, sine)};
}

static double
travel_m(const struct cycle *cycle, const struct place *place)
{
    return cycle->crank_m * (1.0 - place->cosine) + cycle->rod_m * (1.0 - place->q);
}

static double
acceleration_m_s2(const struct cycle *cycle, const struct place *place)
{
    const double s = place->sine, c = place->cosine, q = place->q, lambda = cycle->lambda, s2 = s * s;

    return cycle->crank_m * cycle->speed_rad_s * cycle->speed_rad_s *
           (c + (lambda * (c * c - s2) + lambda * lambda * lambda * s2 * s2) / (q * q * q));
}

double
cycle_travel_m(const struct cycle *cycle, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return travel_m(cycle, &place);
}

double
cycle_velocity_m_s(const struct cycle *cycle, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return cycle->crank_m * cycle->speed_rad_s *
           (place.sine + cycle->lambda * place.sine * place.cosine / place.q);
}

double
cycle_acceleration_m_s2(const struct cycle *cycle, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return acceleration_m_s2(cycle, &place);
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
load_at_place_N(const struct cycle *cycle, enum stroke_kind kind, const struct place *place)
{
    const double inertia = -cycle->mass_kg * acceleration_m_s2(cycle, place);

    if (kind == STROKE_OPEN) {
        return inertia;
    }
    return cycle->piston_area_m2 * stroke_pressure_Pa(cycle, kind, travel_m(cycle, place)) + inertia;
}

static double
stroke_load_N(const struct cycle *cycle, enum stroke_kind kind, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return load_at_place_N(cycle, kind, &place);
}

/* A load's share across the cylinder, by the tangent of the rod's angle. */
static double
thrust_of_N(const struct cycle *cycle, const struct place *place, double load_N)
{
    return fabs(load_N * cycle->lambda * place->sine / place->q);
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

/* ---- extremes and mean ---- */

enum { STROKE_STEPS = 36 }; /* 5 degrees */
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
    const struct place place = place_at(cycle, angle_rad);

    return thrust_of_N(cycle, &place, load_at_place_N(cycle, kind, &place));
}

/* The largest value found and where. */
struct peak {
    double value, angle_rad;
};

static void
peak_offer(struct peak *peak, double value, double angle_rad)
{
    if (value > peak->value) {
        peak->value = value;
        peak->angle_rad = angle_rad;
    }
}

/* Vertex of the parabola through three even samples, or the middle where they
 * do not bend down. */
static double
vertex_of(double centre, double half, double left, double middle, double right)
{
    const double bend = left - 2.0 * middle + right;

    return bend < 0.0 ? centre + half * (left - right) / (2.0 * bend) : centre;
}

/*
 * Climb from a sample no smaller than its neighbours: the vertex of the
 * parabola through three points, with a stencil that shrinks each round. It
 * never leaves the stroke and never goes down.
 */
static double
climb(const struct cycle *cycle, stroke_function *function, int stroke, double angle_rad)
{
    const enum stroke_kind kind = stroke_kind_of(cycle, stroke);
    const double first = stroke * PI, last = first + PI;
    struct peak peak = {function(cycle, kind, angle_rad), angle_rad};
    double step = PI / STROKE_STEPS;

    for (int round = 0; round < REFINE_ROUNDS; round++) {
        const double left = fmax(first, peak.angle_rad - step), right = fmin(last, peak.angle_rad + step);
        const double centre = (left + right) / 2.0, half = (right - left) / 2.0;
        const double l = function(cycle, kind, left), c = function(cycle, kind, centre),
                     r = function(cycle, kind, right);
        const double vertex = fmin(fmax(vertex_of(centre, half, l, c, r), first), last);

        peak_offer(&peak, l, left);
        peak_offer(&peak, c, centre);
        peak_offer(&peak, r, right);
        peak_offer(&peak, function(cycle, kind, vertex), vertex);
        step /= 4.0;
    }
    return peak.value;
}

/*
 * How far above a sample that is no smaller than its neighbours the function
 * may rise between them. A parabola through the three rises an eighth of this
 * at most; the rest is for functions that are none.
 */
static double
rise_of(const double at[STROKE_STEPS + 1], int i)
{
    const double left = at[i > 0 ? i - 1 : i + 1], right = at[i < STROKE_STEPS ? i + 1 : i - 1];

    return 2.0 * at[i] - left - right;
}

static double
greatest_sample(const struct cycle *cycle, double sample[][STROKE_STEPS + 1])
{
    double most = -HUGE_VAL;

    for (int stroke = 0; stroke < stroke_count(cycle); stroke++) {
        for (int i = 0; i <= STROKE_STEPS; i++) {
            most = fmax(most, sample[stroke][i]);
        }
    }
    return most;
}

/* The greatest value of a function over the cycle: climbed to from every sample
 * that is no smaller than its neighbours in its stroke, but for those that lie
 * too low. */
static double
greatest(const struct cycle *cycle, stroke_function *function, double sample[][STROKE_STEPS + 1])
{
    const double reached = greatest_sample(cycle, sample);
    double most = reached;

    for (int stroke = 0; stroke < stroke_count(cycle); stroke++) {
        const double *const at = sample[stroke];

        for (int i = 0; i <= STROKE_STEPS; i++) {
            const bool hump = (i == 0 || at[i] >= at[i - 1]) && (i == STROKE_STEPS || at[i] >= at[i + 1]);

            if (hump && at[i] + rise_of(at, i) >= reached) {
                most = fmax(most, climb(cycle, function, stroke, stroke * PI + i * PI / STROKE_STEPS));
            }
        }
    }
    return most;
}

/* Integral of the load over part of a stroke, Gauss-Legendre with 8 points
 * [Abramowitz and Stegun table 25.4]. */
static double
load_integral(const struct cycle *cycle, enum stroke_kind kind, double from, double to)
{
    static const double node[] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363};
    static const double weight[] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763};
    const double centre = (from + to) / 2.0, half = (to - from) / 2.0;
    double sum = 0.0;

    for (size_t i = 0; i < sizeof node / sizeof node[0]; i++) {
        sum += weight[i] * (stroke_load_N(cycle, kind, centre - half * node[i]) +
                            stroke_load_N(cycle, kind, centre + half * node[i]));
    }
    return half * sum;
}

/* The load in a stroke as a function of the angle alone, for root finding. */
struct stroke_context {
    const struct cycle *cycle;
    enum stroke_kind kind;
};

static double
load_at(double angle_rad, const void *context)
{
    const struct stroke_context *stroke = context;

    return stroke_load_N(stroke->cycle, stroke->kind, angle_rad);
}

/* Where the load changes sign between two angles. */
static double
load_root(const struct cycle *cycle, enum stroke_kind kind, double from, double to)
{
    const struct stroke_context context = {cycle, kind};
    double root;

    return numeric_root(load_at, &context, from, to, 1.0e-9, &root) ? root : (from + to) / 2.0;
}

/*
 * Integral of the load's magnitude over a stroke. The magnitude has kinks where
 * the load changes sign, so the stroke is cut there and each smooth piece
 * integrated by itself, in quarters of the stroke at most.
 */
static double
magnitude_integral(const struct cycle *cycle, int stroke, const double sample[STROKE_STEPS + 1])
{
    const enum stroke_kind kind = stroke_kind_of(cycle, stroke);
    const double first = stroke * PI, step = PI / STROKE_STEPS;
    double from = first, sum = 0.0;

    for (int i = 1; i <= STROKE_STEPS; i++) {
        const bool crosses = (sample[i - 1] < 0.0) != (sample[i] < 0.0);

        if (crosses) {
            const double root = load_root(cycle, kind, first + (i - 1) * step, first + i * step);

            sum += fabs(load_integral(cycle, kind, from, root));
            from = root;
        }
        if (i % (STROKE_STEPS / 4) == 0) {
            sum += fabs(load_integral(cycle, kind, from, first + i * step));
            from = first + i * step;
        }
    }
    return sum;
}

enum { STROKES_MAX = 4 };

void
cycle_extremes_of(const struct cycle *cycle, struct cycle_extremes *extremes)
{
    double load[STROKES_MAX][STROKE_STEPS + 1], pull[STROKES_MAX][STROKE_STEPS + 1],
        thrust[STROKES_MAX][STROKE_STEPS + 1];
    double sum = 0.0;

    for (int stroke = 0; stroke < stroke_count(cycle); stroke++) {
        const enum stroke_kind kind = stroke_kind_of(cycle, stroke);

        for (int i = 0; i <= STROKE_STEPS; i++) {
            const double angle = stroke * PI + i * PI / STROKE_STEPS;

            const struct place place = place_at(cycle, angle);

            load[stroke][i] = load_at_place_N(cycle, kind, &place);
            pull[stroke][i] = -load[stroke][i];
            thrust[stroke][i] = thrust_of_N(cycle, &place, load[stroke][i]);
        }
        sum += magnitude_integral(cycle, stroke, load[stroke]);
    }
    extremes->pin_load_max_N = greatest(cycle, stroke_load_N, load);
    extremes->pin_load_min_N = -greatest(cycle, negative_load_N, pull);
    extremes->side_thrust_max_N = greatest(cycle, side_thrust_N, thrust);
    extremes->pin_load_mean_N = sum / cycle->period_rad;
}

double
cycle_rubbing_speed_m_s(double pin_m, double lambda, double speed_rad_s)
{
    return 2.0 * pin_m * asin(lambda) * speed_rad_s / (2.0 * PI);
}
