#include "fuzz/reply_rules.h"

#include <string.h>

#include <jansson.h>

#include "base/text.h"
#include "fuzz/harness.h"
#include "wire/link_write.h"
#include "wire/notary.h"
#include "wire/query.h"

enum answer_format
form_for(enum call call, unsigned choice)
{
    const enum answer_format form = (enum answer_format)(choice % ANSWER_FORMATS);
    return (answer_forms(call) & 1u << form) != 0 ? form : ANSWER_JSON;
}

static bool
digest(const char *bytes, size_t length, char id[ORDER_ID_SIZE])
{
    (void)bytes;
    (void)length;
    memset(id, '0', ORDER_ID_SIZE - 1);
    id[ORDER_ID_SIZE - 1] = '\0';
    return true;
}

static bool
sign(const void *context, const char *payload, size_t length, struct buffer *jws)
{
    (void)context;
    (void)payload;
    (void)length;
    buffer_add(jws, "e30.e30.AA");
    return true;
}

static const struct notary notary = {.digest = digest, .sign = sign, .key_id = "made-up"};

static bool
is_clean_text(const struct reply *reply)
{
    size_t at = 0;
    while (at < reply->length) {
        uint32_t code = 0;
        const size_t size = text_character(reply->body + at, reply->length - at, &code);
        if (size == 0 || (code < 0x20 && code != '\n')) {
            return false;
        }
        at += size;
    }
    return true;
}

static void
hold_json(const struct reply *reply)
{
    json_error_t error;
    json_t *root = json_loadb(reply->body, reply->length, JSON_REJECT_DUPLICATES, &error);
    HOLDS(root != NULL, "an answer that is no JSON: %s\n%.*s", error.text, (int)reply->length, reply->body);
    HOLDS(json_array_size(json_object_get(root, "cautions")) > 0, "no cautions");
    if (reply->status == 200) {
        const char *verdict = json_string_value(json_object_get(root, "verdict"));
        HOLDS(verdict != NULL && (strcmp(verdict, "ok") == 0 || strcmp(verdict, "marginal") == 0 ||
                                  strcmp(verdict, "incomplete") == 0 || strcmp(verdict, "fails") == 0),
              "no verdict");
    } else {
        HOLDS(json_integer_value(json_object_get(root, "status")) == reply->status, "status of the problem document");
        HOLDS(json_string_length(json_object_get(root, "detail")) > 0, "a problem without detail");
        HOLDS((reply->status == 422) == (json_array_size(json_object_get(root, "errors")) > 0),
              "a 422, and only that, lists faults");
    }
    json_decref(root);
}

static void
hold_reply(const struct answer_request *request, const struct reply *reply)
{
    const bool problem = reply->status != 200;
    HOLDS(reply->status == 200 || reply->status == 400 || reply->status == 406 || reply->status == 422, "status %d: %.*s", reply->status,
          (int)reply->length, reply->body);
    HOLDS(reply->content_type != NULL && reply->length > 0 && reply->body != NULL, "no body");
    HOLDS(is_clean_text(reply), "not clean UTF-8: %.*s", (int)reply->length, reply->body);
    HOLDS(reply->location == NULL || (!problem && strncmp(reply->location, request->path, strlen(request->path)) == 0 &&
                                      strlen(reply->location) <= LINK_MAX + 64),
          "a strange link");
    if (strcmp(reply->content_type, "application/jose") == 0) {
        HOLDS(request->format == ANSWER_JWS && strcmp(reply->body, "e30.e30.AA") == 0, "%s", reply->body);
        return;
    }
    if (strncmp(reply->content_type, "application/", 12) == 0) {
        HOLDS(strcmp(reply->content_type, problem ? "application/problem+json" : "application/json") == 0, "content type %s",
              reply->content_type);
        hold_json(reply);
        return;
    }
    if (request->format == ANSWER_HTML) {
        const char *raw = strstr(reply->body, "<script");
        HOLDS(raw == NULL, "text of the client's comes out as markup: %s", raw);
    }
}

/* The link of an answer asks for that answer. */
static void
follow(const struct answer_request *request, const struct reply *reply)
{
    struct query query;
    struct reply again;
    struct answer_request linked = *request;
    const char *mark = strchr(reply->location, '?');
    HOLDS(query_open(&query, mark != NULL ? mark + 1 : NULL) == QUERY_READ, "the link cannot be read: %s", reply->location);
    for (size_t i = 0; i < query.count; i++) {
        query.pair[i].taken = strcmp(query.pair[i].name, "format") == 0 || strcmp(query.pair[i].name, "trace") == 0;
    }
    linked.query = &query;
    answer_request(&linked, &again, NULL);
    HOLDS(again.status == 200, "the link gives %d: %s\n%.*s", again.status, reply->location, (int)again.length, again.body);
    HOLDS(again.length == reply->length && memcmp(again.body, reply->body, again.length) == 0,
          "the link gives another answer: %s\n%.*s\n%.*s", reply->location, (int)reply->length, reply->body,
          (int)again.length, again.body);
    reply_clear(&again);
    query_close(&query);
}

void
ask_and_hold(const struct answer_request *request)
{
    struct reply reply = {.status = 0};
    struct answer_request whole = *request;
    whole.notary = &notary;
    answer_request(&whole, &reply, NULL);
    hold_reply(&whole, &reply);
    if (reply.location != NULL) {
        follow(&whole, &reply);
    }
    reply_clear(&reply);
}
