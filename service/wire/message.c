#include "wire/message.h"

#include <math.h>
#include <string.h>

#include "quantity/quantity.h"
#include "wire/size_text.h"

/* What a message has room for. */
enum {
    VALUES = sizeof((struct message *)0)->value / sizeof((struct message *)0)->value[0],
    WORDS = sizeof((struct message *)0)->word / sizeof((struct message *)0)->word[0]
};

/*
 * The step that a shop works to: an advised length to a hundredth of an inch or
 * a tenth of a millimeter, small ones finer, down to what a micrometer shows; a
 * torque to the mark on the wrench; any other quantity to two digits.
 */
static double
shop_step(double x, enum dimension dimension, enum unit_system system)
{
    if (dimension == DIMENSION_LENGTH) {
        const double finest = system == UNITS_METRIC ? 0.001 : 0.0001;
        return x >= 1000.0 * finest ? 100.0 * finest : x >= 100.0 * finest ? 10.0 * finest : finest;
    }
    if (dimension == DIMENSION_TORQUE && x >= 10.0) {
        return 1.0;
    }
    return pow(10.0, floor(log10(x)) - 1.0);
}

/* A quantity rounded up, or down, to the step of the shop. */
static double
rounded_si(double si, enum dimension dimension, enum unit_system system, bool up)
{
    const struct unit *unit = unit_of(dimension, system);
    const double x = unit_from_si(unit, si);

    if (!(x > 0.0)) {
        return si;
    }
    /* A millionth of a step is no reason to take the next. */
    const double step = shop_step(x, dimension, system), steps = x / step;
    return unit_to_si(unit, step * (up ? ceil(steps - 1.0e-6) : floor(steps + 1.0e-6)));
}

/* What stands between the braces: a word, or one or two values and a mark. */
struct placeholder {
    int word;     /* -1 = none */
    int value[2]; /* -1 = none */
    char mark;    /* how the values are written; NUL = as a quantity */
};

/* The number of the value or word that `c` names, counted from `first`; -1 = none. */
static int
index_of(char c, char first, int count)
{
    return c >= first && c < first + count ? c - first : -1;
}

/* Read what stands behind an opening brace: its length with the closing one, 0
 * where it is no placeholder of ours. */
static size_t
placeholder_read(const char *at, struct placeholder *placeholder)
{
    const char *const begin = at;

    *placeholder = (struct placeholder){.word = index_of(*at, 'a', WORDS), .value = {index_of(*at, '0', VALUES), -1}};
    if (placeholder->word < 0 && placeholder->value[0] < 0) {
        return 0;
    }
    at++;
    if (placeholder->value[0] >= 0) {
        placeholder->value[1] = index_of(*at, '0', VALUES);
        at += placeholder->value[1] >= 0;
        if (*at != '\0' && strchr(placeholder->value[1] < 0 ? "%^_." : ".:", *at) != NULL) {
            placeholder->mark = *at++;
        } else if (placeholder->value[1] >= 0) {
            return 0;
        }
    }
    return *at == '}' ? (size_t)(at - begin) + 1 : 0;
}

/* Two sizes, or two limits to work to. */
static void
add_sizes(struct text *text, const struct limits *sizes, char mark, enum unit_system system)
{
    char range[SIZE_TEXT_RANGE_MAX];

    if (mark == ':') {
        size_text_limits(range, sizeof range, sizes, system);
    } else {
        size_text_range(range, sizeof range, sizes->min_m, sizes->max_m, system);
    }
    text_add(text, range);
}

static void
add_value(struct text *text, double si, enum dimension dimension, char mark, enum unit_system system)
{
    char value[QUANTITY_TEXT_SIZE];

    switch (mark) {
    case '%':
        size_text_share(value, sizeof value, si);
        break;
    case '.':
        size_text_write(value, sizeof value, si, system);
        break;
    case '^':
    case '_':
        quantity_write(value, sizeof value, rounded_si(si, dimension, system, mark == '^'), dimension, system);
        break;
    default:
        quantity_write(value, sizeof value, si, dimension, system);
        break;
    }
    text_add(text, value);
}

static void
add_placeholder(struct text *text, const struct message *message, const struct placeholder *placeholder,
                enum unit_system system)
{
    if (placeholder->word >= 0) {
        const char *word = message->word[placeholder->word];
        text_add(text, word != NULL ? word : "");
    } else if (placeholder->value[1] >= 0) {
        const struct limits sizes = {.min_m = message->value[placeholder->value[0]].si,
                                     .max_m = message->value[placeholder->value[1]].si};
        add_sizes(text, &sizes, placeholder->mark, system);
    } else {
        const int value = placeholder->value[0];
        add_value(text, message->value[value].si, message->value[value].dimension, placeholder->mark, system);
    }
}

void
message_write(struct text *text, const struct message *message, enum unit_system system)
{
    const char *at = message->text != NULL ? message->text : "";
    while (*at != '\0') {
        const size_t plain = strcspn(at, "{");
        struct placeholder placeholder;
        text_add_bytes(text, at, plain);
        at += plain;
        if (*at == '\0') {
            return;
        }
        const size_t length = placeholder_read(at + 1, &placeholder);
        if (length > 0) {
            add_placeholder(text, message, &placeholder, system);
            at += 1 + length;
        } else {
            text_add_bytes(text, at, 1);
            at++;
        }
    }
}

void
message_render(struct message_text *rendered, const struct message *message, enum unit_system system)
{
    struct text text;
    text_init(&text, rendered->at, sizeof rendered->at);
    message_write(&text, message, system);
}

void
message_render_finding(struct message_text *rendered, const struct finding *finding, enum unit_system system)
{
    struct text text;

    text_init(&text, rendered->at, sizeof rendered->at);
    message_write(&text, &finding->advice, system);
    if (finding->assumed_geometry) {
        text_add(&text, " It rests on dimensions that were assumed: measure them first.");
    }
}
