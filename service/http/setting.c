#include "http/setting.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "http/setting_rule.h"

/* One row; `rule` is NULL for a number. */
struct row {
    const char *environment;
    const char *option;
    size_t offset;
    const char *default_text;
    long min, max;
    const char *(*rule)(const char *value);
    const char *meaning;
};

static const struct row table[] = {
#define SETTING_NUMBER(name, environment, option, default_value, min, max, meaning)                                    \
    {environment, option, offsetof(struct settings, name), #default_value, min, max, NULL, meaning},
#define SETTING_TEXT(name, environment, option, default_value, rule, meaning)                                          \
    {environment, option, offsetof(struct settings, name), default_value, 0, 0, setting_rule_##rule, meaning},
#include "http/setting.def"
};

enum { ROW_COUNT = sizeof table / sizeof table[0] };

/* Rows know their member by its offset, so the struct is read and written as
 * bytes here and nowhere else. */
static void
store(struct settings *settings, const struct row *row, const void *value, size_t size)
{
    memcpy((char *)settings + row->offset, value, size);
}

static bool
read_number(const char *text, long min, long max, long *number)
{
    char *end = NULL;
    if (text[0] < '0' || text[0] > '9') {
        return false;
    }
    errno = 0;
    *number = strtol(text, &end, 10);
    return errno == 0 && *end == '\0' && *number >= min && *number <= max;
}

/* `spelling` is what the operator wrote to the left of the value. */
static bool
take(struct settings *settings, const struct row *row, const char *spelling, const char *value,
     char fault[SETTING_FAULT_SIZE])
{
    struct text text;
    text_init(&text, fault, SETTING_FAULT_SIZE);
    if (row->rule == NULL) {
        long number = 0;
        if (!read_number(value, row->min, row->max, &number)) {
            text_format(&text, "%s takes a whole number from %ld to %ld, not \"%s\"", spelling, row->min, row->max,
                        value);
            return false;
        }
        store(settings, row, &number, sizeof number);
        return true;
    }
    const char *complaint = row->rule(value);
    if (complaint != NULL) {
        text_format(&text, "%s takes %s, not \"%s\"", spelling, complaint, value);
        return false;
    }
    store(settings, row, &value, sizeof value);
    return true;
}

bool
setting_read_environment(struct settings *settings, char fault[SETTING_FAULT_SIZE])
{
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        const char *value = getenv(table[i].environment);
        if (!take(settings, &table[i], table[i].environment, value != NULL ? value : table[i].default_text, fault)) {
            return false;
        }
    }
    return true;
}

enum setting_outcome
setting_take_option(struct settings *settings, const char *name, size_t length, const char *value,
                    char fault[SETTING_FAULT_SIZE])
{
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        if (strlen(table[i].option) == length && memcmp(table[i].option, name, length) == 0) {
            char spelling[64];
            struct text text;
            text_init(&text, spelling, sizeof spelling);
            text_format(&text, "--%s", table[i].option);
            return take(settings, &table[i], spelling, value, fault) ? SETTING_TAKEN : SETTING_REFUSED;
        }
    }
    return SETTING_UNKNOWN;
}

void
setting_print(const struct settings *settings, FILE *out)
{
    for (size_t i = 0; i < ROW_COUNT; ++i) {
        const struct row *row = &table[i];
        const char *at = (const char *)settings + row->offset;
        fprintf(out, "%s  --%s\n    value: ", row->environment, row->option);
        if (row->rule == NULL) {
            long number = 0;
            memcpy(&number, at, sizeof number);
            fprintf(out, "%ld", number);
        } else {
            const char *value = NULL;
            memcpy(&value, at, sizeof value);
            fprintf(out, "%s", value[0] != '\0' ? value : "(empty)");
        }
        fprintf(out, "\n    default: %s", row->default_text[0] != '\0' ? row->default_text : "(empty)");
        if (row->rule == NULL) {
            fprintf(out, " (%ld to %ld)", row->min, row->max);
        }
        fprintf(out, "\n    %s\n", row->meaning);
    }
}
