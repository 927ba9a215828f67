#include "joint/conclude_part.h"

/* What to do next: first what the checks say, then what is missing. */

static struct next_step *
add_step(struct report *report, const char *text, enum job_field at)
{
    struct next_step *step;

    if (report->next_step_count == NEXT_STEP_MAX) {
        return NULL;
    }
    step = &report->next_step[report->next_step_count++];
    step->text.text = text;
    step->at = at;
    return step;
}

/* How many of the worst checks get a step of their own. */
enum { STEPS_FROM_CHECKS = 6 };

static bool
advice_repeated(const struct report *report, const struct finding *finding)
{
    for (size_t i = 0; i < report->next_step_count; i++) {
        if (report->next_step[i].text.text == finding->advice.text && report->next_step[i].at == finding->fix) {
            return true;
        }
    }
    return false;
}

/* A check that repeats others gets no step of its own beside them. */
static bool
repeats_others(const struct report *report, size_t index)
{
    const section_set strength = SECTION_BIT(strength) | SECTION_BIT(slot);

    return check_row(index)->repeats && report_judged_in(report, call_row(report->call)->sections & strength) > 0;
}

static void
steps_from_checks(struct report *report, const size_t order[], size_t count)
{
    for (size_t i = 0; i < count && report->next_step_count < STEPS_FROM_CHECKS; i++) {
        const struct finding *finding = &report->finding[order[i]];
        struct next_step *step;

        if (finding->verdict == VERDICT_OK || finding->advice.text == NULL || repeats_others(report, order[i]) ||
            advice_repeated(report, finding)) {
            continue;
        }
        step = add_step(report, finding->advice.text, finding->fix);
        if (step != NULL) {
            step->text = finding->advice;
            step->has_to = finding->has_fix_to;
            step->to = finding->fix_to;
        }
    }
}

/* Members worth asking for, most useful first, and why. */
static const struct {
    enum job_field field;
    enum section section; /* asked only where this section is part of the call */
    const char *text;
} wanted[] = {
    {FIELD_engine_bore, SECTION_load, "Give the cylinder bore: every load follows from it."},
    {FIELD_engine_stroke, SECTION_load, "Give the stroke."},
    {FIELD_pin_steel, SECTION_material, "Name the steel to see it judged; the ranking shows which would serve."},
    {FIELD_engine_speed, SECTION_load, "Give the speed, so that inertia, load reversal and heating can be judged."},
    {FIELD_pin_diameter, SECTION_strength, "Give the pin's diameter, or ask for the smallest that serves."},
    {FIELD_pin_steel, SECTION_strength, "Name the steel, or ask for the table ranked for this joint."},
    {FIELD_slot_depth, SECTION_slot, "Give the depth of the slot and the diameter of its cutter."},
    {FIELD_clamp_bolt_offset, SECTION_slot, "Give the distance from the pin's center to the bolt's."},
    {FIELD_clamp_bolt_torque, SECTION_slot, "Give the torque of the clamp bolt, so that its grip can be judged."},
    {FIELD_set_screw_torque, SECTION_set_screw, "Give the thread and the torque of the set screws."},
    {FIELD_running_fit_hole, SECTION_fit, "Give the hole's limits, so that the clearance can be judged."},
};

/* Steels are ranked by what strength reads. */
static section_set
sections_read(enum call call)
{
    const section_set own = call_row(call)->sections;
    return call == CALL_material ? own | SECTION_BIT(load) | SECTION_BIT(strength) : own;
}

/* Is this call one to ask for members of the section? */
static bool
is_asked_for(const struct job *job, const struct report *report, enum section section)
{
    const section_set sections = sections_read(report->call);

    if (section == SECTION_material) { /* beside strength it wants nothing of its own */
        return report->call == CALL_material;
    }
    return (sections & (1u << section)) != 0 &&
           (section_present(job, section) || section <= SECTION_strength || sections == SECTION_BIT(fit) ||
            (section == section_asked(report->call) && asked_in_vain(report) == NULL));
}

static void
steps_from_gaps(const struct job *job, struct report *report)
{
    const section_set sections = sections_read(report->call);
    const bool no_pressure = !job_known(job, FIELD_engine_peak_pressure) &&
                             !job_known(job, FIELD_engine_compression_pressure) &&
                             !job_known(job, FIELD_engine_compression_ratio);

    if ((sections & SECTION_BIT(load)) != 0 && no_pressure) {
        add_step(report, "Give the peak pressure, or the compression pressure or ratio from which it can be estimated.",
                 FIELD_engine_peak_pressure);
    }
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        if (is_asked_for(job, report, wanted[i].section) && !job_known(job, wanted[i].field) &&
            !report_has_step_at(report, wanted[i].field)) {
            add_step(report, wanted[i].text, wanted[i].field);
        }
    }
}

void
conclude_steps(const struct job *job, const struct derived *derived, struct report *report, const size_t order[],
               size_t count)
{
    if (asked_in_vain(report) != NULL) {
        add_step(report,
                 "Say in pin.held_in what holds the pin; a pin that the rod holds is locked by clamp bolt and "
                 "slot, one that the piston holds by set screws.",
                 FIELD_pin_held_in);
    }
    steps_from_checks(report, order, count);
    steps_from_gaps(job, report);
    if (report->call == CALL_inspection) {
        conclude_inspection(job, derived, report);
    }
    if (report->call == CALL_turning) {
        conclude_turning(job, derived, report);
    }
    if (report->next_step_count == 0 && report->verdict == VERDICT_INCOMPLETE) {
        add_step(report, "Give what the checks that were not made need; not_checked lists it.", FIELD_NONE);
    } else if (report->next_step_count == 0) {
        add_step(report, "No change is called for; read the assumptions and cautions before cutting metal.",
                 FIELD_NONE);
    }
}
