#ifndef SMALLEND_COMMAND_H
#define SMALLEND_COMMAND_H

/* What the program is asked to do: its arguments and its environment. */

#include <stdbool.h>

#include "http/setting.h"
#include "joint/report.h"
#include "wire/answer.h"

enum task { TASK_SERVE, TASK_CALL, TASK_BATCH, TASK_PROBE, TASK_PRINT, TASK_VERSION, TASK_HELP };

struct command {
    enum task task;
    enum call call;
    enum answer_format format;
    const char *print; /* what to print */
    struct settings settings;
};

/* The environment, then the arguments. False, and a sentence on standard error,
 * if there is something in them that is not ours. */
bool command_read(int argc, char **argv, struct command *command) __attribute__((warn_unused_result));

/* A sentence on standard error: `what`, and what it is about. Always false. */
bool command_complain(const char *what, const char *about);

void command_print_help(void);

#endif
