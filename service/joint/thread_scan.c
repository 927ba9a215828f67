#include "joint/thread_scan.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

enum { PLAIN_SIZE = 48 };

/* Signs outside ASCII, and what they stand for. */
static const struct {
    const char *sign;
    const char *plain;
} signs[] = {
    {"\xC2\xBC", " 1/4"},     {"\xC2\xBD", " 1/2"},     {"\xC2\xBE", " 3/4"},     {"\xE2\x85\x9B", " 1/8"},
    {"\xE2\x85\x9C", " 3/8"}, {"\xE2\x85\x9D", " 5/8"}, {"\xE2\x85\x9E", " 7/8"}, /* vulgar fractions */
    {"\xE2\x81\x84", "/"},                                                        /* fraction slash */
    {"\xC3\x97", "X"},                                                            /* multiplication sign */
    {"\xE2\x80\x9C", "\""},   {"\xE2\x80\x9D", "\""},   {"\xE2\x80\xB3", "\""},   /* quotes, double prime */
    {"\xE2\x80\x90", "-"},    {"\xE2\x80\x91", "-"},    {"\xE2\x80\x92", "-"},    /* hyphens and dashes */
    {"\xE2\x80\x93", "-"},    {"\xE2\x80\x94", "-"},    {"\xE2\x88\x92", "-"},    {"\xC2\xA0", " "},
    {"\xE2\x80\xAF", " "}, /* blanks that do not break */
};

static bool
is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool
is_letter(char c)
{
    return c >= 'A' && c <= 'Z';
}

/* The sign at the start of `text`, NULL if none is known. */
static const char *
sign_at(const char *text, size_t *length)
{
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        *length = strlen(signs[i].sign);
        if (strncmp(text, signs[i].sign, *length) == 0) {
            return signs[i].plain;
        }
    }
    return NULL;
}

/* Upper case ASCII; false if it does not fit or holds an unknown sign. */
static bool
make_plain(const char *text, char plain[PLAIN_SIZE])
{
    size_t used = 0, length = 1;

    for (; *text != '\0'; text += length) {
        char single[2] = {*text, '\0'};
        const char *as = single;

        length = 1;
        if (*text >= 'a' && *text <= 'z') {
            single[0] = (char)(*text - 'a' + 'A');
        } else if (*text == '\t') {
            single[0] = ' ';
        } else if (*text < ' ' || *text > '~') {
            as = sign_at(text, &length);
        }
        if (as == NULL || used + strlen(as) >= PLAIN_SIZE) {
            return false;
        }
        memcpy(plain + used, as, strlen(as));
        used += strlen(as);
    }
    plain[used] = '\0';
    return true;
}

static void
skip_blanks(const char **at)
{
    while (**at == ' ') {
        ++*at;
    }
}

/* Step over `word` if it is next, after blanks. */
static bool
accept(const char **at, const char *word)
{
    const char *next = *at;

    skip_blanks(&next);
    if (strncmp(next, word, strlen(word)) != 0) {
        return false;
    }
    *at = next + strlen(word);
    return true;
}

/* Step over one of the words, or over none. */
static void
accept_any(const char **at, const char *const *words, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (accept(at, words[i])) {
            return;
        }
    }
}

/* "12" or "0.41": at most four digits before the point and after it. */
static bool
read_number(const char **at, double *value, bool *whole)
{
    const char *next = *at;
    double number = 0.0, place = 1.0;
    int before = 0, after = 0;

    for (; is_digit(*next) && before < 4; before++, next++) {
        number = number * 10.0 + (*next - '0');
    }
    *whole = *next != '.';
    if (*next == '.') {
        for (next++; is_digit(*next) && after < 4; after++, next++) {
            place *= 10.0;
            number = number * 10.0 + (*next - '0');
        }
    }
    if (before + after == 0 || is_digit(*next)) {
        return false;
    }
    *at = next;
    *value = number / place;
    return true;
}

/* "3/8": a proper fraction of halves to sixty-fourths. */
static bool
read_fraction(const char **at, double *value)
{
    const char *next = *at;
    double over, under;
    bool whole;

    if (!read_number(&next, &over, &whole) || !whole || *next++ != '/' || !read_number(&next, &under, &whole) ||
        !whole) {
        return false;
    }
    if (!(over >= 1.0 && over < under && under <= 64.0) || fmod(64.0, under) != 0.0) {
        return false;
    }
    *at = next;
    *value = over / under;
    return true;
}

/* "3/8", "1 1/4", "1-1/4", "0.41", "12"; *whole if a bare whole number. */
static bool
read_mixed(const char **at, double *value, bool *whole)
{
    const char *next;
    double fraction;

    skip_blanks(at);
    *whole = false;
    if (read_fraction(at, value)) {
        return true;
    }
    if (!read_number(at, value, whole)) {
        return false;
    }
    next = *at;
    if (*whole && (*next == ' ' || *next == '-')) {
        next++;
        skip_blanks(&next);
        if (read_fraction(&next, &fraction)) {
            *value += fraction;
            *whole = false;
            *at = next;
        }
    }
    return true;
}

