#include "joint/cycle.h"

#include <math.h>
#include <stddef.h>

#include "base/numeric.h"
#include "joint/cycle_stroke.h"

/* Extremes of the load over the cycle, and its mean. */

#define PI 3.14159265358979323846

enum { STROKE_STEPS = 36, QUARTERS = 4, QUARTER_STEPS = STROKE_STEPS / QUARTERS }; /* steps of 5 degrees */
enum { CLIMB_ROUNDS_MAX = 16 };
#define CLIMB_FINEST 0.01 /* of a step: a twentieth of a degree */
static const double step_rad = PI / STROKE_STEPS;

/* A figure of a stroke at an angle from the top dead center. */
typedef double stroke_function(const struct cycle *cycle, const struct stroke *stroke, double angle_rad);

/* The same at every step, both dead centers included. */
struct samples {
    double at[STROKE_STEPS + 1];
    double most;
};

static double
load_N(const struct cycle *cycle, const struct stroke *stroke, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return stroke_load_at_N(cycle, stroke, &place);
}

static double
pull_N(const struct cycle *cycle, const struct stroke *stroke, double angle_rad)
{
    return -load_N(cycle, stroke, angle_rad);
}

/* A load's share across the cylinder, by the tangent of the rod's angle. */
static double
thrust_of_N(const struct cycle *cycle, const struct place *place, double load)
{
    return fabs(load * place_rod_slope(cycle, place));
}

static double
thrust_N(const struct cycle *cycle, const struct stroke *stroke, double angle_rad)
{
    const struct place place = place_at(cycle, angle_rad);

    return thrust_of_N(cycle, &place, stroke_load_at_N(cycle, stroke, &place));
}

/* ---- the greatest value ---- */

/* Vertex of the parabola through three even samples, no further from them than
 * the samples before were, a step four times as wide; the middle where they do
 * not bend down. */
static double
vertex_of(double center, double half, double left, double middle, double right)
{
    const double bend = left - 2.0 * middle + right;

    return bend < 0.0 ? center + fmin(fmax(half * (left - right) / (2.0 * bend), -4.0 * half), 4.0 * half) : center;
}

/* The greatest value found so far, and where. */
struct peak {
    double value, angle_rad;
};

static void
peak_offer(struct peak *peak, double value, double angle_rad)
{
    if (value > peak->value) {
        *peak = (struct peak){value, angle_rad};
    }
}

/* Every figure is the same on either side of one. */
static bool
is_dead_center(double angle_rad)
{
    return angle_rad == 0.0 || angle_rad == STROKE_STEPS * step_rad;
}

/* A sample: beyond a dead center they come back. */
static double
sample_at(const struct samples *sample, int i)
{
    return sample->at[i < 0 ? -i : i > STROKE_STEPS ? 2 * STROKE_STEPS - i : i];
}

/*
 * Climb from a sample no smaller than its neighbours: to the vertex of the
 * parabola through the three, and again from the best that was seen, in smaller
 * steps once that is no longer one of the sides. It never goes down. It may climb
 * past a dead center, where the figures are those before it.
 */
static double
climb(const struct cycle *cycle, stroke_function *function, const struct stroke *stroke, const struct samples *sample,
      int i)
{
    struct peak peak = {sample->at[i], i * step_rad};
    double half = step_rad, left = sample_at(sample, i - 1), right = sample_at(sample, i + 1);

    for (int round = 0; round < CLIMB_ROUNDS_MAX; round++) {
        const double center = peak.angle_rad, vertex = vertex_of(center, half, left, peak.value, right);
        const bool level = peak.value >= left && peak.value >= right;

        peak_offer(&peak, left, center - half);
        peak_offer(&peak, right, center + half);
        if (vertex != center) {
            peak_offer(&peak, function(cycle, stroke, vertex), vertex);
        }
        if (half < CLIMB_FINEST * step_rad) {
            break;
        }
        half /= level ? 4.0 : 1.0;
        left = function(cycle, stroke, peak.angle_rad - half);
        right = is_dead_center(peak.angle_rad) ? left : function(cycle, stroke, peak.angle_rad + half);
    }
    return peak.value;
}

