#ifndef SMALLEND_JOINT_THREAD_SCAN_H
#define SMALLEND_JOINT_THREAD_SCAN_H

/*
 * Behind thread.h: what a thread designation says, before the tables complete
 * it. Knows the many ways to write one, no thread.
 */

#include <stdbool.h>

enum thread_series { SERIES_NONE, SERIES_UNC, SERIES_UNF, SERIES_UN, SERIES_BSW, SERIES_BSF };

struct thread_text {
    bool metric;
    double diameter; /* in, or mm where metric */
    int number;      /* machine screw number, -1 if the size is no number */
    double pitch;    /* metric: mm, 0 = not said */
    double per_inch; /* inch: threads per inch, 0 = not said */
    enum thread_series series;
};

/*
 * "3/8-16 UNC", "3/8 UNC-2A", "#10-24", "10-24", "1 1/4-7", "M10x1.5-6g" ...
 * in either case, with vulgar fractions and typographic signs. False if `text`
 * is none; *read is then undefined.
 */
bool thread_scan(const char *text, struct thread_text *read);

/* A whole number of inches up to 3 with a thread as fine as this is taken for
 * a machine screw number, unless an inch mark stands behind it. */
#define THREAD_FINE_per_inch 40.0

#endif
