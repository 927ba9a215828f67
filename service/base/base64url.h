#ifndef SMALLEND_BASE_BASE64URL_H
#define SMALLEND_BASE_BASE64URL_H

/* Bytes as text for addresses and tokens: base64url without padding, RFC 4648
 * section 5, as RFC 7515 section 2 uses it. */

#include <stdbool.h>
#include <stddef.h>

/* Characters that `bytes` bytes become, the closing NUL not counted. */
size_t base64url_length(size_t bytes);

/* Write `length` bytes into `text`, of base64url_length(length) + 1 bytes. */
void base64url_write(char *text, const unsigned char *bytes, size_t length);

/*
 * Read `length` characters into `bytes`, which must have room for
 * length * 3 / 4 of them; *count is how many there are. Padding "=" at the end
 * is passed over. False if a character is foreign, the length is impossible,
 * or bits that mean nothing are not zero: one sequence of bytes has one text.
 */
bool base64url_read(const char *text, size_t length, unsigned char *bytes, size_t *count);

#endif
