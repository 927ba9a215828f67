#ifndef SMALLEND_SEAL_RECORD_VERIFY_H
#define SMALLEND_SEAL_RECORD_VERIFY_H

/*
 * Is this a record of ours, and what do today's rules make of it?
 *
 *     {"valid": true, "signature": "good", "kid": "...", "detail": "...", "record_id": "...", "record": {...},
 *      "rules_now": "...", "verdict_now": "...", "release_now": "...", "reasons_now": [...], "cautions": [...]}
 *
 * signature is "good", "bad" or "unknown_key". What was signed stands there
 * only where the signature is good: nobody is handed a record that may be
 * another's under the name of ours. A text that is no compact JWS is refused.
 */

#include "seal/keyring.h"
#include "wire/reply.h"

enum record_body { RECORD_AS_JWS, RECORD_IN_JSON }; /* the JWS itself, or {"jws": "..."} */

/* `path` is that asked for, for problems; NULL = none. */
void record_verify(const struct keyring *ring, const char *body, size_t length, enum record_body form, const char *path,
                   struct reply *reply);

#endif
