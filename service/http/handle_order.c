#include "http/handle.h"

#include <stdlib.h>
#include <string.h>

#include <civetweb.h>

#include "http/accept.h"
#include "http/deadline.h"
#include "http/exchange.h"
#include "http/route.h"
#include "http/server.h"
#include "seal/record_verify.h"
#include "wire/answer.h"

/* A record of ours, signed, takes some 60,000 characters; a service set to
 * smaller bodies must still verify what it gave. */
enum { RECORD_BODY_MAX = 131072 };

/* RFC 6750 section 3: the challenge says what is wrong only to who has sent
 * something. */
static bool
admit(struct exchange *exchange, const struct seal_state *state)
{
    char header[1024];
    /* Several of them, joined, admit nobody: it is not certain which counts. */
    const char *given = exchange_header_joined(exchange, "Authorization", header, sizeof header);
    /* What fills the buffer may have been cut, and what was cut off counts too. */
    const bool whole = given == NULL || strlen(given) < sizeof header - 1;
    if (token_admits(&state->tokens, whole ? given : "")) {
        return true;
    }
    exchange->challenge =
        given == NULL ? "Bearer realm=\"orders\"" : "Bearer realm=\"orders\", error=\"invalid_token\"";
    exchange_refuse(exchange, PROBLEM_unauthorized, NULL);
    return false;
}

static void
answer(struct exchange *exchange, const struct seal_state *state)
{
    const struct notary notary = seal_notary(state);
    const unsigned forms = answer_forms(CALL_order);
    char *body = NULL;
    size_t length = 0;
    exchange->unoffered = notary.sign == NULL ? NOTARY_NO_KEY : NULL;
    if (!exchange_negotiate(exchange, notary.sign != NULL ? forms : forms & ~ACCEPT_BIT(ANSWER_JWS), false) ||
        !exchange_read_body(exchange, exchange->settings->max_body, &body, &length)) {
        return;
    }
    struct answer_request request = {.call = CALL_order, .body = body, .length = length, .notary = &notary};
    handle_answer(exchange, &request, CACHE_NOTHING);
    free(body);
}

void
handle_order(struct exchange *exchange, const struct route_match *match)
{
    struct seal_state *state = seal_hold(&exchange->server->seal);
    (void)match;
    if (admit(exchange, state)) {
        answer(exchange, state);
    }
    seal_let_go(state);
}

static void
verify(struct exchange *exchange, const struct seal_state *state)
{
    const char *type = exchange_header(exchange, "Content-Type");
    const enum record_body form = type != NULL && accept_is_jose(type) ? RECORD_AS_JWS : RECORD_IN_JSON;
    char *body = NULL;
    size_t length = 0;
    struct reply reply;
    exchange->takes_jose = true;
    const long most = exchange->settings->max_body > RECORD_BODY_MAX ? exchange->settings->max_body : RECORD_BODY_MAX;
    if (!exchange_negotiate(exchange, ACCEPT_BIT(ANSWER_JSON), false) ||
        !exchange_read_body(exchange, most, &body, &length)) {
        return;
    }
    const int64_t start_us = deadline_now_us();
    record_verify(&state->ring, body, length, form, exchange->request->local_uri_raw, &reply);
    exchange->calculation_us = deadline_now_us() - start_us;
    free(body);
    exchange_send(exchange, &reply, CACHE_NOTHING);
    reply_clear(&reply);
}

void
handle_verify(struct exchange *exchange, const struct route_match *match)
{
    struct seal_state *state = seal_hold(&exchange->server->seal);
    (void)match;
    verify(exchange, state);
    seal_let_go(state);
}
