/*
 * The body of a POST, any bytes, for every call and form of answer. The first
 * three bytes choose call, form and points of the curves; the rest is the job.
 */

#include "fuzz/harness.h"
#include "fuzz/reply_rules.h"

enum { CHOICES = 3 };

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < CHOICES) {
        return 0;
    }
    /* not NUL-terminated, and exactly as large as it is */
    char *body = malloc(size - CHOICES + 1);
    HOLDS(body != NULL, "no memory");
    for (size_t i = CHOICES; i < size; i++) {
        body[i - CHOICES] = (char)data[i];
    }
    char *exact = realloc(body, size > CHOICES ? size - CHOICES : 1);
    HOLDS(exact != NULL, "no memory");
    const struct answer_request request = {
        .call = (enum call)(data[0] % CALL_COUNT),
        .format = form_for((enum call)(data[0] % CALL_COUNT), data[1]),
        .body = exact,
        .length = size - CHOICES,
        .path = "/v1/check",
        .trace = data[2] % 8 == 7 ? 12u + data[2] : 0,
    };
    ask_and_hold(&request);
    free(exact);
    return 0;
}
