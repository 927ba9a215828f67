#ifndef SMALLEND_SEAL_FILE_H
#define SMALLEND_SEAL_FILE_H

#include <stddef.h>

/*
 * The whole of a file of at most `most` bytes, NUL-terminated, owned by the
 * caller, and its length; bytes of value 0 are refused. NULL, and a sentence in
 * `fault` that names the file, if it cannot be had.
 */
char *file_read(const char *path, size_t most, size_t *length, char *fault, size_t fault_size);

#endif
