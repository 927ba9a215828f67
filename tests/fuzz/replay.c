/*
 * Runs a harness over files and folders of inputs, without a fuzzer: the corpus
 * as an ordinary test, and an input that broke something once more.
 */

#include "fuzz/harness.h"

#include <dirent.h>
#include <string.h>

enum { INPUT_MAX = 1 << 20, PATH_SIZE = 4096 };

static size_t inputs;

static void
replay_file(const char *path)
{
    static uint8_t input[INPUT_MAX];
    FILE *file = fopen(path, "rb");
    HOLDS(file != NULL, "cannot open %s", path);
    const size_t size = fread(input, 1, sizeof input, file);
    HOLDS(ferror(file) == 0 && size < sizeof input, "cannot read %s", path);
    fclose(file);
    fprintf(stderr, "%s\n", path); /* the last one named is the one that broke */
    /* On the heap, exactly as large as it is: a read past its end is seen. */
    uint8_t *exact = malloc(size > 0 ? size : 1);
    HOLDS(exact != NULL, "no memory");
    memcpy(exact, input, size);
    LLVMFuzzerTestOneInput(exact, size);
    free(exact);
    inputs++;
}

int
main(int argc, char **argv)
{
    for (int i = 1; i < argc; i++) {
        DIR *folder = opendir(argv[i]);
        if (folder == NULL) {
            replay_file(argv[i]);
            continue;
        }
        for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
            char path[PATH_SIZE];
            if (entry->d_name[0] != '.') {
                const int length = snprintf(path, sizeof path, "%s/%s", argv[i], entry->d_name);
                HOLDS(length > 0 && (size_t)length < sizeof path, "path too long in %s", argv[i]);
                replay_file(path);
            }
        }
        closedir(folder);
    }
    printf("%zu inputs replayed\n", inputs);
    return inputs > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
