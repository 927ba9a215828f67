#include "joint/check.h"

#include <math.h>
#include <string.h>

#include "joint/inspection.h"

#define CHECK(id) extern const struct check check_##id;
#include "joint/check.def"

static const struct check *const check_rows[CHECK_COUNT] = {
#define CHECK(id) &check_##id,
#include "joint/check.def"
};

_Static_assert((int)CHECK_COUNT <= (int)FINDING_MAX, "one finding per check");

const struct check *
check_row(size_t index)
{
    return check_rows[index];
}

size_t
check_count(void)
{
    return CHECK_COUNT;
}

size_t
check_index(const char *id)
{
    size_t index = 0;

    while (index < check_count() && strcmp(check_rows[index]->id, id) != 0) {
        index++;
    }
    return index;
}

static bool
need_known(const struct need *need, const struct job *job)
{
    for (size_t i = 0; i < sizeof need->any / sizeof need->any[0]; i++) {
        if (need->any[i] != FIELD_NONE && job_known(job, need->any[i])) {
            return true;
        }
    }
    return false;
}

bool
check_needs_known(const struct check *check, const struct job *job)
{
    for (size_t i = 0; i < check->needs_count; i++) {
        if (!need_known(&check->needs[i], job)) {
            return false;
        }
    }
    return true;
}

/* Members that do not enter although the check names them. */
static bool
left_out(const struct check *check, const struct job *job, enum job_field field)
{
    const bool peak_given = job_known(job, FIELD_engine_peak_pressure);
    const bool curve_only = peak_given && !check->whole_cycle;

    switch ((int)field) {
    case FIELD_engine_compression_pressure:
    case FIELD_engine_compression_ratio:
        return curve_only;
    case FIELD_engine_pressure_rise_ratio:
        return curve_only || (peak_given && (job_known(job, FIELD_engine_compression_pressure) ||
                                             job_known(job, FIELD_engine_compression_ratio)));
    case FIELD_engine_polytropic_exponent:
    case FIELD_engine_intake_pressure:
        return curve_only || (!check->whole_cycle && job_known(job, FIELD_engine_compression_pressure));
    case FIELD_engine_reciprocating_mass:
    case FIELD_engine_rod_length:
        return !job_known(job, FIELD_engine_speed);
    case FIELD_pin_length:
        return check->section == SECTION_turning && !job_given(job, field);
    case FIELD_pin_steel:
    case FIELD_running_fit_hole_metal:
        return check->section == SECTION_inspection && !inspection_rests_on(job, field);
    case FIELD_slot_angle:
        return !job_known(job, FIELD_slot_depth);
    case FIELD_press_fit_bushing_metal:
    case FIELD_press_fit_housing_metal:
    case FIELD_press_fit_friction:
        return !job_group_given(job, GROUP_press_fit);
    default:
        return false;
    }
}

static bool
names_field(const struct check *check, enum job_field field)
{
    for (size_t i = 0; i < check->reads_count; i++) {
        if (check->reads[i] == field) {
            return true;
        }
    }
    return false;
}

bool
check_field_enters(const struct check *check, const struct job *job, enum job_field field)
{
    return job_known(job, field) && !left_out(check, job, field);
}

bool
check_reads_field(const struct check *check, const struct job *job, enum job_field field)
{
    return names_field(check, field) && check_field_enters(check, job, field);
}

/* Dimensions of the joint that defaults stand in for when nobody measured. */
static bool
is_geometry(enum job_field field)
{
    switch ((int)field) {
    case FIELD_pin_length:
    case FIELD_eye_width:
    case FIELD_eye_outside:
    case FIELD_boss_length:
    case FIELD_boss_gap:
    case FIELD_clamp_bolt_hinge_offset:
        return true;
    default:
        return false;
    }
}

/* The pin's length matters to the pin as a beam only through the bosses: with
 * their length given it is no more than their sum. */
static bool
told_by_the_bosses(const struct check *check, const struct job *job, enum job_field field)
{
    return field == FIELD_pin_length && job_given(job, FIELD_boss_length) && names_field(check, FIELD_boss_length);
}

bool
check_rests_on_assumed_geometry(const struct check *check, const struct job *job)
{
    for (size_t i = 0; i < check->reads_count; i++) {
        const enum job_field field = check->reads[i];

        if (is_geometry(field) && job->state[field] == FIELD_ASSUMED && !left_out(check, job, field) &&
            !told_by_the_bosses(check, job, field)) {
            return true;
        }
    }
    return false;
}

/* ---- writing a finding ---- */

static void
finding_limits(struct finding *finding, double value, double advised, double limit, double utilization)
{
    finding->judged = true;
    finding->has_value = finding->has_limits = finding->has_utilization = true;
    finding->value = value;
    finding->advised = advised;
    finding->limit = limit;
    finding->utilization = fmin(utilization, UTILIZATION_MAX);
}

void
finding_ceiling(struct finding *finding, double value, double advised, double limit)
{
    finding_limits(finding, value, advised, limit, value / limit);
    finding->verdict = value <= advised ? VERDICT_OK : value <= limit ? VERDICT_MARGINAL : VERDICT_FAILS;
}

void
finding_floor(struct finding *finding, double value, double advised, double limit)
{
    finding_limits(finding, value, advised, limit, value * UTILIZATION_MAX > limit ? limit / value : UTILIZATION_MAX);
    finding->verdict = value >= advised ? VERDICT_OK : value >= limit ? VERDICT_MARGINAL : VERDICT_FAILS;
}

void
finding_advise(struct finding *finding, const char *text)
{
    finding->advice.text = text;
}

void
finding_advise_value(struct finding *finding, size_t place, double si, enum dimension dimension)
{
    finding->advice.value[place].si = si;
    finding->advice.value[place].dimension = dimension;
}

void
finding_advise_word(struct finding *finding, size_t place, const char *word)
{
    finding->advice.word[place] = word;
}

void
finding_fix(struct finding *finding, enum job_field field)
{
    finding->fix = field;
}

void
finding_fix_to(struct finding *finding, enum job_field field, double to)
{
    const struct job_field_row *row = job_field_row(field);

    finding->fix = field;
    finding->has_fix_to = to >= row->minimum && to <= row->maximum;
    finding->fix_to = to;
}

void
finding_not_applicable(struct finding *finding, const char *why)
{
    finding->not_applicable = why;
}

struct allowable
allowable_ceiling(const struct job *job, enum job_field override_field, double override_si, double advised,
                  double limit)
{
    struct allowable allowable = {advised, limit};

    if (job_given(job, override_field)) {
        allowable.limit = override_si;
        allowable.advised = 0.9 * override_si;
    }
    return allowable;
}

struct allowable
allowable_factor(const struct job *job, enum job_field override_field, double override_si, double advised, double limit)
{
    struct allowable allowable = {advised, limit};

    if (job_given(job, override_field)) {
        allowable.limit = override_si;
        allowable.advised = override_si / 0.9;
    }
    return allowable;
}
