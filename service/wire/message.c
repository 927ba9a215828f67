#include "wire/message.h"

#include <math.h>
#include <string.h>

#include "quantity/quantity.h"
#include "wire/size_text.h"

enum { VALUES = sizeof((struct message *)0)->value / sizeof((struct message *)0)->value[0] };
enum { QUANTITY_SIZE = 64 };

/* "{0%}": a share of a limit in whole percent. */
static bool
add_percent(struct text *text, const struct message *message, char c)
{
    if (c < '0' || c >= '0' + VALUES) {
        return false;
    }
    char share[SIZE_TEXT_MAX];
    size_text_share(share, sizeof share, message->value[c - '0'].si);
    text_add(text, share);
    return true;
}

/* "{0.}": a size as a micrometer shows it. */
static bool
add_size(struct text *text, const struct message *message, char c, enum unit_system system)
{
    char size[SIZE_TEXT_MAX];

    if (c < '0' || c >= '0' + VALUES) {
        return false;
    }
    size_text_write(size, sizeof size, message->value[c - '0'].si, system);
    text_add(text, size);
    return true;
}

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

/* "{0^}", "{0_}": a quantity rounded up, or down, to the step of the shop. */
static bool
add_rounded(struct text *text, const struct message *message, const char *at, enum unit_system system)
{
    if (at[0] < '0' || at[0] >= '0' + VALUES) {
        return false;
    }
    const enum dimension dimension = message->value[at[0] - '0'].dimension;
    const struct unit *unit = unit_of(dimension, system);
    double x = unit_from_si(unit, message->value[at[0] - '0'].si);
    char quantity[QUANTITY_SIZE];

    if (x > 0.0) {
        /* A millionth of a step is no reason to take the next. */
        const double step = shop_step(x, dimension, system), steps = x / step;
        x = step * (at[1] == '^' ? ceil(steps - 1.0e-6) : floor(steps + 1.0e-6));
    }
    quantity_write(quantity, sizeof quantity, unit_to_si(unit, x), dimension, system);
    text_add(text, quantity);
    return true;
}

/* "{01.}": two sizes; "{01:}": two limits of size. */
static bool
add_sizes(struct text *text, const struct message *message, const char *at, enum unit_system system)
{
    if (at[0] < '0' || at[0] >= '0' + VALUES || at[1] < '0' || at[1] >= '0' + VALUES) {
        return false;
    }
    const struct limits sizes = {.min_m = message->value[at[0] - '0'].si, .max_m = message->value[at[1] - '0'].si};
    char range[SIZE_TEXT_RANGE_MAX];
    if (at[2] == ':') {
        size_text_limits(range, sizeof range, &sizes, system);
    } else {
        size_text_range(range, sizeof range, sizes.min_m, sizes.max_m, system);
    }
    text_add(text, range);
    return true;
}

/* What stands for the placeholder "{c}": false if it is none of ours. */
static bool
add_placeholder(struct text *text, const struct message *message, char c, enum unit_system system)
{
    if (c >= '0' && c < '0' + VALUES) {
        char quantity[QUANTITY_SIZE];
        quantity_write(quantity, sizeof quantity, message->value[c - '0'].si, message->value[c - '0'].dimension,
                       system);
        text_add(text, quantity);
        return true;
    }
    if (c == 'a' || c == 'b') {
        const char *word = message->word[c - 'a'];
        text_add(text, word != NULL ? word : "");
        return true;
    }
    return false;
}

void
message_write(struct text *text, const struct message *message, enum unit_system system)
{
    const char *at = message->text != NULL ? message->text : "";
    while (*at != '\0') {
        const size_t plain = strcspn(at, "{");
        text_add_bytes(text, at, plain);
        at += plain;
        if (*at == '\0') {
            return;
        }
        if (strlen(at) > 3 && (at[2] == '^' || at[2] == '_') && at[3] == '}' &&
            add_rounded(text, message, at + 1, system)) {
            at += 4;
        } else if (strlen(at) > 3 && at[2] == '%' && at[3] == '}' && add_percent(text, message, at[1])) {
            at += 4;
        } else if (strlen(at) > 3 && at[2] == '.' && at[3] == '}' && add_size(text, message, at[1], system)) {
            at += 4;
        } else if (strlen(at) > 4 && (at[3] == '.' || at[3] == ':') && at[4] == '}' &&
                   add_sizes(text, message, at + 1, system)) {
            at += 5;
        } else if (at[1] != '\0' && at[2] == '}' && add_placeholder(text, message, at[1], system)) {
            at += 3;
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
