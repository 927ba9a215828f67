#include "joint/conclude.h"

#include "joint/inspection.h"
#include "joint/lock_demand.h"

/* Which assumptions an answer rests on: defaults that were used, demands worked
 * out from the load, units and grades taken for granted. */

/* Mark the fields that the checks of the answer rest on. */
static void
mark_used(const struct job *job, const struct report *report, bool used[FIELD_COUNT])
{
    const section_set sections = call_row(report->call)->sections;

    for (size_t i = 0; i < check_count(); i++) {
        const struct check *check = check_row(i);

        if ((sections & (1u << check->section)) == 0 || !finding_counts(&report->finding[i])) {
            continue;
        }
        for (size_t r = 0; r < check->reads_count; r++) {
            used[check->reads[r]] = used[check->reads[r]] || check_field_enters(check, job, check->reads[r]);
        }
    }
}

/* The loads are known, and the call is not one of the shop, which needs none. */
static bool
load_enters(const struct derived *derived, const struct report *report)
{
    const section_set shop = SECTION_BIT(inspection) | SECTION_BIT(turning);

    return derived->load.known && (call_row(report->call)->sections & ~shop) != 0;
}

/* The loads are reported without a check of their own where the speed is not
 * given, and rest on the engine's members all the same. */
static bool
load_rests_on(const struct derived *derived, const struct report *report, enum job_field field)
{
    const bool engine = field >= FIELD_engine_cycle && field <= FIELD_engine_reciprocating_mass;

    return load_enters(derived, report) && engine &&
           (field != FIELD_engine_reciprocating_mass || derived->load.inertia_known);
}

/* What turning works out without a check of its own rests on these. */
static bool
turning_rests_on(const struct derived *derived, const struct report *report, enum job_field field)
{
    const struct turning *turning = &derived->turning;

    if ((call_row(report->call)->sections & SECTION_BIT(turning)) == 0 || !turning->known) {
        return false;
    }
    switch ((int)field) {
    case FIELD_turning_tool:
        return turning->speed_known;
    case FIELD_turning_dial:
    case FIELD_turning_depth_of_cut:
    case FIELD_turning_nose_radius:
    case FIELD_turning_roughness:
        return turning->passes_known;
    case FIELD_pin_length:
        return turning->length_known;
    default:
        return false;
    }
}

/* The measured sizes and the form are reported where no limits are known to
 * judge them by, and rest on these all the same. */
static bool
inspection_sizes_rest_on(const struct job *job, const struct derived *derived, const struct report *report,
                         enum job_field field)
{
    const struct inspection *inspection = &derived->inspection;

    if ((call_row(report->call)->sections & SECTION_BIT(inspection)) == 0 || !inspection->known) {
        return false;
    }
    switch ((int)field) {
    case FIELD_inspection_part:
    case FIELD_inspection_part_temperature:
    case FIELD_inspection_instrument_temperature:
        return true;
    case FIELD_inspection_resolution:
    case FIELD_inspection_uncertainty:
        return inspection->form_known;
    case FIELD_running_fit_hole_metal:
        return inspection_rests_on(job, field);
    default:
        return false;
    }
}

static struct assumption *
add_assumption(struct report *report, enum job_field at, const char *because)
{
    struct assumption *assumption;

    if (report->assumption_count == ASSUMPTION_MAX) {
        return NULL;
    }
    assumption = &report->assumption[report->assumption_count++];
    assumption->at = at;
    assumption->kind = ASSUMED_NOTHING;
    assumption->because.text = because;
    return assumption;
}

static struct assumption *
assume_quantity(struct report *report, enum job_field at, double si, enum dimension dimension, const char *because)
{
    struct assumption *assumption = add_assumption(report, at, because);

    if (assumption != NULL) {
        assumption->kind = ASSUMED_QUANTITY;
        assumption->si = si;
        assumption->dimension = dimension;
    }
    return assumption;
}

static void
assume_limits(struct report *report, enum job_field at, double low_m, double high_m, const char *because)
{
    struct assumption *assumption = add_assumption(report, at, because);

    if (assumption != NULL) {
        assumption->kind = ASSUMED_LIMITS;
        assumption->si = low_m;
        assumption->high = high_m;
        assumption->dimension = DIMENSION_LENGTH;
    }
}

static void
assume_word(struct report *report, enum job_field at, const char *word, const char *because)
{
    struct assumption *assumption = add_assumption(report, at, because);

    if (assumption != NULL) {
        assumption->kind = ASSUMED_WORD;
        assumption->word = word;
    }
}

static void
assume_field(const struct job *job, struct report *report, enum job_field field)
{
    const struct job_field_row *row = job_field_row(field);
    const char *const value = (const char *)job + row->offset;
    const char *const because = job_default_because(field);
    size_t count;

    switch (row->kind) {
    case KIND_NUMBER:
        assume_quantity(report, field, *(const double *)(const void *)value, row->dimension, because);
        break;
    case KIND_LIMITS: {
        const struct limits *limits = (const struct limits *)(const void *)value;
        assume_limits(report, field, limits->min_m, limits->max_m, because);
        break;
    }
    case KIND_CHOICE:
        assume_word(report, field, choice_table(row->choices, &count)[*(const int *)(const void *)value].text, because);
        break;
    case KIND_METAL:
        assume_word(report, field, job_metal(job, field)->id, because);
        break;
    case KIND_THREAD:
        assume_word(report, field, job->clamp_bolt.thread.designation, because);
        break;
    default:
        add_assumption(report, field, because);
        break;
    }
}

/* Demands that nobody gave are worked out from the load; they are assumptions
 * too although no default stands in the job. */
