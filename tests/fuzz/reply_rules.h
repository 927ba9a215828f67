#ifndef SMALLEND_TESTS_FUZZ_REPLY_RULES_H
#define SMALLEND_TESTS_FUZZ_REPLY_RULES_H

/* What holds for every answer, whatever was asked. */

#include "wire/answer.h"

/* One of the forms that the call has; its place in corpus files is one byte. */
enum answer_format form_for(enum call call, unsigned choice);

/*
 * Ask (orders too: the ids and signatures of records are made up here), and hold the reply against the rules: a status for what the client did
 * (200, 400, 406, 422, never 5xx), a body that is whole, UTF-8 and of its content
 * type, cautions in it, and a link that asks for the very same answer.
 */
void ask_and_hold(const struct answer_request *request);

#endif
