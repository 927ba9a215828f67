#include "base/log.h"

#include <errno.h>
#include <stdint.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/numeric.h"

/* What log_end may have to add: `,"cut":true}` and a newline. */
enum { TAIL_SIZE = 16 };

bool
log_mode_find(const char *word, enum log_mode *mode)
{
    static const char *const words[] = {[LOG_MODE_JSON] = "json", [LOG_MODE_TEXT] = "text", [LOG_MODE_OFF] = "off"};

    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(word, words[i]) == 0) {
            *mode = (enum log_mode)i;
            return true;
        }
    }
    return false;
}

static const char *
level_text(enum log_level level)
{
    switch (level) {
    case LOG_LEVEL_INFO:
        return "info";
    case LOG_LEVEL_WARN:
        return "warn";
    case LOG_LEVEL_ERROR:
        break;
    }
    return "error";
}

/* RFC 3339, section 5.6, in UTC with milliseconds. */
static void
add_time(struct text *text)
{
    struct timespec now = {0};
    struct tm utc = {0};
    char date[32];

    clock_gettime(CLOCK_REALTIME, &now);
    gmtime_r(&now.tv_sec, &utc);
    if (strftime(date, sizeof date, "%Y-%m-%dT%H:%M:%S", &utc) == 0) {
        date[0] = '\0';
    }
    text_add(text, date);
    text_format(text, ".%03ldZ", now.tv_nsec / 1000000);
}

/*
 * Characters that could end a line, steer a terminal or reorder what a reader
 * sees: the controls of ASCII and ISO 6429, line and paragraph separators, the
 * bidirectional controls, the byte order mark.
 */
static bool
is_dangerous(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x200B && code <= 0x200F) ||
           (code >= 0x2028 && code <= 0x202E) || (code >= 0x2060 && code <= 0x206F) || code == 0xFEFF;
}

/* How many bytes from here on are ASCII that stays as it is. */
static size_t
plain_run(const char *bytes, size_t length)
{
    size_t run = 0;
    while (run < length && bytes[run] >= ' ' && bytes[run] < 0x7F && bytes[run] != '"' && bytes[run] != '\\') {
        run++;
    }
    return run;
}

/* A JSON string (RFC 8259, section 7), which serves the text mode as well. */
static void
add_quoted(struct text *text, const char *bytes, size_t length)
{
    text_add(text, "\"");
    while (length > 0) {
        const size_t run = plain_run(bytes, length);
        if (run > 0) {
            text_add_bytes(text, bytes, run);
            bytes += run;
            length -= run;
            continue;
        }
        uint32_t code = 0;
        size_t size = text_character(bytes, length, &code);
        if (size == 0) {
            text_add(text, "\\ufffd");
            size = 1;
        } else if (code == '"' || code == '\\') {
            text_format(text, "\\%c", (int)code);
        } else if (is_dangerous(code)) {
            text_format(text, "\\u%04x", (unsigned)code);
        } else {
            text_add_bytes(text, bytes, size);
        }
        bytes += size;
        length -= size;
    }
    text_add(text, "\"");
}

static void
add_key(struct log_line *line, const char *key)
{
    const bool json = line->mode == LOG_MODE_JSON;
    text_join(&line->text, json ? ",\"" : " ", key, json ? "\":" : "=");
}

/* Keep the field added since `before` if it fitted, else take it back; the text
 * stays cut, so nothing more is added. */
static void
keep_or_drop(struct log_line *line, const struct text *before)
{
    if (line->text.cut) {
        line->text.length = before->length;
        line->text.at[before->length] = '\0';
        line->cut = true;
    }
}

void
log_begin(struct log_line *line, enum log_mode mode, enum log_level level, const char *message)
{
    const size_t length = strnlen(message, LOG_MESSAGE_MAX);

    line->mode = mode;
    line->cut = false;
    text_init(&line->text, line->buffer, sizeof line->buffer - TAIL_SIZE);
    if (mode == LOG_MODE_OFF) {
        return;
    }
    text_add(&line->text, mode == LOG_MODE_JSON ? "{\"ts\":\"" : "");
    add_time(&line->text);
    if (mode == LOG_MODE_JSON) {
        text_join(&line->text, "\",\"level\":\"", level_text(level), "\",\"msg\":");
    } else {
        text_join(&line->text, " ", level_text(level), " ");
    }
    add_quoted(&line->text, message, length);
}

void
log_bytes(struct log_line *line, const char *key, const char *value, size_t length)
{
    if (line->mode == LOG_MODE_OFF) {
        return;
    }
    const struct text before = line->text;
    add_key(line, key);
    if (length > LOG_VALUE_MAX) {
        length = LOG_VALUE_MAX;
        line->cut = true;
    }
    add_quoted(&line->text, value, length);
    keep_or_drop(line, &before);
}

void
log_text(struct log_line *line, const char *key, const char *value)
{
    log_bytes(line, key, value, strlen(value));
}

void
log_number(struct log_line *line, const char *key, double value)
{
    if (line->mode == LOG_MODE_OFF) {
        return;
    }
    const struct text before = line->text;
    add_key(line, key);
    if (numeric_is_finite(value)) {
        text_format(&line->text, "%.9g", value);
    } else {
        text_add(&line->text, "null"); /* JSON has no word for it */
    }
    keep_or_drop(line, &before);
}

void
log_integer(struct log_line *line, const char *key, long long value)
{
    if (line->mode == LOG_MODE_OFF) {
        return;
    }
    const struct text before = line->text;
    add_key(line, key);
    text_format(&line->text, "%lld", value);
    keep_or_drop(line, &before);
}

void
log_flag(struct log_line *line, const char *key, bool value)
{
    if (line->mode == LOG_MODE_OFF) {
        return;
    }
    const struct text before = line->text;
    add_key(line, key);
    text_add(&line->text, value ? "true" : "false");
    keep_or_drop(line, &before);
}

void
log_end(struct log_line *line)
{
    if (line->mode == LOG_MODE_OFF) {
        return;
    }
    struct text *const text = &line->text;
    const bool cut = line->cut;
    const int kept_errno = errno;

    text->cut = false;
    text->capacity = sizeof line->buffer; /* the tail is ours now */
    if (line->mode == LOG_MODE_JSON) {
        text_add(text, cut ? ",\"cut\":true}\n" : "}\n");
    } else {
        text_add(text, cut ? " cut=true\n" : "\n");
    }
    while (write(STDERR_FILENO, text->at, text->length) < 0 && errno == EINTR) {
    }
    errno = kept_errno;
}
