#include "wire/text_part.h"

#include <ctype.h>
#include <string.h>

#include "base/text.h"
#include "joint/measure.h"
#include "quantity/quantity.h"
#include "wire/check_write.h"
#include "wire/markup.h"
#include "wire/size_text.h"

/* Is finding `a` worse news than `b`? */
static bool
is_worse(const struct finding *a, const struct finding *b)
{
    if (a->verdict != b->verdict) {
        return a->verdict > b->verdict;
    }
    return (a->has_utilization ? a->utilization : 0.0) > (b->has_utilization ? b->utilization : 0.0);
}

size_t
text_part_worst(const struct report *report, size_t *index, size_t capacity)
{
    size_t count = 0;
    for (size_t i = 0; i < check_count(); i++) {
        if (!report->finding[i].judged || !check_is_asked(check_row(i), report)) {
            continue;
        }
        size_t place = count;
        while (place > 0 && is_worse(&report->finding[i], &report->finding[index[place - 1]])) {
            place--;
        }
        if (place >= capacity) {
            continue;
        }
        count += count < capacity;
        memmove(&index[place + 1], &index[place], (count - 1 - place) * sizeof index[0]);
        index[place] = i;
    }
    return count;
}

void
text_part_name(char *buffer, size_t capacity, const char *id)
{
    static const struct {
        const char *id, *name;
    } spelt[] = {
        {"boss_pv", "boss PV"},
        {"eye_pv", "eye PV"},
        {"inertia_force_tdc", "inertia force at TDC"},
        {"inertia_force_bdc", "inertia force at BDC"},
    };
    for (size_t i = 0; i < sizeof spelt / sizeof spelt[0]; i++) {
        if (strcmp(spelt[i].id, id) == 0) {
            text_copy(buffer, capacity, spelt[i].name);
            return;
        }
    }
    text_copy(buffer, capacity, id);
    for (char *at = strchr(buffer, '_'); at != NULL; at = strchr(at, '_')) {
        *at = ' ';
    }
}

/* Two sizes of a measured part, in the digits of the dial. */
static void
write_sizes(struct text *text, double low_m, double high_m, enum unit_system system)
{
    char range[SIZE_TEXT_RANGE_MAX];
    size_text_range(range, sizeof range, low_m, high_m, system);
    text_add(text, range);
}

static bool
is_of_sizes(const struct check *check)
{
    return check->section == SECTION_inspection && check->sense == SENSE_WINDOW;
}

/* One number, or two joined by "to". */
static void
write_range(struct text *text, double low, double high, bool two, enum dimension dimension, enum unit_system system)
{
    char number[TEXT_PART_SIZE];
    if (two) {
        quantity_write_range(number, sizeof number, low, high, dimension, system);
    } else {
        quantity_write(number, sizeof number, low, dimension, system);
    }
    text_add(text, number);
}

void
text_part_value(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                enum unit_system system)
{
    struct text text;
    text_init(&text, buffer, capacity);
    if (finding->has_value && is_of_sizes(check)) {
        write_sizes(&text, finding->value, finding->value_high, system);
    } else if (finding->has_value) {
        write_range(&text, finding->value, finding->value_high, finding->two_sided, check->dimension, system);
    }
}

static void
write_limit(char *buffer, size_t capacity, const struct check *check, const struct finding *finding, double one,
            const double pair[2], enum unit_system system)
{
    struct text text;
    text_init(&text, buffer, capacity);
    if (!finding->has_limits) {
        return;
    }
    if (is_of_sizes(check)) {
        write_sizes(&text, pair[0], pair[1], system);
        return;
    }
    if (finding->two_sided) {
        write_range(&text, pair[0], pair[1], true, check->dimension, system);
        return;
    }
    text_add(&text, check->sense == SENSE_FLOOR ? "at least " : "at most ");
    write_range(&text, one, one, false, check->dimension, system);
}

