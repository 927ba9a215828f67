#include "joint/thread.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"
#include "joint/printed.h"
#include "joint/thread_scan.h"

struct inch_thread {
    enum thread_series series;
    const char *size;
    double diameter_in;
    double per_inch;
};

struct metric_thread {
    double diameter_mm;
    double pitch_mm;
};

static const struct inch_thread inch_threads[] = {
#define THREAD_INCH(series, size, diameter_in, per_inch) {SERIES_##series, size, diameter_in, per_inch},
#define THREAD_METRIC(diameter_mm, pitch_mm)
#include "joint/thread.def"
};

static const struct metric_thread metric_threads[] = {
#define THREAD_INCH(series, size, diameter_in, per_inch)
#define THREAD_METRIC(diameter_mm, pitch_mm) {diameter_mm, pitch_mm},
#include "joint/thread.def"
};

enum {
    INCH_COUNT = sizeof inch_threads / sizeof inch_threads[0],
    METRIC_COUNT = sizeof metric_threads / sizeof metric_threads[0]
};

/* Two sizes closer than this are the same size, written differently. */
static const double SAME_in = 1e-6;
static const double SAME_mm = 1e-6;

/* What is taken for a thread: 1 to 100 mm, no finer than the finest in use (M1
 * x 0.2, M100 x 1), no coarser than the coarsest (Whitworth 1/16-60, 0.27). */
static const double DIAMETER_MIN_m = 1e-3, DIAMETER_MAX_m = 0.1;
static const double PITCH_MIN_m = 0.19e-3, PITCH_MIN_ratio = 0.0099, PITCH_MAX_ratio = 0.30;

static const char *
series_text(enum thread_series series)
{
    switch (series) {
    case SERIES_UNC:
        return "UNC";
    case SERIES_UNF:
        return "UNF";
    case SERIES_BSW:
        return "BSW";
    case SERIES_BSF:
        return "BSF";
    case SERIES_UN:
    case SERIES_NONE:
        break;
    }
    return "UN";
}

/* The row of a series for a diameter, NULL if it has none. */
static const struct inch_thread *
inch_row(enum thread_series series, double diameter_in)
{
    for (size_t i = 0; i < INCH_COUNT; i++) {
        if (inch_threads[i].series == series && fabs(inch_threads[i].diameter_in - diameter_in) < SAME_in) {
            return &inch_threads[i];
        }
    }
    return NULL;
}

static bool
same_pitch(const struct inch_thread *row, double per_inch)
{
    return row != NULL && fabs(row->per_inch - per_inch) < 1e-6;
}

/*
 * Find series and pitch from each other. False if the text gives too little,
 * or a series and a pitch that do not belong together.
 */
static bool
complete_inch(struct thread_text *text)
{
    const struct inch_thread *row;

    if (text->series == SERIES_NONE) {
        text->series = same_pitch(inch_row(SERIES_UNC, text->diameter), text->per_inch)   ? SERIES_UNC
                       : same_pitch(inch_row(SERIES_UNF, text->diameter), text->per_inch) ? SERIES_UNF
                                                                                          : SERIES_UN;
    }
    if (text->series == SERIES_UN) {
        return text->per_inch > 0.0;
    }
    row = inch_row(text->series, text->diameter);
    if (row == NULL || (text->per_inch > 0.0 && !same_pitch(row, text->per_inch))) {
        return false;
    }
    text->per_inch = row->per_inch;
    return true;
}

/* "1 1/4", "#10", "0.41": a diameter as a shop would write it. */
static void
add_inch_size(struct text *out, const struct thread_text *text)
{
    const double parts = text->diameter * 64.0;
    unsigned whole, over, under = 64;

    if (text->number >= 0) {
        text_format(out, "#%d", text->number);
        return;
    }
    if (fabs(parts - round(parts)) > 64.0 * SAME_in) {
        text_format(out, "%.4g", text->diameter);
        return;
    }
    whole = (unsigned)round(parts) / 64;
    over = (unsigned)round(parts) % 64;
    while (over != 0 && over % 2 == 0) {
        over /= 2;
        under /= 2;
    }
    if (whole != 0 || over == 0) {
        text_format(out, over == 0 ? "%u" : "%u ", whole);
    }
    if (over != 0) {
        text_format(out, "%u/%u", over, under);
    } else if (text->per_inch >= THREAD_FINE_per_inch) {
        text_add(out, "\""); /* not a machine screw number */
    }
}

