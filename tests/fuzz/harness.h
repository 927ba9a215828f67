#ifndef SMALLEND_TESTS_FUZZ_HARNESS_H
#define SMALLEND_TESTS_FUZZ_HARNESS_H

/*
 * What every harness shares. A harness is one file that defines the entry below
 * and aborts where something that must hold does not; it is linked with
 * libFuzzer (SMALLEND_FUZZ), or with replay.c for the ordinary tests.
 */

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* The harness goes on only if the condition holds; the rest is a printf format. */
#define HOLDS(condition, ...)                                                                                         \
    do {                                                                                                              \
        if (!(condition)) {                                                                                           \
            fprintf(stderr, "%s:%d: must hold: %s\n    ", __FILE__, __LINE__, #condition);                            \
            fprintf(stderr, __VA_ARGS__);                                                                             \
            fputc('\n', stderr);                                                                                      \
            abort();                                                                                                  \
        }                                                                                                             \
    } while (0)

/* A NUL-terminated copy on the heap, exactly as long as it must be, so that a
 * read past its end is seen; free it. */
static inline char *
copy_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (text == NULL) {
        abort();
    }
    for (size_t i = 0; i < size; i++) {
        text[i] = (char)data[i];
    }
    text[size] = '\0';
    return text;
}

#endif
