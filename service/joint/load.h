#ifndef SMALLEND_JOINT_LOAD_H
#define SMALLEND_JOINT_LOAD_H

/* Loads from the job: shared by load.c and the job's validation. */

#include <stdbool.h>

#include "joint/cycle.h"
#include "joint/job.h"

/*
 * Gauge pressure at the end of compression: as given; else from the
 * compression ratio, p1 r^n less the atmosphere; else, where only a peak is
 * given, peak / pressure_rise_ratio. False where none of the three is known.
 * May be at or below zero for a starved intake: job_validate refuses that.
 */
bool load_compression_gauge_Pa(const struct job *job, double *gauge_Pa);

/*
 * Volume ratio that shapes the pressure curve: as given; else the one that
 * reaches the compression pressure by p V^n. False where unknown.
 */
bool load_curve_ratio(const struct job *job, double *ratio);

/* Peak gauge pressure: given, or pressure_rise_ratio x compression. */
bool load_peak_gauge_Pa(const struct job *job, double *gauge_Pa, bool *estimated);

/* The slider-crank and cycle of the job; false where bore, stroke or every
 * pressure is absent. */
bool load_cycle(const struct job *job, struct cycle *cycle);

#endif
