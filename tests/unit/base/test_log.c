#include "support/close.h"

#include <string.h>
#include <unistd.h>

#include "base/log.h"

/*
 * What log_end writes to standard error, in `output`; the bytes written. One
 * read returns what one write put into the pipe.
 */
static size_t
written(struct log_line *line, char output[LOG_LINE_SIZE + 1])
{
    int ends[2];
    const int kept = dup(STDERR_FILENO);
    ssize_t count = 0;

    assert_true(kept >= 0);
    assert_int_equal(pipe(ends), 0);
    assert_true(dup2(ends[1], STDERR_FILENO) >= 0);
    close(ends[1]);
    log_end(line);
    assert_true(dup2(kept, STDERR_FILENO) >= 0); /* the last writer is gone: read() sees the end */
    close(kept);
    count = read(ends[0], output, LOG_LINE_SIZE);
    close(ends[0]);
    assert_true(count >= 0);
    output[count] = '\0';
    return (size_t)count;
}

static void
writes_a_json_object(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];

    log_begin(&line, LOG_MODE_JSON, LOG_LEVEL_INFO, "request");
    log_text(&line, "route", "/v1/check");
    log_integer(&line, "status", 200);
    log_number(&line, "dur_ms", 1.75);
    log_flag(&line, "tls", false);
    log_number(&line, "rate", (double)NAN);
    written(&line, output);

    static const char start[] = "{\"ts\":\"dddd-dd-ddTdd:dd:dd.dddZ";
    assert_memory_equal(output, start, 7);
    assert_string_equal(output + sizeof start - 1,
                        "\",\"level\":\"info\",\"msg\":\"request\",\"route\":\"/v1/check\",\"status\":200,"
                        "\"dur_ms\":1.75,\"tls\":false,\"rate\":null}\n");
}

/* RFC 3339, section 5.6: date-time with a fraction and Z. */
static void
stamps_the_time_in_utc(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];
    static const char pattern[] = "dddd-dd-ddTdd:dd:dd.dddZ";

    log_begin(&line, LOG_MODE_TEXT, LOG_LEVEL_WARN, "draining");
    log_text(&line, "left", "3");
    written(&line, output);
    for (size_t i = 0; i < sizeof pattern - 1; i++) {
        if (pattern[i] == 'd') {
            assert_in_range(output[i], '0', '9');
        } else {
            assert_int_equal(output[i], pattern[i]);
        }
    }
    assert_string_equal(output + sizeof pattern - 1, " warn \"draining\" left=\"3\"\n");
}

static void
writes_nothing_when_off(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];

    log_begin(&line, LOG_MODE_OFF, LOG_LEVEL_ERROR, "no");
    log_text(&line, "a", "b");
    log_integer(&line, "c", 1);
    log_number(&line, "d", 1.0);
    log_flag(&line, "e", true);
    assert_int_equal(written(&line, output), 0);
}

static void
keeps_a_client_from_forging_a_line(void **state)
{
    (void)state;
    static const char hostile[] = "x\",\"level\":\"error\"}\r\n{\"msg\":\"forged\\\"";
    static const enum log_mode modes[] = {LOG_MODE_JSON, LOG_MODE_TEXT};

    for (size_t i = 0; i < 2; i++) {
        struct log_line line;
        char output[LOG_LINE_SIZE + 1];
        log_begin(&line, modes[i], LOG_LEVEL_INFO, "request");
        log_text(&line, "agent", hostile);
        const size_t length = written(&line, output);
        assert_ptr_equal(strchr(output, '\n'), output + length - 1);
        assert_non_null(strstr(output, "\"x\\\",\\\"level\\\":\\\"error\\\"}"
                                       "\\u000d\\u000a{\\\"msg\\\":\\\"forged\\\\\\\"\""));
    }
}

