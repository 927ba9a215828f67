#ifndef SMALLEND_HTTP_SETTING_H
#define SMALLEND_HTTP_SETTING_H

/* What the operator may set: see setting.def. */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Texts are borrowed from the environment or the command line. */
struct settings {
#define SETTING_NUMBER(name, environment, option, default_value, min, max, meaning) long name;
#define SETTING_TEXT(name, environment, option, default_value, rule, meaning) const char *name;
#include "http/setting.def"
};

enum { SETTING_FAULT_SIZE = 240 };

/* Defaults, then what the environment says. On a bad value: false, and a
 * sentence in `fault`. */
bool setting_read_environment(struct settings *settings, char fault[SETTING_FAULT_SIZE])
    __attribute__((warn_unused_result));

enum setting_outcome { SETTING_TAKEN, SETTING_UNKNOWN, SETTING_REFUSED };

/*
 * Take a long option, `name` without its dashes and `length` bytes long.
 * SETTING_REFUSED comes with a sentence in `fault`.
 */
enum setting_outcome setting_take_option(struct settings *settings, const char *name, size_t length, const char *value,
                                         char fault[SETTING_FAULT_SIZE]);

/* Every setting with its option, value in force, default and meaning. */
void setting_print(const struct settings *settings, FILE *out);

#endif
