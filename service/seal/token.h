#ifndef SMALLEND_SEAL_TOKEN_H
#define SMALLEND_SEAL_TOKEN_H

/*
 * Bearer tokens (RFC 6750), of which only hashes are kept. The file has one
 * SHA-256 in hexadecimal a line, as sha256sum writes it; blank lines, and what
 * follows a # or the hash's own "  -", are passed over:
 *
 *     printf %s "$token" | sha256sum >>tokens
 */

#include <stdbool.h>
#include <stddef.h>

#include "seal/digest.h"
#include "seal/key.h"

enum { TOKENS_MAX = 1000 };

struct token_list {
    bool wanted; /* a file is set: who has no token of it is not admitted */
    size_t count;
    unsigned char (*hash)[DIGEST_SIZE]; /* owned */
};

/*
 * Read the file; "" is none. False, and a sentence in `fault` that tells the
 * line but nothing of what stands there, if it cannot be used. A file without a
 * token is good: it admits nobody. The caller clears the list.
 */
bool token_read(struct token_list *list, const char *path, char fault[KEY_FAULT_SIZE])
    __attribute__((warn_unused_result));

void token_clear(struct token_list *list);

/*
 * Does an Authorization header admit? True where no tokens are wanted. The time
 * it takes does not tell how much of a token was right, nor which one it is.
 */
bool token_admits(const struct token_list *list, const char *authorization);

#endif