static void
escapes_what_steers_a_terminal(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];

    log_begin(&line, LOG_MODE_TEXT, LOG_LEVEL_INFO, "m");
    /* ESC, DEL, the C1 control CSI, a right-to-left override, a line separator, NUL. */
    log_bytes(&line, "a", "\x1B[2J\x7F\xC2\x9B\u202E\u2028\0z", 15);
    /* A stray byte, a cut character, and one that is fine. */
    log_bytes(&line, "b", "\xFFq\xE2\x80\u00B5", 6);
    written(&line, output);
    assert_non_null(strstr(output, " a=\"\\u001b[2J\\u007f\\u009b\\u202e\\u2028\\u0000z\""));
    assert_non_null(strstr(output, " b=\"\\ufffdq\\ufffd\\ufffd\u00B5\"\n"));
}

static void
says_when_a_value_was_shortened(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];
    char value[2000];

    memset(value, 'v', sizeof value);
    log_begin(&line, LOG_MODE_JSON, LOG_LEVEL_INFO, "m");
    log_bytes(&line, "long", value, sizeof value);
    log_integer(&line, "after", 5);
    const size_t length = written(&line, output);
    assert_true(length < 700);
    assert_non_null(strstr(output, "v\",\"after\":5,\"cut\":true}\n"));
}

static void
bounds_the_line_and_keeps_it_whole(void **state)
{
    (void)state;
    static const enum log_mode modes[] = {LOG_MODE_JSON, LOG_MODE_TEXT};
    static const char *const tails[] = {"\",\"cut\":true}\n", "\" cut=true\n"};

    for (size_t i = 0; i < 2; i++) {
        struct log_line line;
        char output[LOG_LINE_SIZE + 1];
        char value[LOG_VALUE_MAX + 1];
        memset(value, 1, sizeof value); /* six bytes each once escaped */
        log_begin(&line, modes[i], LOG_LEVEL_INFO, "m");
        for (int field = 0; field < 40; field++) {
            log_bytes(&line, "field", value, 97);
        }
        log_integer(&line, "dropped", 1);
        const size_t length = written(&line, output);
        assert_true(length > LOG_LINE_SIZE / 2 && length <= LOG_LINE_SIZE);
        assert_string_equal(output + length - strlen(tails[i]), tails[i]);
        assert_null(strstr(output, "dropped"));
    }
}

static void
bounds_the_message(void **state)
{
    (void)state;
    struct log_line line;
    char output[LOG_LINE_SIZE + 1];
    char message[3000];

    memset(message, 1, sizeof message - 1);
    message[sizeof message - 1] = '\0';
    log_begin(&line, LOG_MODE_JSON, LOG_LEVEL_ERROR, message);
    const size_t length = written(&line, output);
    assert_true(length <= LOG_LINE_SIZE);
    assert_string_equal(output + length - 9, "\\u0001\"}\n");
}

static void
finds_modes_by_name(void **state)
{
    (void)state;
    enum log_mode mode = LOG_MODE_OFF;

    assert_true(log_mode_find("json", &mode));
    assert_int_equal(mode, LOG_MODE_JSON);
    assert_true(log_mode_find("text", &mode));
    assert_int_equal(mode, LOG_MODE_TEXT);
    assert_true(log_mode_find("off", &mode));
    assert_int_equal(mode, LOG_MODE_OFF);
    assert_false(log_mode_find("JSON", &mode));
    assert_false(log_mode_find("", &mode));
    assert_int_equal(mode, LOG_MODE_OFF);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_a_json_object),
        cmocka_unit_test(stamps_the_time_in_utc),
        cmocka_unit_test(writes_nothing_when_off),
        cmocka_unit_test(keeps_a_client_from_forging_a_line),
        cmocka_unit_test(escapes_what_steers_a_terminal),
        cmocka_unit_test(says_when_a_value_was_shortened),
        cmocka_unit_test(bounds_the_line_and_keeps_it_whole),
        cmocka_unit_test(bounds_the_message),
        cmocka_unit_test(finds_modes_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
