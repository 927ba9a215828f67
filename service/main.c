/*
 * The program: serves, or answers one job from standard input, or prints what
 * it knows of itself.
 */

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/version.h"
#include "command.h"
#include "http/openapi.h"
#include "http/probe.h"
#include "http/route.h"
#include "http/server.h"
#include "http/setting.h"
#include "http/stop.h"
#include "joint/report.h"
#include "seal/seal.h"
#include "wire/answer.h"
#include "wire/batch.h"
#include "wire/json_arena.h"
#include "wire/schema.h"

/* How the program ends: the verdict of a job, or these. */
enum { EXIT_BAD_INPUT = 64, EXIT_OUR_FAULT = 70 };

/* After a drain at its limit, how long the end itself may take. */
enum { STOP_GRACE_MS = 3000 };

/* Print what was written; a fault of ours if it is not whole. */
static int
print_buffer(struct buffer *out)
{
    const bool whole = !out->failed && out->at != NULL;
    if (whole) {
        fwrite(out->at, 1, out->length, stdout);
    } else {
        command_complain("what was asked for cannot be printed", "");
    }
    buffer_clear(out);
    return whole ? EXIT_SUCCESS : EXIT_OUR_FAULT;
}

/* One of the tables of the service, or one of the schemas. */
static int
print_table(const char *name)
{
    static const char schema[] = "schema/";
    struct reply reply;
    struct buffer out;
    buffer_init(&out);
    if (strcmp(name, "calls") == 0) {
        schema_write_calls(&out);
        return print_buffer(&out);
    }
    if (strncmp(name, schema, sizeof schema - 1) == 0 && schema_write(&out, name + sizeof schema - 1)) {
        return print_buffer(&out);
    }
    if (!answer_table(name, NULL, &reply)) {
        command_complain("nothing to print of the name ", name);
        return EXIT_BAD_INPUT;
    }
    fwrite(reply.body, 1, reply.length, stdout);
    reply_clear(&reply);
    return EXIT_SUCCESS;
}

static int
print(const struct command *command)
{
    if (strcmp(command->print, "settings") == 0) {
        setting_print(&command->settings, stdout);
    } else if (strcmp(command->print, "routes") == 0) {
        route_print(stdout);
    } else if (strcmp(command->print, "openapi") == 0) {
        fwrite(openapi_document, 1, openapi_length, stdout);
    } else {
        return print_table(command->print);
    }
    return EXIT_SUCCESS;
}

/* Standard input whole, owned by the caller; NULL, and a word about it, if it is
 * larger than `most` or cannot be read. */
static char *
read_input(long most, size_t *length)
{
    const size_t capacity = (size_t)most + 1;
    char *input = malloc(capacity);
    if (input != NULL) {
        *length = fread(input, 1, capacity, stdin);
    }
    if (input == NULL || *length == capacity || ferror(stdin) != 0) {
        fprintf(stderr, "smallend: standard input cannot be read, or has more than %ld bytes\n", most);
        free(input);
        return NULL;
    }
    input[*length] = '\0';
    return input;
}

static int
exit_status(const struct reply *reply, enum verdict verdict)
{
    if (reply->status != 200) {
        return reply->status < 500 ? EXIT_BAD_INPUT : EXIT_OUR_FAULT;
    }
    switch (verdict) {
    case VERDICT_OK:
        return 0;
    case VERDICT_MARGINAL:
        return 1;
    case VERDICT_FAILS:
        return 2;
    case VERDICT_INCOMPLETE:
        break;
    }
    return 3;
}

/* Answer; a release record is signed with the keys of the settings, and every
 * other call does without them. */
static bool
answer(const struct command *command, const char *input, size_t length, struct reply *reply, enum verdict *verdict)
{
    struct answer_request request = {.call = command->call, .format = command->format, .body = input, .length = length};
    const struct seal_files files = {.signing_keys = command->settings.signing_keys, .verify_keys = "", .tokens = ""};
    char fault[SEAL_FAULT_SIZE];
    struct seal seal;
    if (command->call != CALL_order) {
        answer_request(&request, reply, verdict);
        return true;
    }
    if (!seal_open(&seal, &files, LOG_MODE_TEXT, fault)) {
        return command_complain(fault, "");
    }
    struct seal_state *state = seal_hold(&seal);
    const struct notary notary = seal_notary(state);
    request.notary = &notary;
    answer_request(&request, reply, verdict);
    seal_let_go(state);
    seal_close(&seal);
    return true;
}

