#include "wire/reply.h"

#include <stdlib.h>
#include <string.h>

#include "wire/problem_text.h"

static const char content_problem[] = "application/problem+json";

static const struct answer_form forms[ANSWER_FORMATS] = {
    [ANSWER_JSON] = {"json", "application/json", "application/json"},
    [ANSWER_MD] = {"md", "text/markdown", "text/markdown; charset=utf-8"},
    [ANSWER_TXT] = {"txt", "text/plain", "text/plain; charset=utf-8"},
    [ANSWER_SVG] = {"svg", "image/svg+xml", "image/svg+xml"},
    [ANSWER_HTML] = {"html", "text/html", "text/html; charset=utf-8"},
    [ANSWER_JWS] = {"jws", "application/jose", "application/jose"},
};

const struct answer_form *
answer_form(enum answer_format format)
{
    return &forms[format];
}

bool
answer_format_from(const char *word, enum answer_format *format)
{
    for (int i = 0; i < ANSWER_FORMATS; i++) {
        if (strcmp(forms[i].word, word) == 0) {
            *format = (enum answer_format)i;
            return true;
        }
    }
    return false;
}

void
reply_clear(struct reply *reply)
{
    free(reply->owned);
    free(reply->location);
    memset(reply, 0, sizeof *reply);
}

void
reply_deliver(struct reply *reply, struct buffer *out, int status, const char *content_type)
{
    if (out->failed || out->at == NULL) {
        buffer_clear(out);
        *reply = (struct reply){.status = problem_row(PROBLEM_unavailable)->status,
                                .content_type = content_problem,
                                .body = problem_no_memory,
                                .length = problem_no_memory_length,
                                .is_problem = true,
                                .problem = PROBLEM_unavailable};
        return;
    }
    *reply = (struct reply){
        .status = status, .content_type = content_type, .body = out->at, .length = out->length, .owned = out->at};
}

void
reply_refuse(struct reply *reply, const struct refusal *refusal, enum answer_format format)
{
    struct buffer out;
    buffer_init(&out);
    const char *content_type = forms[format].content_type;
    switch (format) {
    case ANSWER_MD:
        problem_text_markdown(&out, refusal);
        break;
    case ANSWER_TXT:
        problem_text_plain(&out, refusal);
        break;
    case ANSWER_HTML:
        problem_text_html(&out, refusal);
        break;
    case ANSWER_JSON:
    case ANSWER_SVG:
    case ANSWER_JWS:
    case ANSWER_FORMATS:
        content_type = content_problem;
        problem_write(&out, refusal->problem, refusal->detail, refusal->instance, refusal->faults, refusal->place);
        break;
    }
    reply_deliver(reply, &out, problem_row(refusal->problem)->status, content_type);
    if (!reply->is_problem) { /* else there is another one: no memory */
        reply->is_problem = true;
        reply->problem = refusal->problem;
    }
}
