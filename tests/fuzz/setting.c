/*
 * Settings as an operator may write them: lines "name=value", as options, and
 * as what the environment says of that setting.
 */

#include "fuzz/harness.h"

#include <string.h>

#include "http/setting.h"

static const struct {
    const char *option, *environment;
} names[] = {
#define SETTING_NUMBER(name, environment, option, default_value, min, max, meaning) {option, environment},
#define SETTING_TEXT(name, environment, option, default_value, rule, meaning) {option, environment},
#include "http/setting.def"
};

static void
hold_ranges(const struct settings *settings)
{
#define SETTING_NUMBER(name, environment, option, default_value, min, max, meaning)                                    \
    HOLDS(settings->name >= (min) && settings->name <= (max), "%s is %ld", option, settings->name);
#define SETTING_TEXT(name, environment, option, default_value, rule, meaning)                                          \
    HOLDS(settings->name != NULL, "%s is nothing", option);
#include "http/setting.def"
}

/* The environment takes and refuses what the option does. */
static void
hold_environment(const char *name, size_t length, const char *value, bool taken)
{
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strlen(names[i].option) != length || memcmp(names[i].option, name, length) != 0) {
            continue;
        }
        struct settings settings;
        char fault[SETTING_FAULT_SIZE] = "";
        HOLDS(setenv(names[i].environment, value, 1) == 0, "no memory");
        HOLDS(setting_read_environment(&settings, fault) == taken, "%s=%s: %s", names[i].environment, value, fault);
        HOLDS(taken || fault[0] != '\0', "a refusal without a reason");
        HOLDS(unsetenv(names[i].environment) == 0, "no such name");
    }
}

static void
hold_line(struct settings *settings, const char *line)
{
    char fault[SETTING_FAULT_SIZE] = "";
    const size_t length = strcspn(line, "=");
    const char *value = line[length] == '=' ? line + length + 1 : "";
    const enum setting_outcome outcome = setting_take_option(settings, line, length, value, fault);
    HOLDS(outcome != SETTING_REFUSED || (fault[0] != '\0' && strlen(fault) < sizeof fault), "a refusal without a reason");
    if (outcome != SETTING_UNKNOWN) {
        hold_environment(line, length, value, outcome == SETTING_TAKEN);
    }
    hold_ranges(settings);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct settings settings;
    char fault[SETTING_FAULT_SIZE], print[16384];
    char *text = copy_text(data, size);
    HOLDS(setting_read_environment(&settings, fault), "the defaults are refused: %s", fault);
    char *line = text;
    for (size_t end = strcspn(line, "\n"); line[end] == '\n'; end = strcspn(line, "\n")) {
        line[end] = '\0';
        hold_line(&settings, line);
        line += end + 1;
    }
    hold_line(&settings, line);
    FILE *out = fmemopen(print, sizeof print, "w");
    HOLDS(out != NULL, "no memory");
    setting_print(&settings, out);
    fclose(out);
    free(text);
    return 0;
}
