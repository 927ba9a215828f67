#include "wire/check_write.h"

#include <stdint.h>

#include "wire/message.h"

bool
check_is_asked(const struct check *check, const struct report *report)
{
    return (call_row(report->call)->sections & (1u << check->section)) != 0;
}

/* ---- judged ---- */

static void
write_limits(struct writer *writer, const struct finding *finding, enum dimension dimension, enum unit_system system)
{
    if (!finding->has_limits) {
        return;
    }
    if (finding->two_sided) {
        writer_quantity(writer, "advised_low", finding->advised_low, dimension, system);
        writer_quantity(writer, "advised_high", finding->advised_high, dimension, system);
        writer_quantity(writer, "limit_low", finding->limit_low, dimension, system);
        writer_quantity(writer, "limit_high", finding->limit_high, dimension, system);
    } else {
        writer_quantity(writer, "advised", finding->advised, dimension, system);
        writer_quantity(writer, "limit", finding->limit, dimension, system);
    }
}

static void
write_numbers(struct writer *writer, const struct finding *finding, enum dimension dimension, enum unit_system system)
{
    if (finding->has_value && finding->two_sided) {
        writer_limits(writer, "value", finding->value, finding->value_high, dimension, system);
    } else if (finding->has_value) {
        writer_quantity(writer, "value", finding->value, dimension, system);
    }
    write_limits(writer, finding, dimension, system);
    if (finding->has_utilization) {
        writer_number(writer, "utilization", finding->utilization);
    }
}

/* The members that the check rests on; only the assumed ones, or all. */
static void
write_reads(struct writer *writer, const char *key, const struct check *check, const struct job *job, bool only_assumed)
{
    writer_list(writer, key);
    for (size_t i = 0; i < check->reads_count; i++) {
        const enum job_field field = check->reads[i];
        if (!(only_assumed && job_given(job, field)) && check_field_enters(check, job, field)) {
            writer_word(writer, NULL, job_field_pointer(field));
        }
    }
    writer_list_end(writer);
}

static void
write_judged(struct writer *writer, const struct check *check, const struct finding *finding, const struct job *job)
{
    struct message_text advice;
    message_render_finding(&advice, finding, job->units);
    writer_object(writer, NULL);
    writer_word(writer, "id", check->id);
    writer_word(writer, "section", section_text(check->section));
    writer_word(writer, "verdict", verdict_text(finding->verdict));
    write_numbers(writer, finding, check->dimension, job->units);
    write_reads(writer, "reads", check, job, false);
    write_reads(writer, "assumed", check, job, true);
    writer_text(writer, "basis", check->basis);
    writer_text(writer, "source", check->source);
    writer_text_if(writer, "advice", advice.at);
    writer_object_end(writer);
}

void
check_write_judged(struct writer *writer, const struct job *job, const struct report *report)
{
    writer_list(writer, "checks");
    for (size_t i = 0; i < check_count(); i++) {
        const struct check *check = check_row(i);
        if (report->finding[i].judged && check_is_asked(check, report)) {
            write_judged(writer, check, &report->finding[i], job);
        }
    }
    writer_list_end(writer);
}

/* ---- not judged ---- */

/* How many fields would meet the need; 0 where it is met already. */
static size_t
choices(const struct need *need, const struct job *job)
{
    size_t count = 0;
    for (; count < sizeof need->any / sizeof need->any[0] && need->any[count] < FIELD_COUNT; count++) {
        if (job_known(job, need->any[count])) {
            return 0;
        }
    }
    return count;
}

/* A set of fields, one bit each. */
struct field_set {
    uint64_t bits[2];
};
_Static_assert(FIELD_COUNT <= 128, "a field set holds every field");

static void
set_add(struct field_set *set, enum job_field field)
{
    set->bits[field / 64] |= UINT64_C(1) << (field % 64);
}

static bool
set_has(const struct field_set *set, enum job_field field)
{
    return (set->bits[field / 64] >> (field % 64) & 1) != 0;
}

static bool
set_within(const struct field_set *part, const struct field_set *whole)
{
    return (part->bits[0] & ~whole->bits[0]) == 0 && (part->bits[1] & ~whole->bits[1]) == 0;
}

/* Ways told, and needs and combinations looked at; no check comes near them. */
enum { WAYS_MAX = 12, NEEDS_MAX = 16, COMBINATIONS_MAX = 1024 };

/* Keep a way unless one that asks for less is there; drop those that ask for
 * more. */
