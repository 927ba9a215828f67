#include "wire/svg_measure.h"

#include <stdint.h>
#include <string.h>

#include "base/text.h"

static const char ellipsis[] = "\xE2\x80\xA6";

/* Bold letters are this much wider, and a little more is allowed for fonts that
 * are wider still. */
static const double bold_share = 1.15, reserve_share = 1.02;

/* Advance widths of printable ASCII in thousandths of the size: DejaVu Sans 2.37,
 * from the metrics of its font file. */
static const unsigned short ascii_width[] = {
    318,  401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, /* space to slash */
    636,  636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, /* 0 to ? */
    1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787, /* @ to O */
    603,  787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, /* P to _ */
    500,  613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, /* ` to o */
    635,  635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,      /* p to ~ */
};

/* Of any character, in thousandths: ideographs are square, pictures wider. */
static unsigned
character_width(uint32_t code)
{
    if (code >= 0x20 && code < 0x7F) {
        return ascii_width[code - 0x20];
    }
    if (code >= 0x1F000) {
        return 1400;
    }
    return code >= 0x2000 ? 1050 : 800;
}

static double
width_of(const struct svg_letter *letter, uint32_t code)
{
    return letter->size * character_width(code) / 1000.0 * reserve_share * (letter->bold ? bold_share : 1.0);
}

/* The character at `text`, its width in pixels; bytes that are no UTF-8 count
 * one by one. */
static size_t
next_character(const struct svg_letter *letter, const char *text, double *width)
{
    if ((unsigned char)*text < 0x80) {
        *width = width_of(letter, (unsigned char)*text);
        return 1;
    }
    uint32_t code = 0;
    const size_t taken = text_character(text, strnlen(text, 4), &code);

    *width = width_of(letter, taken == 0 ? 0xFFFD : code);
    return taken == 0 ? 1 : taken;
}

double
svg_text_width(const struct svg_letter *letter, const char *text)
{
    double sum = 0.0, width;

    for (const char *at = text; *at != '\0';) {
        at += next_character(letter, at, &width);
        sum += width;
    }
    return sum;
}

/* Bytes of `text`, whole characters, that fit into `width`. */
static size_t
bytes_within(const struct svg_letter *letter, const char *text, double width)
{
    double sum = 0.0, more;
    const char *at = text;

    while (*at != '\0') {
        const size_t taken = next_character(letter, at, &more);

        sum += more;
        if (sum > width) {
            break;
        }
        at += taken;
    }
    return (size_t)(at - text);
}

bool
svg_text_cut(char *line, size_t capacity, const struct svg_letter *letter, const char *text, double width)
{
    if (strlen(text) < capacity && svg_text_width(letter, text) <= width) {
        text_copy(line, capacity, text);
        return true;
    }
    const size_t room = capacity > sizeof ellipsis ? capacity - sizeof ellipsis : 0;
    size_t bytes = bytes_within(letter, text, width - svg_text_width(letter, ellipsis));
    struct text copy;

    bytes = bytes < room ? bytes : room;
    while (bytes > 0 && ((unsigned char)text[bytes] & 0xC0) == 0x80) {
        bytes--; /* not within a character */
    }
    while (bytes > 0 && text[bytes - 1] == ' ') {
        bytes--;
    }
    text_init(&copy, line, capacity);
    text_add_bytes(&copy, text, bytes);
    text_add(&copy, ellipsis);
    return false;
}

/* Where the line may end at the latest: at the last space that fits, else
 * within the word. */
static size_t
line_end(const char *text, size_t fits)
{
    if (text[fits] == '\0' || text[fits] == ' ') {
        return fits;
    }
    for (size_t end = fits; end > 0; end--) {
        if (text[end - 1] == ' ') {
            return end - 1;
        }
    }
    return fits;
}

bool
svg_text_wrap(const char **at, char *line, size_t capacity, const struct svg_letter *letter, double width)
{
    struct text copy;

    *at += strspn(*at, " ");
    if (**at == '\0') {
        return false;
    }
    size_t end = line_end(*at, bytes_within(letter, *at, width));

    if (end == 0) {
        double one;

        end = next_character(letter, *at, &one); /* no room for a single character: one all the same */
    }
    text_init(&copy, line, capacity);
    text_add_bytes(&copy, *at, end);
    *at += end;
    return true;
}