static void
assume_demands(const struct job *job, const struct derived *derived, struct report *report)
{
    const section_set sections = call_row(report->call)->sections;
    double axial_N, torque_Nm;

    if (report_judged_in(report, sections & (SECTION_BIT(slot) | SECTION_BIT(set_screw))) == 0) {
        return;
    }
    if (!job_known(job, FIELD_demand_axial) && lock_axial_demand_N(job, derived, &axial_N)) {
        assume_quantity(
            report, FIELD_demand_axial, axial_N, DIMENSION_FORCE,
            "5 % of the peak load on the pin (judgement): the engine rocks and rods are never quite square");
    }
    if (!job_known(job, FIELD_demand_torque) && lock_torque_demand_Nm(job, derived, &torque_Nm)) {
        assume_quantity(report, FIELD_demand_torque, torque_Nm, DIMENSION_TORQUE,
                        "drag of the surface that rubs, friction 0.15 at the peak load (judgement)");
    }
}

static void
assume_wanted(const struct derived *derived, struct report *report)
{
    assume_limits(report, FIELD_running_fit_wanted, derived->running.wanted_min_m, derived->running.wanted_max_m,
                  "the trade's rule per inch of diameter (common practice, no source)");
}

/* The speed is not the one printed, and the allowance is a rule of the shop. */
static void
assume_turning(const struct job *job, const struct derived *derived, struct report *report)
{
    const struct turning *turning = &derived->turning;

    if (turning->speed_known) {
        struct assumption *speed = assume_quantity(
            report, FIELD_pin_steel, turning->cutting_speed_m_s, DIMENSION_CUTTING_SPEED,
            "cutting speed: six tenths of the {0} printed for {a}, because an old light lathe takes half to "
            "two thirds (common practice, no source); printed in: {b}");
        if (speed != NULL) {
            speed->because.value[0].si = turning->table_speed_m_s;
            speed->because.value[0].dimension = DIMENSION_CUTTING_SPEED;
            speed->because.word[0] = turning->speed_row->material;
            speed->because.word[1] = source_find(turning->speed_row->source)->citation;
        }
    }
    if (turning->known && !turning->at_size) {
        struct assumption *left = assume_quantity(
            report, FIELD_pin_finish, turning->finishing_allowance_m, DIMENSION_LENGTH,
            turning->to_grind ? "left on the diameter to grind{a}; 0.008 to 0.015 in is common practice, no "
                                "source"
                              : "left on the diameter for file and cloth; 0.0005 to 0.001 in is common "
                                "practice, no source");
        if (left != NULL && job->pin.finish != CHOICE_finish_GROUND) {
            left->because.word[0] = " after hardening";
        }
    }
}

/* Sizes at 20 degC rest on the growth of the metal, also where none is named. */
static void
assume_inspection(const struct job *job, const struct derived *derived, struct report *report)
{
    const struct steel *steel = job_steel(job);

    if (derived->inspection.known && inspection_rests_on(job, FIELD_pin_steel) &&
        (steel == NULL || !steel->expansion.given)) {
        assume_quantity(report, FIELD_pin_steel, inspection_expansion_per_K(job), DIMENSION_EXPANSION,
                        "growth with temperature of plain carbon steel");
    }
}

static void
assume_rest(const struct job *job, const struct derived *derived, struct report *report)
{
    if (!job->units_given && job->bare_numbers) {
        assume_word(report, FIELD_units, "inch", "numbers without a unit were read in inch units");
    }
    if (load_enters(derived, report) && !derived->load.inertia_known) {
        add_assumption(
            report, FIELD_engine_speed,
            "no speed given: inertia is left out of the peak load, which is the safe side, and the load ratio "
            "is taken as 0");
    }
    if (report_judged_in(report, call_row(report->call)->sections & SECTION_BIT(fit)) > 0 &&
        derived->running.wanted_known && !job_known(job, FIELD_running_fit_wanted)) {
        assume_wanted(derived, report);
    }
    if (job_given(job, FIELD_pin_steel) && job->pin.steel.by_grade) {
        assume_word(report, FIELD_pin_steel, job->pin.steel.row->id,
                    "only the grade was named: its usual bar condition");
    }
}

void
assume(const struct job *job, const struct derived *derived, struct report *report)
{
    bool used[FIELD_COUNT] = {false};

    assume_rest(job, derived, report);
    mark_used(job, report, used);
    for (int field = 0; field < FIELD_COUNT; field++) {
        if (job->state[field] == FIELD_ASSUMED &&
            (used[field] || load_rests_on(derived, report, (enum job_field)field) ||
             inspection_sizes_rest_on(job, derived, report, (enum job_field)field) ||
             turning_rests_on(derived, report, (enum job_field)field))) {
            assume_field(job, report, (enum job_field)field);
        }
    }
    assume_demands(job, derived, report);
    if ((call_row(report->call)->sections & SECTION_BIT(turning)) != 0) {
        assume_turning(job, derived, report);
    }
    if ((call_row(report->call)->sections & SECTION_BIT(inspection)) != 0) {
        assume_inspection(job, derived, report);
    }
}

void
assume_estimate(const struct report *higher, struct report *report)
{
    const size_t worst = report_nearest_limit(higher);

    for (size_t i = 0; i < report->assumption_count; i++) {
        struct assumption *assumption = &report->assumption[i];

        if (assumption->at == FIELD_engine_pressure_rise_ratio && worst != FINDING_MAX) {
            assumption->because.text =
                "peak over compression pressure of volatile fuels runs from 3 to 5; at 5 the worst "
                "check, {a}, would stand at {0%} of its limit";
            assumption->because.word[0] =
                check_row(worst)->name != NULL ? check_row(worst)->name : check_row(worst)->id;
            assumption->because.value[0].si = higher->finding[worst].utilization;
            assumption->because.value[0].dimension = DIMENSION_RATIO;
        }
    }
}
