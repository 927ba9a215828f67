#include "wire/drawing.h"

#include "wire/curves.h"
#include "wire/plot.h"
#include "wire/sketch.h"

/* More points than this cannot be told apart. */
enum { POINTS = 360 };

bool
drawing_of(enum call call)
{
    return call == CALL_load || call == CALL_check || call == CALL_slot || call == CALL_fit;
}

void
drawing_write(struct buffer *out, const struct job *job, const struct report *report, unsigned points)
{
    if (report->call != CALL_load) {
        sketch_write(out, job, report);
        return;
    }
    struct report_curves curves;
    if (curves_compute(&curves, job, points > 0 ? points : POINTS)) {
        plot_write(out, job, report, &curves);
    } else {
        out->failed = true;
    }
    curves_clear(&curves);
}
