#ifndef SMALLEND_HTTP_HANDLE_H
#define SMALLEND_HTTP_HANDLE_H

/* The handlers that route.def names; each answers its exchange once. */

#include "http/exchange.h"
#include "wire/answer.h"

struct route_match;

/* What the handlers of calls share: answer `request`, whose form and path are
 * the exchange's, and count the verdict. `cache` holds for status 200. */
void handle_answer(struct exchange *exchange, struct answer_request *request, enum cache cache);

void handle_order(struct exchange *exchange, const struct route_match *match);
void handle_verify(struct exchange *exchange, const struct route_match *match);
void handle_keys(struct exchange *exchange, const struct route_match *match);
void handle_link(struct exchange *exchange, const struct route_match *match);
void handle_call(struct exchange *exchange, const struct route_match *match);
void handle_batch(struct exchange *exchange, const struct route_match *match);
void handle_table(struct exchange *exchange, const struct route_match *match);
void handle_document(struct exchange *exchange, const struct route_match *match);
void handle_index(struct exchange *exchange, const struct route_match *match);
void handle_livez(struct exchange *exchange, const struct route_match *match);
void handle_readyz(struct exchange *exchange, const struct route_match *match);
void handle_metrics(struct exchange *exchange, const struct route_match *match);

#endif
