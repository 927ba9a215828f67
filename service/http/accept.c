#include "http/accept.h"

#include <stddef.h>
#include <string.h>
#include <strings.h>

/* One element of the header: type/subtype;...;q=0.5 */
struct range {
    const char *type;
    size_t type_length;
    const char *subtype;
    size_t subtype_length;
    int quality; /* thousandths */
};

static const char *
skip_blanks(const char *at)
{
    return at + strspn(at, " \t");
}

/* "q=" has been read: 0, 1, 0.x to three digits. -1 if it is none of these. */
static int
read_quality(const char *at)
{
    if ((at[0] != '0' && at[0] != '1')) {
        return -1;
    }
    int quality = at[0] == '1' ? 1000 : 0;
    ++at;
    if (*at == '.') {
        ++at;
        for (int place = 100; *at >= '0' && *at <= '9'; ++at, place /= 10) {
            quality += place * (*at - '0');
        }
    }
    at = skip_blanks(at);
    return quality <= 1000 && (*at == '\0' || *at == ',' || *at == ';') ? quality : -1;
}

/* Read the element at `at`, up to the comma. False if it is malformed. */
static bool
read_range(const char *at, struct range *range)
{
    static const char ends[] = " \t,;/";
    range->type = skip_blanks(at);
    range->type_length = strcspn(range->type, ends);
    if (range->type_length == 0 || range->type[range->type_length] != '/') {
        return false;
    }
    range->subtype = range->type + range->type_length + 1;
    range->subtype_length = strcspn(range->subtype, ends);
    range->quality = 1000;
    const char *parameter = skip_blanks(range->subtype + range->subtype_length);
    while (*parameter == ';') {
        parameter = skip_blanks(parameter + 1);
        if ((parameter[0] == 'q' || parameter[0] == 'Q') && parameter[1] == '=') {
            range->quality = read_quality(parameter + 2);
        }
        parameter += strcspn(parameter, ",;");
    }
    return range->subtype_length > 0 && range->quality >= 0 && (*parameter == '\0' || *parameter == ',');
}

static bool
same(const char *bytes, size_t length, const char *word)
{
    return strlen(word) == length && strncasecmp(bytes, word, length) == 0;
}

/* How exactly the range names a form: 0 not at all, 1 any, 2 any of its type, 3 itself. */
static int
exactness(const struct range *range, enum answer_format format)
{
    const bool any_subtype = same(range->subtype, range->subtype_length, "*");
    if (same(range->type, range->type_length, "*")) {
        return any_subtype ? 1 : 0;
    }
    const char *type = answer_form(format)->media_type;
    const char *slash = strchr(type, '/');
    if (range->type_length != (size_t)(slash - type) || strncasecmp(range->type, type, range->type_length) != 0) {
        return 0;
    }
    if (any_subtype) {
        return 2;
    }
    return same(range->subtype, range->subtype_length, slash + 1) ? 3 : 0;
}

struct wish {
    int exactness;
    int quality;
    int place;
};

/* The most exact element speaks for a form, whatever the others say. */
static bool
read_wishes(const char *header, struct wish wishes[ANSWER_FORMATS])
{
    bool any = false;
    int place = 0;
    for (const char *at = header; *at != '\0'; ++place) {
        struct range range;
        if (read_range(at, &range)) {
            any = true;
            for (int form = 0; form < ANSWER_FORMATS; ++form) {
                const int exact = exactness(&range, (enum answer_format)form);
                if (exact > wishes[form].exactness) {
                    wishes[form] = (struct wish){exact, range.quality, place};
                }
            }
        }
        at += strcspn(at, ",");
        at += *at == ',';
    }
    return any;
}

static bool
is_better(const struct wish *wish, const struct wish *than)
{
    if (wish->quality != than->quality) {
        return wish->quality > than->quality;
    }
    if (wish->exactness != than->exactness) {
        return wish->exactness > than->exactness;
    }
    return wish->place < than->place;
}

bool
accept_choose(const char *header, unsigned offered, enum answer_format *format)
{
    struct wish wishes[ANSWER_FORMATS] = {{0, 0, 0}};
    if (header == NULL || !read_wishes(header, wishes)) {
        read_wishes("*/*", wishes);
    }
    int best = -1;
    for (int form = 0; form < ANSWER_FORMATS; ++form) {
        const bool possible = (offered & ACCEPT_BIT(form)) != 0 && wishes[form].quality > 0;
        if (possible && (best < 0 || is_better(&wishes[form], &wishes[best]))) {
            best = form;
        }
    }
    if (best >= 0) {
        *format = (enum answer_format)best;
    }
    return best >= 0;
}

bool
accept_is_json(const char *content_type)
{
    const char *type = skip_blanks(content_type);
    const size_t length = strcspn(type, "; \t");
    static const char prefix[] = "application/", suffix[] = "+json";
    const size_t prefix_length = sizeof prefix - 1, suffix_length = sizeof suffix - 1;
    if (length <= prefix_length || strncasecmp(type, prefix, prefix_length) != 0) {
        return false;
    }
    const char *subtype = type + prefix_length;
    const size_t subtype_length = length - prefix_length;
    return same(subtype, subtype_length, "json") ||
           (subtype_length > suffix_length && same(type + length - suffix_length, suffix_length, suffix));
}

bool
accept_is_jose(const char *content_type)
{
    const char *type = skip_blanks(content_type);
    return same(type, strcspn(type, "; \t"), answer_form(ANSWER_JWS)->media_type);
}
