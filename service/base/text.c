#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/digits.h"

void
text_init(struct text *text, char *buffer, size_t capacity)
{
    text->at = buffer;
    text->capacity = capacity;
    text->length = 0;
    text->cut = false;
    buffer[0] = '\0';
}

/* Bytes that a UTF-8 sequence takes by its first byte; 1 for a stray byte. */
static size_t
sequence_length(unsigned char lead)
{
    if (lead >= 0xF0) {
        return 4;
    }
    if (lead >= 0xE0) {
        return 3;
    }
    return lead >= 0xC0 ? 2 : 1;
}

/* `length` less the bytes of a character at the end that is not all there. */
static size_t
whole_characters(const char *bytes, size_t length)
{
    for (size_t back = 1; back <= 3 && back <= length; back++) {
        const unsigned char byte = (unsigned char)bytes[length - back];
        if ((byte & 0xC0) != 0x80) {
            return sequence_length(byte) > back ? length - back : length;
        }
    }
    return length;
}

void
text_add_bytes(struct text *text, const char *bytes, size_t length)
{
    if (text->cut || length == 0) {
        return;
    }
    const size_t room = text->capacity - 1 - text->length;
    size_t taken = length;
    if (length > room) {
        taken = whole_characters(bytes, room);
        text->cut = true;
    }
    memcpy(text->at + text->length, bytes, taken);
    text->length += taken;
    text->at[text->length] = '\0';
}

void
text_add(struct text *text, const char *string)
{
    text_add_bytes(text, string, strlen(string));
}

void
text_add_each(struct text *text, const char *const *strings)
{
    for (; *strings != NULL; strings++) {
        text_add(text, *strings);
    }
}

void
text_shorten(struct text *text, size_t length)
{
    text->length = length;
    text->cut = false;
    text->at[length] = '\0';
}

void
text_format_list(struct text *text, const char *format, va_list arguments)
{
    if (text->cut) {
        return;
    }
    char *const end = text->at + text->length;
    const size_t room = text->capacity - 1 - text->length;
    const int wanted = vsnprintf(end, room + 1, format, arguments);
    if (wanted < 0) {
        text->cut = true;
        *end = '\0';
        return;
    }
    size_t taken = (size_t)wanted;
    if (taken > room) {
        taken = whole_characters(end, room);
        text->cut = true;
    }
    text->length += taken;
    text->at[text->length] = '\0';
}

void
text_format(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    text_format_list(text, format, arguments);
    va_end(arguments);
}

void
text_add_count(struct text *text, unsigned long count)
{
    char number[24];
    char *const end = number + sizeof number;
    char *at = end;
    do {
        *--at = (char)('0' + count % 10);
        count /= 10;
    } while (count > 0);
    text_add_bytes(text, at, (size_t)(end - at));
}

void
text_add_fixed(struct text *text, double value, int decimals)
{
    char number[DIGITS_SIZE];
    const size_t length = decimals <= DIGITS ? digits_write_fixed(number, value, decimals) : 0;
    if (length > 0) {
        text_add_bytes(text, number, length);
    } else {
        text_format(text, "%.*f", decimals, value);
    }
}

/* Digits that it takes to read `value` back unchanged; 17 tell any two doubles
 * apart. */
static int
digits_of(double value)
{
    char number[40];
    int digits = 0;
    do {
        digits++;
        snprintf(number, sizeof number, "%.*e", digits - 1, value);
    } while (digits < 17 && strtod(number, NULL) != value);
    return digits;
}

void
text_add_exact(struct text *text, double value)
{
    enum { PLAIN_MIN = -5, PLAIN_MAX = 15 }; /* powers of ten written without an exponent */
    const double shown = value + 0.0;        /* no negative zero */
    const int digits = digits_of(shown);
    char number[40];
    snprintf(number, sizeof number, "%.*e", digits - 1, shown);
    const char *mark = strchr(number, 'e');
    const long power = mark != NULL ? strtol(mark + 1, NULL, 10) : PLAIN_MAX + 1;
    if (power >= PLAIN_MIN && power <= PLAIN_MAX) {
        const long decimals = digits - 1 - power;
        text_format(text, "%.*f", decimals > 0 ? (int)decimals : 0, shown);
    } else {
        text_add(text, number);
    }
}

bool
text_copy(char *buffer, size_t capacity, const char *string)
{
    struct text text;
    text_init(&text, buffer, capacity);
    text_add(&text, string);
    return !text.cut;
}

/* The Unicode Standard, table 3-7: neither overlong forms nor surrogates nor
 * anything above U+10FFFF. */
size_t
text_character(const char *bytes, size_t length, uint32_t *code)
{
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};

    if (length == 0) {
        return 0;
    }
    const unsigned char lead = (unsigned char)bytes[0];
    if (lead < 0x80) {
        *code = lead;
        return 1;
    }
    const size_t size = sequence_length(lead);
    if (size < 2 || size > length || lead > 0xF4) {
        return 0;
    }
    uint32_t value = lead & (0x7Fu >> size);
    for (size_t i = 1; i < size; i++) {
        const unsigned char byte = (unsigned char)bytes[i];
        if ((byte & 0xC0) != 0x80) {
            return 0;
        }
        value = (value << 6) | (byte & 0x3Fu);
    }
    if (value < least[size] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) {
        return 0;
    }
    *code = value;
    return size;
}

/* Not tolower(): the case of a letter must not depend on a locale. */
static char
lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool
text_is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x2028 || code == 0x2029 ||
           (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

bool
text_same_ignoring_case(const char *a, const char *b)
{
    while (*a != '\0' && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return *a == '\0' && *b == '\0';
}

enum { EDIT_MAX = 63 };

/* Split `string` into at most EDIT_MAX characters; a byte that is not UTF-8
 * counts as a character that equals no other but itself. */
static size_t
characters_of(const char *string, uint32_t characters[EDIT_MAX])
{
    size_t left = strlen(string);
    size_t count = 0;
    while (left > 0 && count < EDIT_MAX) {
        uint32_t code = 0;
        size_t size = text_character(string, left, &code);
        if (size == 0) {
            code = 0x110000u + (unsigned char)*string;
            size = 1;
        }
        characters[count++] = code;
        string += size;
        left -= size;
    }
    return count;
}

static unsigned
smaller(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

/* The optimal string alignment distance: no part is edited twice. */
unsigned
text_edit_distance(const char *a, const char *b)
{
    uint32_t first[EDIT_MAX];
    uint32_t second[EDIT_MAX];
    unsigned rows[3][EDIT_MAX + 1] = {{0}};
    unsigned *before = rows[0]; /* row i - 2 */
    unsigned *above = rows[1];  /* row i - 1 */
    unsigned *row = rows[2];

    const size_t height = characters_of(a, first);
    const size_t width = characters_of(b, second);
    for (size_t j = 0; j <= width; j++) {
        above[j] = (unsigned)j;
    }
    for (size_t i = 1; i <= height; i++) {
        row[0] = (unsigned)i;
        for (size_t j = 1; j <= width; j++) {
            const unsigned replace = above[j - 1] + (first[i - 1] != second[j - 1]);
            row[j] = smaller(replace, smaller(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && first[i - 1] == second[j - 2] && first[i - 2] == second[j - 1]) {
                row[j] = smaller(row[j], before[j - 2] + 1);
            }
        }
        unsigned *const spare = before;
        before = above;
        above = row;
        row = spare;
    }
    return above[width];
}