static int
answer_input(const struct command *command)
{
    struct reply reply;
    enum verdict verdict = VERDICT_INCOMPLETE;
    size_t length = 0;
    if ((answer_forms(command->call) & 1u << command->format) == 0) {
        command_complain("this call has no form ", answer_form(command->format)->word);
        return EXIT_BAD_INPUT;
    }
    char *input = read_input(command->settings.max_body, &length);
    if (input == NULL) {
        return EXIT_BAD_INPUT;
    }
    const bool answered = answer(command, input, length, &reply, &verdict);
    free(input);
    if (!answered) {
        return EXIT_BAD_INPUT;
    }
    fwrite(reply.body, 1, reply.length, stdout);
    const int status = exit_status(&reply, verdict);
    reply_clear(&reply);
    return status;
}

/* Entry by entry, to standard output; its errors are asked for at the end. */
static int
answer_entries(struct batch *batch, struct buffer *out)
{
    bool more = true;
    while (more && !out->failed) {
        more = batch_next(batch);
        if (!more) {
            batch_end(batch);
        }
        fwrite(out->at, 1, out->failed ? 0 : out->length, stdout);
        buffer_empty(out);
    }
    if (out->failed || batch->worst >= 500) {
        return EXIT_OUR_FAULT;
    }
    return batch->worst == 200 ? EXIT_SUCCESS : EXIT_BAD_INPUT;
}

static int
answer_batch(const struct command *command)
{
    struct batch batch;
    struct buffer out;
    struct reply reply;
    size_t length = 0;
    int status = EXIT_BAD_INPUT;
    char *input = read_input(command->settings.max_batch, &length);
    if (input == NULL) {
        return EXIT_BAD_INPUT;
    }
    buffer_init(&out);
    if (batch_begin(&batch, input, length, NULL, &out, &reply)) {
        status = answer_entries(&batch, &out);
    } else {
        fwrite(reply.body, 1, reply.length, stdout);
        status = reply.status < 500 ? EXIT_BAD_INPUT : EXIT_OUR_FAULT;
        reply_clear(&reply);
    }
    buffer_clear(&out);
    free(input);
    return status;
}

static void
reload(void *server)
{
    server_reload(server);
}

static int
serve(const struct command *command)
{
    struct server server;
    struct stop_watch watch;
    char fault[SERVER_FAULT_SIZE] = "";
    stop_block_signals();
    if (!server_start(&server, &command->settings, fault)) {
        fprintf(stderr, "smallend: %s\n", fault);
        return EXIT_FAILURE;
    }
    stop_wait(reload, &server);
    stop_watch_start(&watch, command->settings.drain_delay_ms + command->settings.drain_limit_ms + STOP_GRACE_MS);
    server_drain(&server);
    server_stop(&server);
    stop_watch_end(&watch);
    return EXIT_SUCCESS;
}

static int
probe(const struct command *command)
{
    char fault[PROBE_FAULT_SIZE];
    if (!probe_service(&command->settings, fault)) {
        fprintf(stderr, "smallend: %s\n", fault);
        return EXIT_FAILURE;
    }
    return EXIT_SUCCESS;
}

static int
run(const struct command *command)
{
    switch (command->task) {
    case TASK_SERVE:
        return serve(command);
    case TASK_CALL:
        return answer_input(command);
    case TASK_BATCH:
        return answer_batch(command);
    case TASK_PROBE:
        return probe(command);
    case TASK_PRINT:
        return print(command);
    case TASK_VERSION:
        printf("%s %s, rules %s\n", SMALLEND_NAME, SMALLEND_VERSION, SMALLEND_RULES);
        return EXIT_SUCCESS;
    case TASK_HELP:
        command_print_help();
        return EXIT_SUCCESS;
    }
    return EXIT_OUR_FAULT;
}

int
main(int argc, char **argv)
{
    struct command command;
    json_arena_install();
    if (!command_read(argc, argv, &command)) {
        return EXIT_BAD_INPUT;
    }
    const int status = run(&command);
    if (fflush(stdout) != 0 || ferror(stdout) != 0) {
        fprintf(stderr, "smallend: cannot write to standard output\n");
        return EXIT_OUR_FAULT;
    }
    return status;
}
