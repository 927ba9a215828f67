#include "command.h"

#include <stdio.h>
#include <string.h>

#include "wire/schema.h"

/* An option as it was written: --name, --name value, --name=value. */
struct option {
    const char *name; /* behind the dashes */
    size_t length;
    const char *value; /* NULL = none */
    bool next;         /* the value is an argument of its own */
};

static bool
is_named(const struct option *option, const char *name)
{
    return strlen(name) == option->length && memcmp(option->name, name, option->length) == 0;
}

static bool
find_call(const struct option *option, enum call *call)
{
    for (int i = 0; i < CALL_COUNT; ++i) {
        if (is_named(option, call_row((enum call)i)->word)) {
            *call = (enum call)i;
            return true;
        }
    }
    return false;
}

bool
command_complain(const char *what, const char *about)
{
    fprintf(stderr, "smallend: %s%s; see smallend --help\n", what, about);
    return false;
}

/* An option that stands alone. */
static bool
take_flag(struct command *command, const struct option *option)
{
    if (is_named(option, "version")) {
        command->task = TASK_VERSION;
    } else if (is_named(option, "help")) {
        command->task = TASK_HELP;
    } else if (is_named(option, "probe")) {
        command->task = TASK_PROBE;
    } else if (is_named(option, "batch")) {
        command->task = TASK_BATCH;
    } else if (find_call(option, &command->call)) {
        command->task = TASK_CALL;
    } else {
        return false;
    }
    return true;
}

static bool
take_option(struct command *command, const struct option *option)
{
    char fault[SETTING_FAULT_SIZE];
    if (option->value == NULL) {
        return command_complain("no such option, or its value is missing: --", option->name);
    }
    if (is_named(option, "print")) {
        command->task = TASK_PRINT;
        command->print = option->value;
        return true;
    }
    if (is_named(option, "format")) {
        return answer_format_from(option->value, &command->format) ||
               command_complain("--format takes json, md, txt, html, svg or jws, not ", option->value);
    }
    switch (setting_take_option(&command->settings, option->name, option->length, option->value, fault)) {
    case SETTING_TAKEN:
        return true;
    case SETTING_REFUSED:
        return command_complain(fault, "");
    case SETTING_UNKNOWN:
        break;
    }
    return command_complain("no such option: --", option->name);
}

bool
command_read(int argc, char **argv, struct command *command)
{
    char fault[SETTING_FAULT_SIZE];
    *command = (struct command){.task = TASK_SERVE, .format = ANSWER_JSON};
    if (!setting_read_environment(&command->settings, fault)) {
        return command_complain(fault, "");
    }
    for (int i = 1; i < argc; ++i) {
        if (strncmp(argv[i], "--", 2) != 0 || argv[i][2] == '\0') {
            return command_complain("not an option: ", argv[i]);
        }
        struct option option = {.name = argv[i] + 2, .length = strcspn(argv[i] + 2, "=")};
        const bool joined = option.name[option.length] == '=';
        if (!joined && take_flag(command, &option)) {
            continue;
        }
        option.value = joined ? option.name + option.length + 1 : i + 1 < argc ? argv[++i] : NULL;
        if (!take_option(command, &option)) {
            return false;
        }
    }
    return true;
}

void
command_print_help(void)
{
    printf("smallend answers questions about the wrist pin, rod eye, bushing and locking slot of an engine.\n\n"
           "  smallend [SETTING...]                serve HTTP until SIGTERM or SIGINT\n"
           "  smallend --CALL [--format FORM]      answer the job on standard input; FORM is json, md, txt or html;\n"
           "                                       for load, slot, fit and check svg too, for order jws\n"
           "  smallend --probe [SETTING...]        ask the service of these settings whether it is ready\n"
           "  smallend --batch                     answer the many jobs of the document on standard input\n"
           "  smallend --print NAME                print a table, a schema or the contract as JSON, or the settings\n"
           "  smallend --version | --help\n\n"
           "Exit status of a CALL: 0 ok, 1 marginal, 2 fails, 3 incomplete, 64 bad input, 70 a fault of ours.\n"
           "Of a batch: 0 every job answered, 64 one or more refused, 70 a fault of ours among them.\n"
           "Of a probe: 0 ready, 1 not.\n\nCALL is one of\n");
    for (int i = 0; i < CALL_COUNT; ++i) {
        const struct call_row *row = call_row((enum call)i);
        printf("  --%-12s %s\n", row->word, row->summary);
    }
    printf("\nNAME is one of\n"
           "  settings, steels, bearing-metals, bolts, fit-classes, units, sources, checks, problems,\n"
           "  calls, routes, openapi (the contract)");
    for (size_t i = 0; schema_name(i) != NULL; ++i) {
        printf(", schema/%s", schema_name(i));
    }
    printf("\n\n"
           "A SETTING is --name VALUE or an environment variable; --print settings lists them.\n");
}
