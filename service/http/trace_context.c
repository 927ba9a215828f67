#include "http/trace_context.h"

#include <stddef.h>
#include <string.h>

/* version "-" trace id "-" parent id "-" flags, all in lower-case hex */
enum { VERSION = 0, TRACE = 3, PARENT = 36, FLAGS = 53, WHOLE = 55, TRACE_LENGTH = 32, PARENT_LENGTH = 16 };

static bool
is_hex(const char *at, size_t length)
{
    return strspn(at, "0123456789abcdef") >= length;
}

static bool
is_zero(const char *at, size_t length)
{
    return strspn(at, "0") >= length;
}

bool
trace_context_id(const char *traceparent, char id[TRACE_ID_SIZE])
{
    id[0] = '\0';
    if (traceparent == NULL || strlen(traceparent) < WHOLE) {
        return false;
    }
    const char *at = traceparent;
    const bool dashes = at[TRACE - 1] == '-' && at[PARENT - 1] == '-' && at[FLAGS - 1] == '-';
    const bool fields = is_hex(at + VERSION, 2) && is_hex(at + TRACE, TRACE_LENGTH) &&
                        is_hex(at + PARENT, PARENT_LENGTH) && is_hex(at + FLAGS, 2);
    if (!dashes || !fields || is_zero(at + TRACE, TRACE_LENGTH) || is_zero(at + PARENT, PARENT_LENGTH)) {
        return false;
    }
    /* Version ff is forbidden; version 00 ends here, a later one may go on. */
    const bool first_version = strncmp(at, "00", 2) == 0;
    if (strncmp(at, "ff", 2) == 0 || (at[WHOLE] != '\0' && (first_version || at[WHOLE] != '-'))) {
        return false;
    }
    memcpy(id, at + TRACE, TRACE_LENGTH);
    id[TRACE_LENGTH] = '\0';
    return true;
}