static double
numbered_size_in(int number)
{
    return 0.060 + 0.013 * number; /* ASME B1.1 */
}

/* The series named next, SERIES_NONE if none is. */
static enum thread_series
read_series(const char **at)
{
    static const struct {
        const char *word;
        enum thread_series series;
    } words[] = {{"UNC", SERIES_UNC}, {"NC", SERIES_UNC},  {"UNF", SERIES_UNF}, {"NF", SERIES_UNF},
                 {"UNEF", SERIES_UN}, {"NEF", SERIES_UN},  {"UNS", SERIES_UN},  {"NS", SERIES_UN},
                 {"UN", SERIES_UN},   {"BSW", SERIES_BSW}, {"BSF", SERIES_BSF}, {"WHITWORTH", SERIES_BSW},
                 {"WHIT", SERIES_BSW}};

    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const char *next = *at;

        if (accept(&next, words[i].word) && !is_letter(*next)) {
            *at = next;
            return words[i].series;
        }
    }
    return SERIES_NONE;
}

/* Step over a class of fit, "-2A" or "2B", which is of no account here. */
static void
skip_fit_class(const char **at)
{
    const char *next = *at;

    (void)accept(&next, "-");
    skip_blanks(&next);
    if (next[0] >= '1' && next[0] <= '3' && (next[1] == 'A' || next[1] == 'B')) {
        *at = next + 2;
    }
}

/*
 * "10-24" is the machine screw, not ten inches; up to 3 it is one if the
 * thread is too fine for a bolt of that many inches ("2-56" against "2-4.5").
 */
static bool
is_screw_number(const struct thread_text *read, bool whole)
{
    return whole && read->diameter <= 12.0 && (read->diameter >= 4.0 || read->per_inch >= THREAD_FINE_per_inch);
}

static bool
scan_inch(const char *at, struct thread_text *read)
{
    static const char *const numbers[] = {"#", "NO.", "NO"};
    static const char *const inch_marks[] = {"\"", "''", "INCH", "IN"};
    static const char *const joints[] = {"-", "X"};
    const char *start = at;
    bool whole, marked, ignored;

    accept_any(&at, numbers, sizeof numbers / sizeof numbers[0]);
    marked = at != start;
    if (!read_mixed(&at, &read->diameter, &whole) || (marked && !(whole && read->diameter <= 12.0))) {
        return false;
    }
    start = at;
    accept_any(&at, inch_marks, sizeof inch_marks / sizeof inch_marks[0]);
    whole = whole && at == start;
    start = at;
    accept_any(&at, joints, sizeof joints / sizeof joints[0]);
    if (!read_mixed(&at, &read->per_inch, &ignored)) {
        at = start;
    } else if (!(read->per_inch > 0.0)) {
        return false;
    }
    (void)accept(&at, "TPI");
    read->series = read_series(&at);
    skip_fit_class(&at);
    skip_blanks(&at);
    if (marked || is_screw_number(read, whole)) {
        read->number = (int)read->diameter;
        read->diameter = numbered_size_in(read->number);
    }
    return *at == '\0';
}

/* Step over a tolerance class, "-6g" or "-5g6g", which is of no account here. */
static void
skip_tolerance(const char **at)
{
    const char *next = *at;

    if (accept(&next, "-") && is_digit(*next)) {
        while (is_digit(*next) || is_letter(*next)) {
            next++;
        }
        *at = next;
    }
}

static bool
scan_metric(const char *at, struct thread_text *read)
{
    const char *next;
    bool whole;

    skip_blanks(&at);
    if (!read_number(&at, &read->diameter, &whole)) {
        return false;
    }
    if (accept(&at, "X") || accept(&at, "*")) {
        skip_blanks(&at);
        if (!read_number(&at, &read->pitch, &whole) || !(read->pitch > 0.0)) {
            return false;
        }
    } else {
        /* "M10-1.5" names the pitch, "M10-6g" a tolerance. */
        next = at;
        if (accept(&next, "-") && read_number(&next, &read->pitch, &whole) && !is_letter(*next)) {
            at = next;
        } else {
            read->pitch = 0.0;
        }
    }
    (void)accept(&at, "MM");
    skip_tolerance(&at);
    skip_blanks(&at);
    return *at == '\0';
}

bool
thread_scan(const char *text, struct thread_text *read)
{
    char plain[PLAIN_SIZE] = "";
    const char *at = plain;

    *read = (struct thread_text){.number = -1};
    if (!make_plain(text, plain)) {
        return false;
    }
    if (accept(&at, "M") && !is_letter(*at)) {
        read->metric = true;
        return scan_metric(at, read);
    }
    return scan_inch(plain, read);
}
