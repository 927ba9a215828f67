/*
 * Names that the tables know: threads, fit classes, steels, metals, bolts,
 * calls. The text may end with a size: "g6 1.375".
 */

#include "fuzz/harness.h"

#include <math.h>
#include <string.h>

#include "joint/name.h"
#include "joint/report.h"
#include "joint/thread.h"
#include "wire/answer.h"

static void
hold_thread(const char *text)
{
    struct thread thread, again;
    memset(&thread, 0, sizeof thread);
    memset(&again, 0, sizeof again);
    if (!thread_read(text, &thread)) {
        return;
    }
    HOLDS(thread.diameter_m >= 0.0009 && thread.diameter_m <= 0.1001, "%s: %g m", text, thread.diameter_m);
    HOLDS(thread.pitch_m > 0.0 && thread.pitch_m < thread.diameter_m, "%s: pitch %g m", text, thread.pitch_m);
    const double gross_m2 = 0.785398163397448 * thread.diameter_m * thread.diameter_m;
    const double area_m2 = thread_stress_area_m2(&thread);
    HOLDS(area_m2 > 0.0 && area_m2 < gross_m2, "%s: stress area %g m2", text, area_m2);
    /* to six figures, as a designation is written */
    HOLDS(thread_read(thread.designation, &again) && strcmp(again.designation, thread.designation) == 0 &&
              fabs(again.diameter_m - thread.diameter_m) <= 1e-5 * thread.diameter_m &&
              fabs(again.pitch_m - thread.pitch_m) <= 1e-5 * thread.pitch_m,
          "%s is told as %s, which reads as %s", text, thread.designation, again.designation);
}

static void
hold_class(const char *class_name, double nominal_m)
{
    for (int side = FIT_SIDE_NONE; side <= FIT_SIDE_HOLE; side++) {
        struct limits limits = {.min_m = 0.0};
        if (fit_limits(nominal_m, class_name, (enum fit_side)side, &limits) != FIT_OK) {
            continue;
        }
        HOLDS(limits.min_m < limits.max_m, "%s at %g m", class_name, nominal_m);
        HOLDS(limits.nominal_m == nominal_m && strlen(limits.class_name) < FIT_CLASS_SIZE, "%s", class_name);
        HOLDS(fabs(limits.min_m - nominal_m) < 0.001 && fabs(limits.max_m - nominal_m) < 0.001, "%s at %g m", class_name,
              nominal_m);
    }
}

static void
hold_materials(const char *text)
{
    bool by_grade = false;
    const struct steel *steel = steel_find(text, &by_grade);
    const struct metal *metal = metal_find(text);
    HOLDS(steel == NULL || by_grade || name_same(steel->id, text), "%s is no %s", text, steel->id);
    HOLDS(metal == NULL || name_same(metal->id, text), "%s is no %s", text, metal->id);
    (void)steel_nearest(text);
    (void)metal_nearest(text);
    const struct bolt_grade *grade = bolt_grade_find(text, 0.01);
    HOLDS(grade == NULL || (grade->proof_Pa > 0.0 && grade->proof_Pa < grade->tensile_Pa), "%s", text);
    HOLDS(screw_point_factor(text) >= 0.0, "%s", text);
}

/* A row of a served table, in a path. */
static void
hold_row(const char *text)
{
    static const char *const tables[] = {"steels", "bearing-metals", "bolts", "fit-classes", "units", "sources", "checks"};
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        struct reply reply = {.status = 0};
        HOLDS(answer_table(tables[i], text, &reply), "no table %s", tables[i]);
        HOLDS((reply.status == 200 || reply.status == 404) && reply.length > 0, "%s/%s: %d", tables[i], text, reply.status);
        reply_clear(&reply);
    }
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = copy_text(data, size);
    hold_thread(text);
    hold_materials(text);
    hold_row(text);
    char *blank = strchr(text, ' ');
    const double size_in = blank != NULL ? strtod(blank, NULL) : 1.0;
    if (blank != NULL) {
        *blank = '\0';
    }
    if (isfinite(size_in)) {
        hold_class(text, size_in * 0.0254);
    }
    free(text);
    return 0;
}
