#include "joint/derived.h"

#include "joint/report.h"

static void
running_report(const struct running *running, struct report *report)
{
    if (!running->cold_known) {
        return;
    }
    report_put(report, RESULT_fit_pin_min, running->pin_min_m);
    report_put(report, RESULT_fit_pin_max, running->pin_max_m);
    report_put(report, RESULT_fit_hole_min, running->hole_min_m);
    report_put(report, RESULT_fit_hole_max, running->hole_max_m);
    report_put(report, RESULT_fit_clearance_min, running->clearance_min_m);
    report_put(report, RESULT_fit_clearance_max, running->clearance_max_m);
    if (running->hot_known) {
        report_put(report, RESULT_fit_hot_clearance_min, running->hot_clearance_min_m);
        report_put(report, RESULT_fit_hot_clearance_max, running->hot_clearance_max_m);
    }
    /* Hole-basis fits hang on the smallest hole. */
    report->match_count =
        fit_nearest(running->hole_min_m, running->clearance_min_m, running->clearance_max_m, report->match, MATCH_MAX);
}

static void
contact_report(const struct press *press, struct report *report)
{
    report_put(report, RESULT_fit_press_pressure_max, press->pressure_max_Pa);
    if (press->force_known) {
        report_put(report, RESULT_fit_press_force_max, press->force_max_N);
        report_put(report, RESULT_fit_press_hold_min, press->hold_min_N);
    }
    report_put(report, RESULT_fit_bore_after_press_min, press->bore_after_min_m);
    report_put(report, RESULT_fit_bore_after_press_max, press->bore_after_max_m);
    if (press->hone_known) {
        report_put(report, RESULT_fit_hone_to_min, press->hone_min_m);
        report_put(report, RESULT_fit_hone_to_max, press->hone_max_m);
    }
    report_put(report, RESULT_fit_bushing_stress_max, press->bushing_stress_max_Pa);
}

static void
press_report(const struct press *press, struct report *report)
{
    if (!press->interference_known) {
        return;
    }
    report_put(report, RESULT_fit_press_interference_min, press->interference_min_m);
    report_put(report, RESULT_fit_press_interference_max, press->interference_max_m);
    if (press->hot_known) {
        report_put(report, RESULT_fit_press_interference_hot_min, press->interference_hot_min_m);
    }
    if (press->known) {
        contact_report(press, report);
    }
    if (press->outside_wanted) {
        report_put_limits(report, RESULT_fit_bushing_outside_wanted, press->outside_wanted_min_m,
                          press->outside_wanted_max_m);
    }
    if (press->wall_known) {
        report_put(report, RESULT_fit_bushing_wall, press->wall_m);
    }
}

void
fit_report(const struct derived *derived, struct report *report)
{
    running_report(&derived->running, report);
    press_report(&derived->press, report);
}
