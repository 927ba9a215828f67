#include "wire/size_text.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"

static const double inch_m = 0.0254;
static const double thou_m = 0.0254e-3;
static const double mm_m = 1e-3;

void
size_text_write(char *buffer, size_t capacity, double size_m, enum unit_system system)
{
    if (system == UNITS_METRIC) {
        snprintf(buffer, capacity, "%.3f mm", size_m / mm_m);
    } else {
        snprintf(buffer, capacity, "%.4f in", size_m / inch_m);
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
        snprintf(buffer, capacity, "%.3f mm", difference_m / mm_m);
    } else {
        snprintf(buffer, capacity, "%.2f thou", difference_m / thou_m);
    }
}

void
size_text_range(char *buffer, size_t capacity, double low_m, double high_m, enum unit_system system)
{
    char low[SIZE_TEXT_MAX], high[SIZE_TEXT_MAX];
    size_text_write(low, sizeof low, low_m, system);
    size_text_write(high, sizeof high, high_m, system);
    if (strcmp(low, high) == 0) {
        snprintf(buffer, capacity, "%s", low);
    } else {
        snprintf(buffer, capacity, "%s to %s", low, high);
    }
}

/* Rounds to 1000 % still. */
#define SHARE_SHOWN_MAX 10.005

void
size_text_share(char *buffer, size_t capacity, double share)
{
    if (share < SHARE_SHOWN_MAX) {
        snprintf(buffer, capacity, "%.0f %%", 100.0 * share);
    } else {
        text_copy(buffer, capacity, "over 1000 %");
    }
}
