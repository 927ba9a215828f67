#include "quantity/plain.h"

#include <stdint.h>

#include "base/text.h"

struct dress {
    uint32_t first, last; /* Unicode characters */
    const char *plain;
};

static const struct dress dresses[] = {
    {0x0009, 0x0009, " "},    /* tab */
    {0x00A0, 0x00A0, " "},    /* no-break space */
    {0x00B0, 0x00B0, "deg"},  /* degree sign */
    {0x00B2, 0x00B2, "^2"},   /* superscript two */
    {0x00B3, 0x00B3, "^3"},   /* superscript three */
    {0x00B4, 0x00B4, "'"},    /* acute accent */
    {0x00B5, 0x00B5, "u"},    /* micro sign */
    {0x00B7, 0x00B7, "*"},    /* middle dot */
    {0x00BA, 0x00BA, "deg"},  /* masculine ordinal, where the keyboard has no degree sign */
    {0x00D7, 0x00D7, "*"},    /* multiplication sign */
    {0x02BC, 0x02BC, "'"},    /* modifier letter apostrophe */
    {0x02EE, 0x02EE, "\""},   /* modifier letter double apostrophe */
    {0x03BC, 0x03BC, "u"},    /* Greek mu */
    {0x2000, 0x200B, " "},    /* en quad to zero width space, the thin ones among them */
    {0x2010, 0x2013, "-"},    /* hyphens, figure dash, en dash */
    {0x2018, 0x201B, "'"},    /* single quotation marks */
    {0x201C, 0x201F, "\""},   /* double quotation marks */
    {0x2022, 0x2022, "*"},    /* bullet */
    {0x202F, 0x202F, " "},    /* narrow no-break space */
    {0x2032, 0x2032, "'"},    /* prime */
    {0x2033, 0x2033, "\""},   /* double prime */
    {0x2044, 0x2044, "/"},    /* fraction slash */
    {0x205F, 0x2060, " "},    /* mathematical space, word joiner */
    {0x2103, 0x2103, "degC"}, /* degree Celsius */
    {0x2109, 0x2109, "degF"}, /* degree Fahrenheit */
    {0x2212, 0x2212, "-"},    /* minus sign */
    {0x2215, 0x2215, "/"},    /* division slash */
    {0x2219, 0x2219, "*"},    /* bullet operator */
    {0x22C5, 0x22C5, "*"},    /* dot operator */
    {0x3000, 0x3000, " "},    /* ideographic space */
    {0xFEFF, 0xFEFF, " "},    /* byte order mark */
};

/* The Unicode Standard, blocks Latin-1 Supplement and Number Forms. */
static const struct dress fractions[] = {
    {0x00BC, 0x00BC, "1/4"}, {0x00BD, 0x00BD, "1/2"},  {0x00BE, 0x00BE, "3/4"}, {0x2150, 0x2150, "1/7"},
    {0x2151, 0x2151, "1/9"}, {0x2152, 0x2152, "1/10"}, {0x2153, 0x2153, "1/3"}, {0x2154, 0x2154, "2/3"},
    {0x2155, 0x2155, "1/5"}, {0x2156, 0x2156, "2/5"},  {0x2157, 0x2157, "3/5"}, {0x2158, 0x2158, "4/5"},
    {0x2159, 0x2159, "1/6"}, {0x215A, 0x215A, "5/6"},  {0x215B, 0x215B, "1/8"}, {0x215C, 0x215C, "3/8"},
    {0x215D, 0x215D, "5/8"}, {0x215E, 0x215E, "7/8"},
};

/* What stands for `code` in a table of `count` rows, or NULL. */
static const char *
plain_of(uint32_t code, const struct dress *table, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (code >= table[i].first && code <= table[i].last) {
            return table[i].plain;
        }
    }
    return NULL;
}

static bool
is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* How many bytes from here on are printable ASCII, which stays as it is. */
static size_t
ascii_run(const char *bytes, size_t length)
{
    size_t run = 0;
    while (run < length && bytes[run] >= ' ' && bytes[run] <= '~') {
        run++;
    }
    return run;
}

bool
plain_add(struct text *plain, const char *bytes, size_t length)
{
    bool after_fraction = false;

    while (length > 0) {
        const size_t run = after_fraction ? 0 : ascii_run(bytes, length);
        if (run > 0) {
            text_add_bytes(plain, bytes, run);
            bytes += run;
            length -= run;
            continue;
        }
        uint32_t code = 0;
        const size_t size = text_character(bytes, length, &code);
        const char *dressed = plain_of(code, dresses, sizeof dresses / sizeof dresses[0]);
        if (size == 0 || (dressed == NULL && (code < 0x20 || (code >= 0x7F && code < 0xA0)))) {
            return false;
        }
        const char *const fraction = plain_of(code, fractions, sizeof fractions / sizeof fractions[0]);
        const bool after_digit = plain->length > 0 && is_digit(plain->at[plain->length - 1]);
        /* 5 and a quarter must not become 51/4, nor a quarter and 2 become 1/42. */
        if (after_digit && (fraction != NULL || (after_fraction && is_digit(*bytes)))) {
            text_add(plain, " ");
        }
        if (fraction != NULL) {
            text_add(plain, fraction);
        } else if (dressed != NULL) {
            text_add(plain, dressed);
        } else {
            text_add_bytes(plain, bytes, size);
        }
        after_fraction = fraction != NULL;
        bytes += size;
        length -= size;
    }
    return !plain->cut;
}
