#ifndef SMALLEND_JOINT_MEASURE_H
#define SMALLEND_JOINT_MEASURE_H

/*
 * What micrometer readings say of a round part: stations, taper, form, how far
 * the readings can be trusted, and on which side of a limit they lie. All on
 * the diameter.
 */

#include <stdbool.h>
#include <stddef.h>

#include "joint/job.h"
#include "joint/report.h"

/* Readings taken this close together along the part are one station: a
 * micrometer's anvil is far wider. */
#define MEASURE_SAME_STATION_m 1e-5

/*
 * Group readings into stations, in the order of `at`; readings without a place
 * are one station of their own, the last. Each size is multiplied by
 * `size_ratio` (what temperature does to it). *most is the largest number of
 * readings at one station. Returns the number of stations, each to be left as
 * it is.
 */
size_t measure_stations(const struct reading reading[], size_t count, double size_ratio, struct station station[],
                        size_t *most);

/* Mean of the stations' means, count > 0. */
double measure_mean_m(const struct station station[], size_t count);

/*
 * Least-squares line through the stations' means over `at`: its rise over the
 * measured span, + growing with `at`. False with fewer than two places.
 */
bool measure_taper_m(const struct station station[], size_t count, double *taper_m);

/* The words that measure_form answers. */
extern const char measure_straight[];
extern const char measure_tapered[];
extern const char measure_barrel[];
extern const char measure_waist[];

/*
 * Straight if the means differ by at most `threshold_m`, a barrel if a middle
 * station stands above both ends by more, a waist if one lies below both by
 * more (the larger of the two wins), else tapered. NULL with fewer than two
 * places.
 */
const char *measure_form(const struct station station[], size_t count, double threshold_m);

/* What a reading may be out by, as half-widths of even distributions. */
struct measure_budget {
    double resolution_m;    /* smallest step shown: the whole step */
    double instrument_m;    /* limit of error of the instrument */
    double temperature_K;   /* part against instrument */
    double expansion_per_K; /* of the part */
    double size_m;
};

/*
 * Expanded uncertainty, k = 2, of one reading: d / (2 sqrt 3) of the step d,
 * a / sqrt 3 of each half-width a, added as squares [GUM 4.3.7, F.2.2.1].
 */
double measure_uncertainty_m(const struct measure_budget *budget);

/*
 * Where the readings lie, seen from the metal: a pin's own sizes; a hole's with
 * the sign turned, so that larger always means more metal.
 */
enum measure_zone {
    MEASURE_PROVED,   /* all inside the limits, the uncertainty kept back */
    MEASURE_IN_DOUBT, /* the least metal lies too near its limit to tell, whatever stands above */
    MEASURE_EXCESS,   /* metal stands above and can come off, and none is missing */
    MEASURE_SHORT,    /* metal is missing, proved */
    MEASURE_COARSE    /* the uncertainty takes half the limits' width or more */
};

/* Limits of the metal, the uncertainty of a reading. */
struct measure_window {
    double low_m, high_m, uncertainty_m;
};

/* Does the uncertainty leave no room between the limits? */
bool measure_is_coarse(const struct measure_window *window);

/* The window proved conformity leaves [ISO 14253-1]: low + U to high - U, or
 * the middle twice where the uncertainty is too large for that. */
struct limits measure_pass(const struct measure_window *window);

/* Limits rounded inward to whole steps of an instrument; as they are where no
 * step lies between them or the step is zero. */
struct limits measure_inward(const struct limits *limits, double step_m);

/*
 * ISO 14253-1 (default of 1998 and 2013: U with k = 2 against the party that
 * proves; from memory): conformity is proved inside low + U to high - U,
 * nonconformity outside low - U to high + U. Beyond high - U the part is taken
 * to have metal to come off: doubt at that end can be worked away. Doubt at the
 * other end cannot, so it is settled first: cutting the rest down would be work
 * on a part that may be scrap. A coarse instrument proves only what lies
 * outside by U.
 */
enum measure_zone measure_zone(const struct measure_window *window, double least_m, double most_m);

#endif
