#include "joint/report.h"

#include <math.h>

static const char *const section_names[SECTION_COUNT] = {
#define SECTION(id, meaning) #id,
#include "joint/section.def"
};

const char *
section_text(enum section section)
{
    return section_names[section];
}

#define S(id) SECTION_BIT(id)
static const struct call_row call_rows[CALL_COUNT] = {
#define CALL(id, word, sections, summary) {#id, word, sections, summary, true},
#define CALL_BY_POST(id, word, sections, summary) {#id, word, sections, summary, false},
#include "joint/call.def"
};
#undef S

const struct call_row *
call_row(enum call call)
{
    return &call_rows[call];
}

static const struct result_row result_rows[RESULT_COUNT] = {
#define RESULT(section, name, dimension, meaning)                                                                     \
    {SECTION_##section, #name, RESULT_IS_NUMBER, DIMENSION_##dimension, meaning},
#define RESULT_FLAG(section, name, meaning) {SECTION_##section, #name, RESULT_IS_FLAG, DIMENSION_COUNT, meaning},
#define RESULT_LIMITS(section, name, dimension, meaning)                                                              \
    {SECTION_##section, #name, RESULT_IS_LIMITS, DIMENSION_##dimension, meaning},
#define RESULT_WORD(section, name, meaning) {SECTION_##section, #name, RESULT_IS_WORD, DIMENSION_COUNT, meaning},
#include "joint/result.def"
};

const struct result_row *
result_row(enum result result)
{
    return &result_rows[result];
}

const char *
verdict_text(enum verdict verdict)
{
    switch (verdict) {
    case VERDICT_OK:
        return "ok";
    case VERDICT_MARGINAL:
        return "marginal";
    case VERDICT_INCOMPLETE:
        return "incomplete";
    case VERDICT_FAILS:
        break;
    }
    return "fails";
}

static void
put(struct report *report, enum result result, double low, double high)
{
    if (!isfinite(low) || !isfinite(high)) {
        report->defect = result_rows[result].name;
        return;
    }
    report->result[result].known = true;
    report->result[result].si = low;
    report->result[result].high = high;
    report->computed |= 1u << result_rows[result].section;
}

void
report_put(struct report *report, enum result result, double si)
{
    put(report, result, si, si);
}

void
report_put_flag(struct report *report, enum result result, bool value)
{
    put(report, result, value ? 1.0 : 0.0, 0.0);
}

void
report_put_limits(struct report *report, enum result result, double low, double high)
{
    put(report, result, low, high);
}

void
report_put_word(struct report *report, enum result result, const char *word)
{
    put(report, result, 0.0, 0.0);
    report->result[result].word = word;
}

#define CAUTION(id, when, text) CAUTION_##when(text)
static const char *const always_rows[] = {
#define CAUTION_ALWAYS(text) text,
#define CAUTION_load(text)
#define CAUTION_strength(text)
#define CAUTION_slot(text)
#define CAUTION_set_screw(text)
#define CAUTION_fit(text)
#define CAUTION_material(text)
#define CAUTION_inspection(text)
#define CAUTION_turning(text)
#define CAUTION_order(text)
#include "joint/caution.def"
};

const char *const *
caution_always(size_t *count)
{
    *count = sizeof always_rows / sizeof always_rows[0];
    return always_rows;
}

#define CAUTION(id, when, text) CAUTION_##when(text)
#undef CAUTION_ALWAYS
#undef CAUTION_order
#define CAUTION_ALWAYS(text)
#define CAUTION_order(text) text,
static const char *const order_rows[] = {
#include "joint/caution.def"
};

const char *const *
caution_of_orders(size_t *count)
{
    *count = sizeof order_rows / sizeof order_rows[0];
    return order_rows;
}

bool
report_has_step_at(const struct report *report, enum job_field at)
{
    for (size_t i = 0; i < report->next_step_count; i++) {
        if (report->next_step[i].at == at) {
            return true;
        }
    }
    return false;
}

const char *
size_outcome_text(enum size_outcome outcome)
{
    switch (outcome) {
    case SIZE_LIMIT:
        return "limit";
    case SIZE_WINDOW:
        return "window";
    case SIZE_NONE_PASSES:
        return "none_passes";
    case SIZE_ALL_PASS:
        break;
    }
    return "all_pass";
}