static size_t
keep_way(struct field_set kept[WAYS_MAX], size_t count, const struct field_set *way)
{
    size_t left = 0;

    for (size_t i = 0; i < count; i++) {
        if (set_within(&kept[i], way)) {
            return count;
        }
    }
    for (size_t i = 0; i < count; i++) {
        if (!set_within(way, &kept[i])) {
            kept[left++] = kept[i];
        }
    }
    if (left < WAYS_MAX) {
        kept[left++] = *way;
    }
    return left;
}

static size_t
minimal_ways(const struct check *check, const struct job *job, struct field_set kept[WAYS_MAX])
{
    const struct need *unmet[NEEDS_MAX];
    size_t size[NEEDS_MAX]; /* fields that would meet each */
    size_t count = 0, combinations = 1, ways = 0;

    for (size_t i = 0; i < check->needs_count && count < NEEDS_MAX; i++) {
        size[count] = choices(&check->needs[i], job);
        if (size[count] > 0) {
            combinations *= size[count];
            unmet[count++] = &check->needs[i];
        }
    }
    for (size_t c = 0; count > 0 && c < combinations && c < COMBINATIONS_MAX; c++) {
        struct field_set way = {{0, 0}};
        size_t rest = c;

        for (size_t i = count; i-- > 0; rest /= size[i]) {
            set_add(&way, unmet[i]->any[rest % size[i]]);
        }
        ways = keep_way(kept, ways, &way);
    }
    return ways;
}

const char *
check_not_judged_because(const struct check *check, const struct job *job, const struct finding *finding)
{
    if (finding->not_applicable != NULL) {
        return finding->not_applicable;
    }
    return check_needs_known(check, job) ? "A figure it rests on is missing from the tables or cannot be worked out "
                                           "from what is given."
                                         : NULL;
}

static void
write_way(struct writer *writer, const struct field_set *way)
{
    writer_list(writer, NULL);
    for (int field = 0; field < FIELD_COUNT; field++) {
        if (set_has(way, (enum job_field)field)) {
            writer_word(writer, NULL, job_field_pointer((enum job_field)field));
        }
    }
    writer_list_end(writer);
}

/* What would let the check be judged: sets of members, any one of which would
 * do. */
static void
write_ways(struct writer *writer, const struct check *check, const struct job *job)
{
    struct field_set way[WAYS_MAX];
    const size_t ways = minimal_ways(check, job, way);

    for (size_t i = 0; i < ways; i++) {
        write_way(writer, &way[i]);
    }
}

static void
write_not_judged(struct writer *writer, const struct check *check, const struct finding *finding, const struct job *job)
{
    const char *because = check_not_judged_because(check, job, finding);
    writer_object(writer, NULL);
    writer_word(writer, "id", check->id);
    writer_word(writer, "section", section_text(check->section));
    writer_list(writer, "needs");
    if (because == NULL) {
        write_ways(writer, check, job);
    }
    writer_list_end(writer);
    writer_text_if(writer, "because", because);
    writer_object_end(writer);
}

/* A result that needs more of the job than its section, told beside the checks
 * so that a front end can ask for it. */
static const struct result_need {
    enum result result;
    enum job_field needs[4];
} result_needs[] = {
    {RESULT_load_rubbing_speed_mean, {FIELD_engine_bore, FIELD_engine_stroke, FIELD_engine_speed, FIELD_pin_diameter}},
};

static void
write_result_needs(struct writer *writer, const struct result_need *row, const struct job *job)
{
    writer_object(writer, NULL);
    writer_word(writer, "id", result_row(row->result)->name);
    writer_word(writer, "section", section_text(result_row(row->result)->section));
    writer_list(writer, "needs");
    writer_list(writer, NULL);
    for (size_t i = 0; i < sizeof row->needs / sizeof row->needs[0]; i++) {
        if (!job_known(job, row->needs[i])) {
            writer_word(writer, NULL, job_field_pointer(row->needs[i]));
        }
    }
    writer_list_end(writer);
    writer_list_end(writer);
    writer_object_end(writer);
}

static void
write_missing_results(struct writer *writer, const struct job *job, const struct report *report)
{
    for (size_t i = 0; i < sizeof result_needs / sizeof result_needs[0]; i++) {
        const enum result result = result_needs[i].result;

        if ((call_row(report->call)->sections & (1u << result_row(result)->section)) != 0 &&
            !report->result[result].known) {
            write_result_needs(writer, &result_needs[i], job);
        }
    }
}

void
check_write_not_judged(struct writer *writer, const struct job *job, const struct report *report)
{
    writer_list(writer, "not_checked");
    for (size_t i = 0; i < check_count(); i++) {
        const struct check *check = check_row(i);
        if (!report->finding[i].judged && check_is_asked(check, report)) {
            write_not_judged(writer, check, &report->finding[i], job);
        }
    }
    write_missing_results(writer, job, report);
    writer_list_end(writer);
}
