#include "wire/size_text.h"

#include <string.h>

#include "base/text.h"
#include "joint/measure.h"

static const double inch_m = 0.0254;
static const double thou_m = 0.0254e-3;
static const double mm_m = 1e-3;

static void
write_fixed(char *buffer, size_t capacity, double value, int decimals, const char *unit)
{
    struct text text;
    text_init(&text, buffer, capacity);
    text_add_fixed(&text, value, decimals);
    text_add(&text, unit);
}

void
size_text_write(char *buffer, size_t capacity, double size_m, enum unit_system system)
{
    if (system == UNITS_METRIC) {
        write_fixed(buffer, capacity, size_m / mm_m, 3, " mm");
    } else {
        write_fixed(buffer, capacity, size_m / inch_m, 4, " in");
    }
}

double
size_text_step_m(enum unit_system system)
{
    return system == UNITS_METRIC ? mm_m / 1000.0 : inch_m / 10000.0;
}

void
size_text_difference(char *buffer, size_t capacity, double difference_m, enum unit_system system)
{
    if (system == UNITS_METRIC) {
        write_fixed(buffer, capacity, difference_m / mm_m, 3, " mm");
    } else {
        write_fixed(buffer, capacity, difference_m / thou_m, 2, " thou");
    }
}

void
size_text_range(char *buffer, size_t capacity, double low_m, double high_m, enum unit_system system)
{
    char low[SIZE_TEXT_MAX], high[SIZE_TEXT_MAX];
    struct text text;
    size_text_write(low, sizeof low, low_m, system);
    size_text_write(high, sizeof high, high_m, system);
    text_init(&text, buffer, capacity);
    text_add(&text, low);
    if (strcmp(low, high) != 0) {
        text_add(&text, " to ");
        text_add(&text, high);
    }
}

void
size_text_limits(char *buffer, size_t capacity, const struct limits *limits, enum unit_system system)
{
    const struct limits inward = measure_inward(limits, size_text_step_m(system));
    size_text_range(buffer, capacity, inward.min_m, inward.max_m, system);
}

/* Rounds to 1000 % still. */
#define SHARE_SHOWN_MAX 10.005

void
size_text_share(char *buffer, size_t capacity, double share)
{
    if (share < SHARE_SHOWN_MAX) {
        write_fixed(buffer, capacity, 100.0 * share, 0, " %");
    } else {
        text_copy(buffer, capacity, "over 1000 %");
    }
}