/*
 * Is there a hump between the neighbours of a sample that can rise to
 * `reached`? A parabola through the three rises an eighth of their bend at
 * most; the rest is for functions that are none.
 */
static bool
may_reach(const struct samples *sample, int i, double reached)
{
    const double left = sample_at(sample, i - 1), middle = sample->at[i], right = sample_at(sample, i + 1);

    return middle >= left && middle >= right && middle + (2.0 * middle - left - right) >= reached;
}

static double
greatest(const struct cycle *cycle, stroke_function *function, const struct stroke *strokes, size_t count,
         const struct samples sample[])
{
    double reached = -HUGE_VAL, most;

    for (size_t s = 0; s < count; s++) {
        reached = fmax(reached, sample[s].most);
    }
    most = reached;
    for (size_t s = 0; s < count; s++) {
        for (int i = 0; i <= STROKE_STEPS; i++) {
            if (may_reach(&sample[s], i, reached)) {
                most = fmax(most, climb(cycle, function, &strokes[s], &sample[s], i));
            }
        }
    }
    return most;
}

/* ---- the mean ---- */

/* Integral of the squeeze between two angles, Gauss-Legendre with 8 points
 * [Abramowitz and Stegun table 25.4]. */
static double
squeeze_integral(const struct cycle *cycle, double from, double to)
{
    static const double node[] = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363};
    static const double weight[] = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763};
    const double center = (from + to) / 2.0, half = (to - from) / 2.0;
    double sum = 0.0;

    for (size_t i = 0; i < sizeof node / sizeof node[0]; i++) {
        const struct place before = place_at(cycle, center - half * node[i]),
                           behind = place_at(cycle, center + half * node[i]);

        sum += weight[i] * (place_squeeze(cycle, &before) + place_squeeze(cycle, &behind));
    }
    return half * sum;
}

/* The same of a stroke: an open one needs it not. */
static double
squeeze_of(const struct cycle *cycle, const struct stroke *stroke, double from, double to)
{
    return stroke->open ? 0.0 : squeeze_integral(cycle, from, to);
}

/* Where a piece of a stroke begins or ends. */
struct bound {
    double angle_rad, velocity_m_s;
};

static struct bound
bound_at(const struct cycle *cycle, double angle_rad)
{
    return (struct bound){angle_rad, cycle_velocity_m_s(cycle, angle_rad)};
}

/* Of the load: inertia by the change of velocity, whose derivative the
 * acceleration is, and the gas by the integral of its squeeze. */
static double
load_integral(const struct cycle *cycle, const struct stroke *stroke, const struct bound *from, const struct bound *to,
              double squeeze)
{
    const double inertia = -cycle->mass_kg * cycle->speed_rad_s * (to->velocity_m_s - from->velocity_m_s);
    const double turned_rad = to->angle_rad - from->angle_rad;

    if (stroke->open) {
        return inertia;
    }
    return cycle->piston_area_m2 *
               (stroke->start_Pa * squeeze / stroke->start_squeeze - stroke->outside_Pa * turned_rad) +
           inertia;
}

/* The load in a stroke as a function of the angle alone, for root finding. */
struct stroke_context {
    const struct cycle *cycle;
    const struct stroke *stroke;
};

static double
load_at(double angle_rad, const void *context)
{
    const struct stroke_context *c = context;

    return load_N(c->cycle, c->stroke, angle_rad);
}

/* Where the load changes sign between two angles. To a millionth of a radian:
 * the integral of what is nearly zero there feels the square of it. */
static double
load_root(const struct cycle *cycle, const struct stroke *stroke, double from, double to)
{
    const struct stroke_context context = {cycle, stroke};
    double root;

    return numeric_root(load_at, &context, from, to, 1.0e-6, &root) ? root : (from + to) / 2.0;
}

/* The quarters of a stroke, whichever it is. */
struct quarters {
    struct bound bound[QUARTERS + 1];
    double squeeze[QUARTERS]; /* its integral */
};

static void
quarters_of(const struct cycle *cycle, struct quarters *quarters)
{
    for (int i = 0; i <= QUARTERS; i++) {
        quarters->bound[i] = bound_at(cycle, i * PI / QUARTERS);
    }
    for (int i = 0; i < QUARTERS; i++) {
        quarters->squeeze[i] = squeeze_integral(cycle, i * PI / QUARTERS, (i + 1) * PI / QUARTERS);
    }
}

