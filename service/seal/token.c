#include "seal/token.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <openssl/crypto.h>

#include "base/text.h"
#include "seal/file.h"

enum { FILE_MAX = 262144 };

/* ---- the file ---- */

static int
digit(char c)
{
    static const char digits[] = "0123456789abcdefABCDEF";
    const char *found = c != '\0' ? strchr(digits, c) : NULL;
    const int place = found != NULL ? (int)(found - digits) : -1;
    return place > 15 ? place - 6 : place;
}

/* A hash at the start of a line of `length` bytes, and nothing behind it that
 * counts. */
static bool
read_hash(const char *line, size_t length, unsigned char hash[DIGEST_SIZE])
{
    enum { DIGITS = 2 * DIGEST_SIZE };
    for (size_t i = 0; i < DIGITS; i += 2) {
        if (i + 1 >= length || digit(line[i]) < 0 || digit(line[i + 1]) < 0) {
            return false;
        }
        hash[i / 2] = (unsigned char)(16 * digit(line[i]) + digit(line[i + 1]));
    }
    const size_t blanks = strspn(line + DIGITS, " \t\r");
    const size_t rest = DIGITS + blanks;
    return rest >= length || (blanks > 0 && (line[rest] == '#' || line[rest] == '-'));
}

static bool
complain(char fault[KEY_FAULT_SIZE], const char *path, size_t line, const char *what)
{
    struct text text;
    text_init(&text, fault, KEY_FAULT_SIZE);
    text_format(&text, "%s, line %zu: %s", path, line, what);
    return false;
}

static bool
read_lines(struct token_list *list, const char *content, const char *path, char fault[KEY_FAULT_SIZE])
{
    size_t number = 1;
    for (const char *line = content; *line != '\0'; number++) {
        const size_t length = strcspn(line, "\n");
        const size_t blanks = strspn(line, " \t\r");
        if (blanks < length && line[blanks] != '#') {
            if (list->count == TOKENS_MAX) {
                return complain(fault, path, number, "more than 1000 tokens");
            }
            if (!read_hash(line + blanks, length - blanks, list->hash[list->count])) {
                return complain(fault, path, number,
                                "a SHA-256 of 64 hexadecimal digits is wanted, not the token itself");
            }
            list->count++;
        }
        line += length + (line[length] == '\n');
    }
    return true;
}

bool
token_read(struct token_list *list, const char *path, char fault[KEY_FAULT_SIZE])
{
    size_t length = 0;
    memset(list, 0, sizeof *list);
    if (path[0] == '\0') {
        return true;
    }
    char *content = file_read(path, FILE_MAX, &length, fault, KEY_FAULT_SIZE);
    if (content == NULL) {
        return false;
    }
    list->wanted = true;
    list->hash = calloc(TOKENS_MAX, sizeof *list->hash);
    bool good = false;
    if (list->hash == NULL) {
        complain(fault, path, 1, "no memory");
    } else {
        good = read_lines(list, content, path, fault);
    }
    OPENSSL_cleanse(content, length); /* it may hold a token by mistake */
    free(content);
    if (!good) {
        token_clear(list);
    }
    return good;
}

void
token_clear(struct token_list *list)
{
    free(list->hash);
    memset(list, 0, sizeof *list);
}

/* ---- the header ---- */

/* The token of "Bearer TOKEN" (RFC 6750 section 2.1; the scheme in either
 * case), its length in *length; NULL if it is none. */
static const char *
bearer_token(const char *authorization, size_t *length)
{
    static const char scheme[] = "Bearer";
    static const char characters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~+/";
    if (authorization == NULL || strncasecmp(authorization, scheme, sizeof scheme - 1) != 0) {
        return NULL;
    }
    const char *at = authorization + sizeof scheme - 1;
    const size_t blanks = strspn(at, " ");
    at += blanks;
    const size_t body = strspn(at, characters);
    *length = body + strspn(at + body, "=");
    return blanks > 0 && body > 0 && at[*length + strspn(at + *length, " \t")] == '\0' ? at : NULL;
}

bool
token_admits(const struct token_list *list, const char *authorization)
{
    unsigned char hash[DIGEST_SIZE];
    size_t length = 0;
    if (!list->wanted) {
        return true;
    }
    const char *token = bearer_token(authorization, &length);
    if (token == NULL || !digest_sha256(token, length, hash)) {
        return false;
    }
    unsigned found = 0;
    for (size_t i = 0; i < list->count; i++) {
        found |= CRYPTO_memcmp(list->hash[i], hash, sizeof hash) == 0;
    }
    return found != 0;
}
