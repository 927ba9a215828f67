#include "wire/drawing.h"

#include "wire/curves.h"
#include "wire/plot.h"
#include "wire/sketch.h"

/* More points than this cannot be told apart. */
enum { POINTS = 360 };

bool
drawing_of(enum call call)
{
    static const bool drawn[CALL_COUNT] = {
#define CALL(id, word, sections, summary) false,
#define CALL_DRAWN(id, word, sections, summary) true,
#include "joint/call.def"
    };
    return drawn[call];
}

void
drawing_write(struct buffer *out, const struct job *job, const struct report *report, unsigned points)
{
    if (!curves_of(report->call)) {
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
