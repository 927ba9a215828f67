#include "seal/file.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <openssl/crypto.h>

#include "base/text.h"

static void
complain(char *fault, size_t fault_size, const char *path, const char *what)
{
    struct text text;
    text_init(&text, fault, fault_size);
    text_format(&text, "%s cannot be read: %s", path, what);
}

char *
file_read(const char *path, size_t most, size_t *length, char *fault, size_t fault_size)
{
    FILE *file = fopen(path, "rbe");
    char reason[96] = "";
    if (file == NULL) {
        complain(fault, fault_size, path,
                 strerror_r(errno, reason, sizeof reason) == 0 ? reason : "it cannot be opened");
        return NULL;
    }
    setvbuf(file, NULL, _IONBF, 0); /* no second copy of a secret */
    char *content = malloc(most + 1);
    const size_t got = content != NULL ? fread(content, 1, most + 1, file) : 0;
    const char *wrong = content == NULL ? "no memory" : ferror(file) != 0 ? "reading failed" : NULL;
    fclose(file);
    if (wrong == NULL && got > most) {
        wrong = "it is too large to be what is wanted";
    } else if (wrong == NULL && memchr(content, '\0', got) != NULL) {
        wrong = "it is no text";
    }
    if (wrong != NULL) {
        complain(fault, fault_size, path, wrong);
        if (content != NULL) {
            OPENSSL_cleanse(content, most + 1);
        }
        free(content);
        return NULL;
    }
    content[got] = '\0';
    *length = got;
    return content;
}
