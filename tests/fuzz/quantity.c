/*
 * A text as a quantity in both unit systems, and what was read written again and
 * read back. The first byte chooses the dimension.
 */

#include "fuzz/harness.h"

#include <math.h>
#include <string.h>

#include "quantity/quantity.h"

enum { CHOICES = 1 };

/* Half the last figure that is written, in the unit of the system, and a hair. */
static double
written_to(double value, enum dimension dimension, enum unit_system system)
{
    const bool metric = system == UNITS_METRIC;
    const double magnitude = fabs(value);
    if (dimension != DIMENSION_LENGTH) {
        return 5.001e-4 * magnitude + (dimension == DIMENSION_TEMPERATURE ? 0.0501 : 0.501e-9);
    }
    if (magnitude < (metric ? 0.1 : 0.020)) {
        return 5.001e-3 * magnitude + (metric ? 0.501e-6 : 0.501e-7); /* three figures, or nothing at all */
    }
    return magnitude < 1e6 ? (metric ? 0.501e-3 : 0.501e-4) : 5.001e-4 * magnitude;
}

static void
hold_written(double si, enum dimension dimension, enum unit_system system)
{
    struct quantity_reading again;
    char text[QUANTITY_TEXT_SIZE], range[2 * QUANTITY_TEXT_SIZE];
    const struct unit *unit = unit_of(dimension, system);
    const double value = unit_from_si(unit, si);
    quantity_write(text, sizeof text, si, dimension, system);
    HOLDS(strlen(text) > 0 && strlen(text) < sizeof text - 1, "%s", text);
    quantity_write_range(range, sizeof range, si, si * 1.01, dimension, system);
    HOLDS(strstr(range, " to ") != NULL && strlen(range) < sizeof range - 1, "%s", range);
    if (!isfinite(value)) {
        HOLDS(strcmp(text, "not known") == 0, "%s", text);
        return;
    }
    if (fabs(value) > 1e300) {
        return; /* rounding up may leave what a double holds */
    }
    HOLDS(quantity_read(text, strlen(text), dimension, system, &again), "%s cannot be read back: %s", text, again.detail);
    HOLDS(fabs(unit_from_si(unit, again.si) - value) <= written_to(value, dimension, system), "%.17g %s is written %s", value,
          unit->symbol, text);
}

static void
hold_reading(const char *text, size_t size, enum dimension dimension, enum unit_system system)
{
    struct quantity_reading reading;
    if (quantity_read(text, size, dimension, system, &reading)) {
        HOLDS(isfinite(reading.si), "not finite");
        hold_written(reading.si, dimension, system);
    } else {
        HOLDS(reading.code == FAULT_BAD_NUMBER || reading.code == FAULT_WRONG_UNIT, "code %d", (int)reading.code);
        HOLDS(reading.detail[0] != '\0', "a refusal without a reason");
    }
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < CHOICES) {
        return 0;
    }
    char *text = copy_text(data + CHOICES, size - CHOICES);
    const enum dimension dimension = (enum dimension)(data[0] % DIMENSION_UNIT_COUNT);
    hold_reading(text, size - CHOICES, dimension, UNITS_INCH);
    hold_reading(text, size - CHOICES, dimension, UNITS_METRIC);
    free(text);
    return 0;
}