void
text_part_advised(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                  enum unit_system system)
{
    struct limits between = {.min_m = finding->advised_low, .max_m = finding->advised_high};
    if (is_of_sizes(check)) {
        /* To the digits of the dial, rounded inward: so written, they all pass. */
        between = measure_inward(&between, size_text_step_m(system));
    }
    const double pair[2] = {between.min_m, between.max_m};
    write_limit(buffer, capacity, check, finding, finding->advised, pair, system);
}

void
text_part_limit(char *buffer, size_t capacity, const struct check *check, const struct finding *finding,
                enum unit_system system)
{
    const double pair[2] = {finding->limit_low, finding->limit_high};
    write_limit(buffer, capacity, check, finding, finding->limit, pair, system);
}

void
text_part_share(char *buffer, size_t capacity, const struct finding *finding)
{
    if (finding->has_utilization) {
        size_text_share(buffer, capacity, finding->utilization);
    } else {
        text_copy(buffer, capacity, "");
    }
}

void
text_part_result(char *buffer, size_t capacity, enum result result, const struct result_value *value,
                 enum unit_system system)
{
    const struct result_row *row = result_row(result);
    struct text text;
    text_init(&text, buffer, capacity);
    if (row->kind == RESULT_IS_FLAG) {
        text_add(&text, value->si > 0.5 ? "yes" : "no");
        return;
    }
    if (row->kind == RESULT_IS_WORD) {
        text_add(&text, value->word);
        return;
    }
    if (result == RESULT_inspection_size_min || result == RESULT_inspection_size_max ||
        result == RESULT_inspection_size_mean) {
        char size[SIZE_TEXT_MAX];
        size_text_write(size, sizeof size, value->si, system);
        text_add(&text, size);
        return;
    }
    write_range(&text, value->si, value->high, row->kind == RESULT_IS_LIMITS, row->dimension, system);
}

const char *
text_part_verdict(enum verdict verdict)
{
    switch (verdict) {
    case VERDICT_OK:
        return "OK";
    case VERDICT_MARGINAL:
        return "Marginal";
    case VERDICT_INCOMPLETE:
        return "Incomplete";
    case VERDICT_FAILS:
        break;
    }
    return "Fails";
}

/* What stands for a character of the user's, NULL = itself. */
static const char *
harmless(uint32_t code, char next)
{
    switch (code) {
    case '@':
        return "(at)";
    case '<':
    case '[':
        return "(";
    case '>':
    case ']':
        return ")";
    case ':':
        return next == '/' ? ": " : NULL;
    case '`':
        return "'";
    default:
        return text_is_control(code) ? "?" : NULL;
    }
}

void
text_part_quote(struct text *text, const char *words)
{
    const size_t length = strlen(words);
    for (size_t i = 0, step = 0; i < length; i += step) {
        uint32_t code = 0;
        step = text_character(words + i, length - i, &code);
        const char *instead = step > 0 ? harmless(code, words[i + step]) : "?";
        step = step > 0 ? step : 1;
        if (instead != NULL) {
            text_add(text, instead);
        } else {
            text_add_bytes(text, words + i, step);
        }
    }
}

/* Does the text at `dot` look like the inside of a host name, which many forum
 * programs make a link of? */
static bool
is_within_name(const char *label, const char *dot)
{
    return dot > label && isalnum((unsigned char)dot[-1]) && isalpha((unsigned char)dot[1]);
}

void
text_part_label(struct text *text, const char *label)
{
    char parted[JOB_LABEL_SIZE];
    struct text plain;
    text_init(&plain, parted, sizeof parted);
    for (const char *at = label; *at != '\0';) {
        const size_t length = strcspn(at, ".");
        text_add_bytes(&plain, at, length);
        at += length;
        if (*at == '.') {
            text_add(&plain, is_within_name(label, at) ? ". " : ".");
            at++;
        }
    }
    text_part_quote(text, parted);
}

void
text_part_cautions(struct buffer *out)
{
    size_t count = 0;
    const char *const *caution = caution_always(&count);
    buffer_add(out, "\n**Cautions**\n\n");
    for (size_t i = 0; i < count; i++) {
        buffer_add(out, "- ");
        markup_escape_markdown(out, caution[i]);
        buffer_add(out, "\n");
    }
}
