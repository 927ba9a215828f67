/*
 * What stands behind the question mark of a link: pairs, percent codes, names of
 * members, job= with a whole document. The first two bytes choose call and form.
 */

#include "fuzz/harness.h"

#include <string.h>

#include "base/base64url.h"
#include "fuzz/reply_rules.h"
#include "wire/query.h"

enum { CHOICES = 2 };

static void
hold_malformed(const struct query *query)
{
    HOLDS(query->pair != NULL && query->pair[query->count].name != NULL, "nothing to name of a malformed query");
}

/* One sequence of bytes has one text: what can be read is written back alike. */
static void
hold_base64url(const char *text)
{
    const size_t length = strlen(text);
    unsigned char *bytes = malloc(length + 1);
    size_t count = 0;
    HOLDS(bytes != NULL, "no memory");
    if (base64url_read(text, length, bytes, &count)) {
        char *again = malloc(base64url_length(count) + 1);
        HOLDS(again != NULL, "no memory");
        base64url_write(again, bytes, count);
        HOLDS(strncmp(again, text, strlen(again)) == 0 && strspn(text + strlen(again), "=") == length - strlen(again),
              "%s and %s spell the same bytes", text, again);
        free(again);
    }
    free(bytes);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct query query;
    if (size < CHOICES) {
        return 0;
    }
    char *text = copy_text(data + CHOICES, size - CHOICES);
    hold_base64url(text);
    switch (query_open(&query, text)) {
    case QUERY_READ: {
        const struct answer_request request = {
            .call = (enum call)(data[0] % CALL_COUNT),
            .format = form_for((enum call)(data[0] % CALL_COUNT), data[1]),
            .query = &query,
            .path = "/v1/check",
        };
        ask_and_hold(&request);
        break;
    }
    case QUERY_MALFORMED:
        hold_malformed(&query);
        break;
    case QUERY_NO_MEMORY:
        HOLDS(false, "no memory");
    }
    query_close(&query);
    free(text);
    return 0;
}