/*
 * Integral of the load's magnitude over a stroke. The magnitude has kinks where
 * the load changes sign, so there the quarter is cut and each smooth piece
 * integrated by itself.
 */
static double
magnitude_integral(const struct cycle *cycle, const struct stroke *stroke, const struct samples *load,
                   const struct quarters *quarters)
{
    double sum = 0.0;

    for (int quarter = 0; quarter < QUARTERS; quarter++) {
        const int first = quarter * QUARTER_STEPS, last = first + QUARTER_STEPS;
        const struct bound *const end = &quarters->bound[quarter + 1];
        struct bound from = quarters->bound[quarter];
        double piece = quarters->squeeze[quarter];

        for (int i = first + 1; i <= last; i++) {
            if ((load->at[i - 1] < 0.0) != (load->at[i] < 0.0)) {
                const struct bound root = bound_at(cycle, load_root(cycle, stroke, (i - 1) * step_rad, i * step_rad));

                piece = squeeze_of(cycle, stroke, from.angle_rad, root.angle_rad);
                sum += fabs(load_integral(cycle, stroke, &from, &root, piece));
                from = root;
                piece = squeeze_of(cycle, stroke, root.angle_rad, end->angle_rad);
            }
        }
        sum += fabs(load_integral(cycle, stroke, &from, end, piece));
    }
    return sum;
}

/* ---- together ---- */

/* The strokes of a cycle and all that is sampled of each. */
struct scan {
    struct stroke strokes[STROKE_KINDS_MAX];
    size_t count;
    struct samples load[STROKE_KINDS_MAX], pull[STROKE_KINDS_MAX], thrust[STROKE_KINDS_MAX];
};

static void
take_sample(struct samples *samples, int i, double value)
{
    samples->at[i] = value;
    samples->most = value > samples->most ? value : samples->most;
}

static void
scan_place(const struct cycle *cycle, const struct place *place, int i, struct scan *scan)
{
    const double squeeze = place_squeeze(cycle, place), inertia_N = place_inertia_N(cycle, place);

    for (size_t s = 0; s < scan->count; s++) {
        const double load = stroke_load_N(cycle, &scan->strokes[s], squeeze, inertia_N);

        take_sample(&scan->load[s], i, load);
        take_sample(&scan->pull[s], i, -load);
        take_sample(&scan->thrust[s], i, thrust_of_N(cycle, place, load));
    }
}

/* The angle of a place serves the one as far from the other dead center too. */
static void
scan_of(const struct cycle *cycle, struct scan *scan)
{
    scan->count = strokes_of(cycle, scan->strokes);
    for (size_t s = 0; s < scan->count; s++) {
        scan->load[s].most = scan->pull[s].most = scan->thrust[s].most = -HUGE_VAL;
    }
    for (int i = 0; i <= STROKE_STEPS / 2; i++) {
        const struct place place = place_at(cycle, i * step_rad), mirrored = place_mirrored(&place);

        scan_place(cycle, &place, i, scan);
        scan_place(cycle, &mirrored, STROKE_STEPS - i, scan);
    }
}

void
cycle_extremes_of(const struct cycle *cycle, struct cycle_extremes *extremes)
{
    struct scan scan;
    struct quarters quarters;
    double sum = 0.0;

    scan_of(cycle, &scan);
    quarters_of(cycle, &quarters);
    for (size_t s = 0; s < scan.count; s++) {
        sum += scan.strokes[s].times * magnitude_integral(cycle, &scan.strokes[s], &scan.load[s], &quarters);
    }
    extremes->pin_load_max_N = greatest(cycle, load_N, scan.strokes, scan.count, scan.load);
    extremes->pin_load_min_N = -greatest(cycle, pull_N, scan.strokes, scan.count, scan.pull);
    extremes->side_thrust_max_N = greatest(cycle, thrust_N, scan.strokes, scan.count, scan.thrust);
    extremes->pin_load_mean_N = sum / cycle->period_rad;
}
