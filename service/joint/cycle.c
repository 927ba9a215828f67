#include "joint/cycle.h"

#include <math.h>
#include <stddef.h>

#include "joint/cycle_stroke.h"

#define PI 3.14159265358979323846

static double
root_q(double lambda, double sine)
{
    return sqrt(1.0 - lambda * lambda * sine * sine);
}

struct place
place_at(const struct cycle *cycle, double angle_rad)
{
    const double sine = sin(angle_rad);

    return (struct place){sine, cos(angle_rad), root_q(cycle->lambda, sine)};
}

struct place
place_mirrored(const struct place *place)
{
    return (struct place){place->sine, -place->cosine, place->q};
}

double
place_rod_slope(const struct cycle *cycle, const struct place *place)
{
    return cycle->lambda * place->sine / place->q;
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
place_velocity_m_s(const struct cycle *cycle, const struct place *place)
{
    return cycle->crank_m * cycle->speed_rad_s * (place->sine + cycle->lambda * place->sine * place->cosine / place->q);
}

double
place_inertia_N(const struct cycle *cycle, const struct place *place)
{
    return -cycle->mass_kg * acceleration_m_s2(cycle, place);
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

    return place_velocity_m_s(cycle, &place);
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

/* ---- strokes ---- */

/* How many times its pressure at the bottom the gas has at the top. */
static double
full_squeeze(const struct cycle *cycle)
{
    return pow(cycle->compression_ratio, cycle->exponent);
}

static struct stroke
expansion_of(const struct cycle *cycle)
{
    return (struct stroke){.start_Pa = cycle->peak_gauge_Pa + cycle->ambient_Pa,
                           .start_squeeze = full_squeeze(cycle),
                           .outside_Pa = cycle->ambient_Pa,
                           .times = 1.0};
}

static struct stroke
compression_of(const struct cycle *cycle)
{
    return (struct stroke){
        .start_Pa = cycle->intake_Pa, .start_squeeze = 1.0, .outside_Pa = cycle->ambient_Pa, .times = 1.0};
}

static struct stroke
open_strokes(void)
{
    return (struct stroke){.open = true, .times = 2.0};
}

size_t
strokes_of(const struct cycle *cycle, struct stroke strokes[STROKE_KINDS_MAX])
{
    size_t count = 0;

    strokes[count++] = expansion_of(cycle);
    if (!cycle->two_stroke) {
        strokes[count++] = open_strokes();
    }
    strokes[count++] = compression_of(cycle);
    return count;
}

double
place_squeeze(const struct cycle *cycle, const struct place *place)
{
    const double ratio = cycle->compression_ratio;
    /* volume over clearance volume: 1 at the top, `ratio` at the bottom */
    const double volume = 1.0 + (ratio - 1.0) * travel_m(cycle, place) / (2.0 * cycle->crank_m);

    return pow(ratio / volume, cycle->exponent);
}

double
stroke_gauge_Pa(const struct stroke *stroke, double squeeze)
{
    return stroke->open ? 0.0 : stroke->start_Pa * (squeeze / stroke->start_squeeze) - stroke->outside_Pa;
}

double
stroke_squeeze(const struct cycle *cycle, const struct stroke *stroke, const struct place *place)
{
    return stroke->open ? 0.0 : place_squeeze(cycle, place);
}

double
stroke_load_N(const struct cycle *cycle, const struct stroke *stroke, double squeeze, double inertia_N)
{
    return stroke->open ? inertia_N : cycle->piston_area_m2 * stroke_gauge_Pa(stroke, squeeze) + inertia_N;
}

double
stroke_load_at_N(const struct cycle *cycle, const struct stroke *stroke, const struct place *place)
{
    return stroke_load_N(cycle, stroke, stroke_squeeze(cycle, stroke, place), place_inertia_N(cycle, place));
}

/* Each is half a turn; at a dead center the pressure jumps (the charge burns, a
 * valve opens). */
const struct stroke *
stroke_at(const struct cycle *cycle, const struct stroke strokes[STROKE_KINDS_MAX], double angle_rad)
{
    const int last = cycle->two_stroke ? 1 : 3;
    double turned = fmod(angle_rad, cycle->period_rad);
    int half_turn;

    if (turned < 0.0) {
        turned += cycle->period_rad;
    }
    half_turn = (int)(turned / PI);
    if (half_turn == 0 || half_turn > last) {
        return &strokes[0];
    }
    return &strokes[half_turn < last || cycle->two_stroke ? 1 : 2];
}

double
cycle_pressure_Pa(const struct cycle *cycle, double angle_rad)
{
    struct stroke strokes[STROKE_KINDS_MAX];
    const struct place place = place_at(cycle, angle_rad);
    const struct stroke *stroke;

    (void)strokes_of(cycle, strokes);
    stroke = stroke_at(cycle, strokes, angle_rad);
    return stroke_gauge_Pa(stroke, stroke_squeeze(cycle, stroke, &place));
}

double
cycle_pin_load_N(const struct cycle *cycle, double angle_rad)
{
    struct stroke strokes[STROKE_KINDS_MAX];
    const struct place place = place_at(cycle, angle_rad);

    (void)strokes_of(cycle, strokes);
    return stroke_load_at_N(cycle, stroke_at(cycle, strokes, angle_rad), &place);
}

double
cycle_rubbing_speed_m_s(double pin_m, double lambda, double speed_rad_s)
{
    return 2.0 * pin_m * asin(lambda) * speed_rad_s / (2.0 * PI);
}

bool
cycle_same(const struct cycle *a, const struct cycle *b)
{
    return a->two_stroke == b->two_stroke && a->crank_m == b->crank_m && a->rod_m == b->rod_m &&
           a->lambda == b->lambda && a->speed_rad_s == b->speed_rad_s && a->mass_kg == b->mass_kg &&
           a->piston_area_m2 == b->piston_area_m2 && a->peak_gauge_Pa == b->peak_gauge_Pa &&
           a->ambient_Pa == b->ambient_Pa && a->intake_Pa == b->intake_Pa && a->exponent == b->exponent &&
           a->compression_ratio == b->compression_ratio && a->period_rad == b->period_rad;
}
