#include "joint/name.h"

#include <stddef.h>

#include "base/text.h"

static char
lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static const char *
past_blanks(const char *at)
{
    while (*at == ' ' || *at == '\t') {
        at++;
    }
    return at;
}

bool
name_same(const char *a, const char *b)
{
    a = past_blanks(a);
    b = past_blanks(b);
    while (*a != '\0' && lower(*a) == lower(*b)) {
        a = past_blanks(a + 1);
        b = past_blanks(b + 1);
    }
    return *a == '\0' && *b == '\0';
}

/* Lower case, without blanks, cut to `capacity`; returns the length. */
static unsigned
plain(const char *name, char *buffer, unsigned capacity)
{
    unsigned length = 0;

    for (name = past_blanks(name); *name != '\0' && length + 1 < capacity; name = past_blanks(name + 1)) {
        buffer[length++] = lower(*name);
    }
    buffer[length] = '\0';
    return length;
}

void
name_search_init(struct name_search *search, const char *name)
{
    const unsigned length = plain(name, search->sought, sizeof search->sought);

    /* A slip or two in a short id, three in a long one; more is another word. */
    search->distance = length == 0 ? 0 : 2 + length / 4;
    search->nearest = NULL;
}

void
name_search_offer(struct name_search *search, const char *name, const char *answer)
{
    char offered[sizeof search->sought];
    unsigned distance;

    (void)plain(name, offered, sizeof offered);
    distance = text_edit_distance(search->sought, offered);
    if (distance < search->distance) {
        search->distance = distance;
        search->nearest = answer;
    }
}
