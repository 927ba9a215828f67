#include "joint/inspection.h"

#include <math.h>

#include "joint/printed.h"

/* How much metal to take off where, and by what means. */

/* A nanometer: more than rounding, less than anyone measures. */
static const double slack_m = 1.0e-9;

/* ---- means ---- */

const char *
inspection_method(bool hole, double amount_m)
{
    const double thou = amount_m / SI_PER_THOU;

    if (thou > 5.0) {
        return hole ? "bore it" : "turn it";
    }
    if (thou > 1.0) {
        return hole ? "ream or hone it" : "a light cut in the lathe, or a fine file and then abrasive cloth";
    }
    if (thou > 0.3) {
        return hole ? "hone it" : "abrasive cloth of 180 to 240 grit, then 320 to 400";
    }
    return hole ? "a fine hone or a lap" : "abrasive cloth of 400 to 600 grit, crocus cloth or a lap";
}

const char *
inspection_method_to_true_up(bool hole)
{
    return hole ? "bore or hone it true" : "a light cut or grinding between centers";
}

/* ---- seen from the metal ---- */

double
inspection_metal_m(bool hole, double size_m)
{
    return hole ? -size_m : size_m;
}

static double
high_m(const struct station *station, bool hole)
{
    return inspection_metal_m(hole, hole ? station->size_min_m : station->size_max_m);
}

static double
low_m(const struct station *station, bool hole)
{
    return inspection_metal_m(hole, hole ? station->size_max_m : station->size_min_m);
}

static double
mean_m(const struct station *station, bool hole)
{
    return inspection_metal_m(hole, station->size_mean_m);
}

bool
inspection_round_is_beyond(const struct inspection *inspection, double out_of_round_m)
{
    return inspection->round_limited && out_of_round_m > inspection->round_limit_m + slack_m;
}

/* ---- the plan ---- */

/*
 * The sizes that every station can be brought to so that the part is straight
 * and every reading passes, seen from the metal. What is brought down as it is
 * (by cloth or a lap) stays as uneven as it was, about its mean; what is trued
 * up (by a cut or by grinding) can be no larger than its low side.
 */
static struct limits
common_sizes(const struct inspection *inspection, const struct limits *pass, bool hole)
{
    struct limits common = *pass;

    for (size_t i = 0; i < inspection->station_count; i++) {
        const struct station *station = &inspection->station[i];
        const double high = high_m(station, hole), low = low_m(station, hole), mean = mean_m(station, hole);

        if (station->true_up) {
            common.max_m = fmin(common.max_m, low);
        } else {
            common.max_m = fmin(common.max_m, fmin(mean, pass->max_m - (high - mean)));
            common.min_m = fmax(common.min_m, pass->min_m + (mean - low));
        }
    }
    return common;
}

static void
choose_what_to_true_up(struct inspection *inspection, const struct limits *pass, bool hole)
{
    if (inspection->coarse) {
        return; /* it does not tell out-of-round from its own error */
    }
    for (size_t i = 0; i < inspection->station_count; i++) {
        inspection->station[i].true_up = inspection_round_is_beyond(inspection, inspection->station[i].out_of_round_m);
    }
    const struct limits common = common_sizes(inspection, pass, hole);
    if (common.min_m > common.max_m + slack_m) {
        /* Too uneven to pass as they are at any one size. */
        for (size_t i = 0; i < inspection->station_count; i++) {
            inspection->station[i].true_up = true;
        }
    }
}

/*
 * The size to bring every station to: the largest, so that least metal comes
 * off. Where the limits set it and not the part, it is one that the dial shows.
 * A coarse instrument leaves the middle of the limits.
 */
static double
target_m(const struct inspection *inspection, const struct limits *pass, double step_m, bool hole)
{
    const struct limits common = common_sizes(inspection, pass, hole);
    double least_m = HUGE_VAL;

    if (inspection->coarse) {
        return pass->max_m;
    }
    for (size_t i = 0; i < inspection->station_count; i++) {
        const struct station *station = &inspection->station[i];

        least_m = fmin(least_m, station->true_up ? low_m(station, hole) : mean_m(station, hole));
    }
    return common.max_m < least_m - slack_m ? measure_inward(&common, step_m).max_m : common.max_m;
}

void
inspection_plan_removal(struct inspection *inspection, const struct measure_window *window, double step_m, bool hole)
{
    const struct limits pass = measure_pass(window);

    choose_what_to_true_up(inspection, &pass, hole);
    const double to_m = target_m(inspection, &pass, step_m, hole);
    for (size_t i = 0; i < inspection->station_count; i++) {
        struct station *station = &inspection->station[i];
        const bool high_side = station->true_up || inspection->coarse;
        const double remove_m = (high_side ? high_m(station, hole) : mean_m(station, hole)) - to_m;

        station->to_remove_m = remove_m > slack_m ? remove_m : 0.0;
        station->true_up = station->true_up && station->to_remove_m > 0.0 && station->out_of_round_m > slack_m;
        station->leave_m =
            inspection_metal_m(hole, station->true_up ? to_m : mean_m(station, hole) - station->to_remove_m);
        inspection->to_remove_m = fmax(inspection->to_remove_m, station->to_remove_m);
        inspection->true_up = inspection->true_up || station->true_up;
    }
}
