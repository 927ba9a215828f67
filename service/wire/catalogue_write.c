#include "wire/catalogue_write.h"

#include <string.h>

#include "joint/name.h"
#include "wire/nearest.h"

const struct catalogue *
catalogue_find(const char *name)
{
    for (size_t i = 0; i < catalogue_count(); i++) {
        if (strcmp(catalogue_at(i)->name, name) == 0) {
            return catalogue_at(i);
        }
    }
    return NULL;
}

void
catalogue_write(struct buffer *out, const struct catalogue *catalogue)
{
    struct writer writer;
    const size_t count = catalogue->count();
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    writer_list(&writer, catalogue->member);
    for (size_t i = 0; i < count; i++) {
        writer_object(&writer, NULL);
        catalogue->row(&writer, i);
        writer_object_end(&writer);
    }
    writer_list_end(&writer);
    writer_cautions_always(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
}

/* Index of the row of this id, or the count. An id as it stands comes before
 * one in another case: "h7" is a shaft's class, "H7" a hole's. */
static size_t
find_row(const struct catalogue *catalogue, const char *id)
{
    const size_t count = catalogue->count();
    for (size_t i = 0; i < count; i++) {
        if (strcmp(catalogue->id(i), id) == 0) {
            return i;
        }
    }
    for (size_t i = 0; i < count; i++) {
        if (name_same(catalogue->id(i), id)) {
            return i;
        }
    }
    return catalogue->other != NULL ? catalogue->other(id) : count;
}

static const char *
find_nearest(const struct catalogue *catalogue, const char *id)
{
    if (catalogue->nearest != NULL) {
        return catalogue->nearest(id);
    }
    const size_t count = catalogue->count();
    struct nearest nearest;
    nearest_init(&nearest, id);
    for (size_t i = 0; i < count; i++) {
        nearest_offer(&nearest, catalogue->id(i));
    }
    return nearest.best;
}

bool
catalogue_write_row(struct buffer *out, const struct catalogue *catalogue, const char *id, const char **nearest)
{
    const size_t index = find_row(catalogue, id);
    if (index >= catalogue->count()) {
        *nearest = find_nearest(catalogue, id);
        return false;
    }
    struct writer writer;
    writer_init(&writer, out);
    writer_object(&writer, NULL);
    catalogue->row(&writer, index);
    writer_cautions_always(&writer);
    writer_object_end(&writer);
    buffer_add(out, "\n");
    return true;
}
