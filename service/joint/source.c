#include "joint/material.h"

#include <stddef.h>
#include <string.h>

static const struct source sources[] = {
#define SOURCE(key, how, citation) {key, citation, PROVENANCE_##how},
#include "joint/source.def"
};

enum { SOURCE_COUNT = sizeof sources / sizeof sources[0] };

const struct source *
source_table(size_t *count)
{
    *count = SOURCE_COUNT;
    return sources;
}

const struct source *
source_find(const char *key)
{
    for (size_t i = 0; i < SOURCE_COUNT; i++) {
        if (strcmp(sources[i].key, key) == 0) {
            return &sources[i];
        }
    }
    return NULL;
}
