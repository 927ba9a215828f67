#include "wire/nearest.h"

#include <stdbool.h>
#include <string.h>

#include "base/text.h"

static void
fold(char *folded, const char *name)
{
    size_t i = 0;
    for (; i + 1 < NEAREST_SIZE && name[i] != '\0'; i++) {
        const char c = name[i];
        if (c >= 'A' && c <= 'Z') {
            folded[i] = (char)(c - 'A' + 'a');
        } else if (c == '-' || c == ' ') {
            folded[i] = '_';
        } else {
            folded[i] = c;
        }
    }
    folded[i] = '\0';
}

void
nearest_init(struct nearest *nearest, const char *given)
{
    fold(nearest->given, given);
    const size_t length = strlen(nearest->given);
    nearest->limit = length < 3 ? 0 : (unsigned)(length / 3);
    nearest->distance = nearest->limit + 1;
    nearest->best = NULL;
}

/* "bore_mm" for "bore", "speed_rpm" for "speed": the name with a unit or the
 * like behind it. */
static bool
extends(const char *longer, const char *shorter)
{
    const size_t length = strlen(shorter);
    return length >= 3 && strncmp(longer, shorter, length) == 0 && longer[length] == '_';
}

void
nearest_offer(struct nearest *nearest, const char *name)
{
    char folded[NEAREST_SIZE];
    fold(folded, name);
    const size_t given_length = strlen(nearest->given);
    const size_t length = strlen(folded);
    unsigned distance = nearest->limit + 1;
    if (extends(nearest->given, folded)) {
        distance = nearest->limit;
    } else if ((length > given_length ? length - given_length : given_length - length) <= nearest->limit) {
        distance = text_edit_distance(nearest->given, folded);
    }
    if (distance < nearest->distance) {
        nearest->distance = distance;
        nearest->best = name;
    }
}
