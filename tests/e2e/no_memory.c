/*
 * To be loaded ahead of the C library (LD_PRELOAD): the n-th allocation of the
 * process from now on fails, n being the number in the file that NO_MEMORY_FILE
 * names, which the test writes while the process runs. 0 is none; the number is
 * counted down, so that 0 afterwards tells that it was reached.
 */

#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

/* glibc's own, by the names that it keeps for such as us. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

static _Atomic unsigned *left;

__attribute__((constructor)) static void
begin(void)
{
    const char *path = getenv("NO_MEMORY_FILE");
    const int file = path != NULL ? open(path, O_RDWR) : -1;
    void *at = file >= 0 ? mmap(NULL, sizeof *left, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0) : MAP_FAILED;
    if (at == MAP_FAILED) {
        _exit(99);
    }
    close(file);
    left = at;
}

static bool
refuse(void)
{
    unsigned n = left != NULL ? atomic_load(left) : 0;
    while (n > 0 && !atomic_compare_exchange_weak(left, &n, n - 1)) {
    }
    if (n != 1) {
        return false;
    }
    errno = ENOMEM;
    return true;
}

void *
malloc(size_t size)
{
    return refuse() ? NULL : __libc_malloc(size);
}

void *
calloc(size_t count, size_t size)
{
    return refuse() ? NULL : __libc_calloc(count, size);
}

void *
realloc(void *block, size_t size)
{
    return refuse() ? NULL : __libc_realloc(block, size);
}
