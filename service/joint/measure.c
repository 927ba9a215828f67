#include "joint/measure.h"

#include <math.h>

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

/* ---- stations ---- */

static bool
same_place(const struct station *station, const struct reading *reading)
{
    if (station->has_at != reading->has_at) {
        return false;
    }
    return !reading->has_at || fabs(station->at_m - reading->at_m) <= MEASURE_SAME_STATION_m;
}

/* Does the reading's station stand before `station`? Those without a place
 * stand last. */
static bool
before(const struct reading *reading, const struct station *station)
{
    return reading->has_at && (!station->has_at || reading->at_m < station->at_m);
}

/* The station of the reading, put in its place if it is new. */
static size_t
place_of(const struct reading *reading, struct station station[], size_t *count)
{
    for (size_t i = 0; i < *count; i++) {
        if (same_place(&station[i], reading)) {
            return i;
        }
    }
    size_t place = (*count)++;
    for (; place > 0 && before(reading, &station[place - 1]); place--) {
        station[place] = station[place - 1];
    }
    station[place] = (struct station){.has_at = reading->has_at, .at_m = reading->at_m};
    return place;
}

static void
add_size(struct station *station, double size_m)
{
    const bool first = station->reading_count == 0;

    station->size_min_m = first ? size_m : fmin(station->size_min_m, size_m);
    station->size_max_m = first ? size_m : fmax(station->size_max_m, size_m);
    station->reading_count++;
    station->size_mean_m += (size_m - station->size_mean_m) / (double)station->reading_count;
    station->out_of_round_m = station->size_max_m - station->size_min_m;
    station->leave_m = station->size_mean_m;
}

size_t
measure_stations(const struct reading reading[], size_t count, double size_ratio, struct station station[],
                 size_t *most)
{
    size_t stations = 0;

    *most = 0;
    for (size_t i = 0; i < count && i < STATION_MAX; i++) {
        struct station *own = &station[place_of(&reading[i], station, &stations)];

        add_size(own, reading[i].size_m * size_ratio);
        *most = own->reading_count > *most ? own->reading_count : *most;
    }
    return stations;
}

double
measure_mean_m(const struct station station[], size_t count)
{
    double sum_m = 0.0;

    for (size_t i = 0; i < count; i++) {
        sum_m += station[i].size_mean_m;
    }
    return sum_m / (double)count;
}

/* ---- along the part ---- */

/* Stations with a place: they stand first. */
static size_t
placed(const struct station station[], size_t count)
{
    size_t with_at = 0;

    while (with_at < count && station[with_at].has_at) {
        with_at++;
    }
    return with_at;
}

bool
measure_taper_m(const struct station station[], size_t count, double *taper_m)
{
    const size_t n = placed(station, count);
    double at_mean_m = 0.0, top_m2 = 0.0, bottom_m2 = 0.0;

    if (n < 2) {
        return false;
    }
    const double size_mean_m = measure_mean_m(station, n);
    for (size_t i = 0; i < n; i++) {
        at_mean_m += station[i].at_m / (double)n;
    }
    for (size_t i = 0; i < n; i++) {
        const double at_m = station[i].at_m - at_mean_m;

        top_m2 += at_m * (station[i].size_mean_m - size_mean_m);
        bottom_m2 += at_m * at_m;
    }
    *taper_m = top_m2 / bottom_m2 * (station[n - 1].at_m - station[0].at_m);
    return true;
}

const char measure_straight[] = "straight";
const char measure_tapered[] = "tapered";
const char measure_barrel[] = "barrel";
const char measure_waist[] = "waist";

const char *
measure_form(const struct station station[], size_t count, double threshold_m)
{
    const size_t n = placed(station, count);

    if (n < 2) {
        return NULL;
    }
    const double first_m = station[0].size_mean_m, last_m = station[n - 1].size_mean_m;
    double least_m = fmin(first_m, last_m), most_m = fmax(first_m, last_m);
    const double ends_low_m = least_m, ends_high_m = most_m;
    for (size_t i = 1; i + 1 < n; i++) {
        least_m = fmin(least_m, station[i].size_mean_m);
        most_m = fmax(most_m, station[i].size_mean_m);
    }
    const double above_m = most_m - ends_high_m, below_m = ends_low_m - least_m;
    if (most_m - least_m <= threshold_m + slack_m) {
        return measure_straight;
    }
    if (fmax(above_m, below_m) <= threshold_m + slack_m) {
        return measure_tapered;
    }
    return above_m > below_m ? measure_barrel : measure_waist;
}

/* ---- trust ---- */

double
measure_uncertainty_m(const struct measure_budget *budget)
{
    const double resolution_m = budget->resolution_m / (2.0 * sqrt(3.0));
    const double instrument_m = budget->instrument_m / sqrt(3.0);
    const double temperature_m = budget->size_m * budget->expansion_per_K * budget->temperature_K / sqrt(3.0);

    return 2.0 * sqrt(resolution_m * resolution_m + instrument_m * instrument_m + temperature_m * temperature_m);
}

bool
measure_is_coarse(const struct measure_window *window)
{
    return 2.0 * window->uncertainty_m >= window->high_m - window->low_m - slack_m;
}

struct limits
measure_pass(const struct measure_window *window)
{
    const double middle_m = (window->low_m + window->high_m) / 2.0;
    const struct limits pass = {
        .min_m = fmin(window->low_m + window->uncertainty_m, middle_m),
        .max_m = fmax(window->high_m - window->uncertainty_m, middle_m),
    };

    return pass;
}

struct limits
measure_inward(const struct limits *limits, double step_m)
{
    if (step_m <= slack_m) {
        return *limits;
    }
    const struct limits inward = {
        .min_m = step_m * ceil((limits->min_m - slack_m) / step_m),
        .max_m = step_m * floor((limits->max_m + slack_m) / step_m),
    };
    return inward.min_m <= inward.max_m ? inward : *limits;
}

enum measure_zone
measure_zone(const struct measure_window *window, double least_m, double most_m)
{
    const double u_m = window->uncertainty_m;

    if (least_m < window->low_m - u_m - slack_m) {
        return MEASURE_SHORT;
    }
    if (measure_is_coarse(window)) {
        return most_m > window->high_m + u_m + slack_m ? MEASURE_EXCESS : MEASURE_COARSE;
    }
    if (least_m < window->low_m + u_m - slack_m) {
        return MEASURE_IN_DOUBT;
    }
    return most_m > window->high_m - u_m + slack_m ? MEASURE_EXCESS : MEASURE_PROVED;
}
