#ifndef SMALLEND_BASE_LOG_H
#define SMALLEND_BASE_LOG_H

/*
 * One line per event on standard error, as a JSON object or as text:
 *
 *     struct log_line line;
 *     log_begin(&line, mode, LOG_LEVEL_INFO, "request");
 *     log_text(&line, "route", "/v1/check");
 *     log_number(&line, "dur_ms", 1.7);
 *     log_end(&line);
 *
 *     {"ts":"2026-11-25T09:31:07.042Z","level":"info","msg":"request","route":"/v1/check","dur_ms":1.7}
 *     2026-11-25T09:31:07.042Z info "request" route="/v1/check" dur_ms=1.7
 *
 * A line leaves in one write(2), no longer than a pipe keeps together, so lines
 * of several threads do not mix. Whatever a client sent is escaped: it can
 * neither end the line nor pose as another field. Where a value was shortened or
 * a field did not fit (it and what follows are left out), "cut":true ends the
 * line.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"

enum log_mode { LOG_MODE_JSON, LOG_MODE_TEXT, LOG_MODE_OFF };
enum log_level { LOG_LEVEL_INFO, LOG_LEVEL_WARN, LOG_LEVEL_ERROR };

enum {
    LOG_LINE_SIZE = 2048,  /* below PIPE_BUF, 4096 on Linux: pipe(7) */
    LOG_MESSAGE_MAX = 256, /* bytes of the message that are logged; six times as many still fit */
    LOG_VALUE_MAX = 512    /* bytes of one value that are logged */
};

struct log_line {
    enum log_mode mode;
    bool cut;
    struct text text;
    char buffer[LOG_LINE_SIZE];
};

/* The mode named "json", "text" or "off"; false if it is none of them. */
bool log_mode_find(const char *word, enum log_mode *mode);

/* Start a line with the time, `level` and `message`. */
void log_begin(struct log_line *line, enum log_mode mode, enum log_level level, const char *message);

/* Add a field. `key` is ours, a lower_snake_case word; `value` may be anybody's. */
void log_text(struct log_line *line, const char *key, const char *value);
void log_bytes(struct log_line *line, const char *key, const char *value, size_t length);
void log_number(struct log_line *line, const char *key, double value); /* null if not finite */
void log_integer(struct log_line *line, const char *key, long long value);
void log_flag(struct log_line *line, const char *key, bool value);

/* Write the line. A line that cannot be written is lost; errno is kept. */
void log_end(struct log_line *line);

#endif