/* Complete a metric thread with its coarse pitch, if it names none. */
static bool
complete_metric(struct thread_text *text)
{
    for (size_t i = 0; text->pitch == 0.0 && i < METRIC_COUNT; i++) {
        if (fabs(metric_threads[i].diameter_mm - text->diameter) < SAME_mm) {
            text->pitch = metric_threads[i].pitch_mm;
        }
    }
    return text->pitch > 0.0;
}

static bool
in_range(const struct thread *thread)
{
    return thread->diameter_m >= DIAMETER_MIN_m && thread->diameter_m <= DIAMETER_MAX_m &&
           thread->pitch_m >= PITCH_MIN_m && thread->pitch_m >= PITCH_MIN_ratio * thread->diameter_m &&
           thread->pitch_m <= PITCH_MAX_ratio * thread->diameter_m;
}

static void
put_metric(double diameter_mm, double pitch_mm, struct thread *thread)
{
    *thread = (struct thread){.diameter_m = diameter_mm * SI_PER_MM, .pitch_m = pitch_mm * SI_PER_MM, .metric = true};
    (void)snprintf(thread->designation, sizeof thread->designation, "M%gx%g", diameter_mm, pitch_mm);
}

static void
put_inch(const struct inch_thread *row, struct thread *thread)
{
    *thread = (struct thread){.diameter_m = row->diameter_in * SI_PER_INCH, .pitch_m = SI_PER_INCH / row->per_inch};
    (void)snprintf(thread->designation, sizeof thread->designation, "%s-%g %s", row->size, row->per_inch,
                   series_text(row->series));
}

/* The thread that the text means, metric or inch; false if it is none. */
static bool
make_metric(struct thread_text *text, struct thread *thread)
{
    if (!complete_metric(text)) {
        return false;
    }
    put_metric(text->diameter, text->pitch, thread);
    return in_range(thread);
}

static bool
make_inch(struct thread_text *text, struct thread *thread)
{
    struct text out;

    if (!complete_inch(text)) {
        return false;
    }
    *thread = (struct thread){.diameter_m = text->diameter * SI_PER_INCH, .pitch_m = SI_PER_INCH / text->per_inch};
    text_init(&out, thread->designation, sizeof thread->designation);
    add_inch_size(&out, text);
    text_format(&out, "-%g %s", text->per_inch, series_text(text->series));
    return in_range(thread);
}

bool
thread_read(const char *text, struct thread *thread)
{
    struct thread_text read;
    struct thread found;

    if (!thread_scan(text, &read) || !(read.metric ? make_metric(&read, &found) : make_inch(&read, &found))) {
        return false;
    }
    *thread = found;
    return true;
}

void
thread_coarse_near(double diameter_m, bool metric, struct thread *thread)
{
    size_t nearest = 0;

    if (metric) {
        const double diameter_mm = diameter_m / SI_PER_MM;

        for (size_t i = 1; i < METRIC_COUNT; i++) {
            if (fabs(metric_threads[i].diameter_mm - diameter_mm) <
                fabs(metric_threads[nearest].diameter_mm - diameter_mm) - SAME_mm) {
                nearest = i;
            }
        }
        put_metric(metric_threads[nearest].diameter_mm, metric_threads[nearest].pitch_mm, thread);
    } else {
        const double diameter_in = diameter_m / SI_PER_INCH;

        /* The coarse series stands first in the table. */
        for (size_t i = 1; i < INCH_COUNT && inch_threads[i].series == SERIES_UNC; i++) {
            if (fabs(inch_threads[i].diameter_in - diameter_in) <
                fabs(inch_threads[nearest].diameter_in - diameter_in) - SAME_in) {
                nearest = i;
            }
        }
        put_inch(&inch_threads[nearest], thread);
    }
}

/*
 * Circle of the mean of pitch and minor diameter: ASME B1.1, D - 0.9743/n;
 * ISO 898-1, d - 0.9382 P. Whitworth form would give D - 0.9605/n; the Unified
 * figure is used for it too, 0.4 to 1 % less, on the safe side.
 */
double
thread_stress_area_m2(const struct thread *thread)
{
    const double diameter_m = thread->diameter_m - (thread->metric ? 0.9382 : 0.9743) * thread->pitch_m;

    return 3.14159265358979323846 / 4.0 * diameter_m * diameter_m;
}
