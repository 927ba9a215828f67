#include "wire/text_station.h"

#include "quantity/quantity.h"
#include "wire/size_text.h"
#include "wire/text_part.h"

/* Thousandths and tenths, or micrometers: means fall between steps of the dial. */
static void
add_difference(struct buffer *out, double difference_m, enum unit_system system)
{
    char cell[TEXT_PART_SIZE];

    if (system == UNITS_METRIC) {
        quantity_write(cell, sizeof cell, difference_m, DIMENSION_LENGTH, system);
    } else {
        size_text_difference(cell, sizeof cell, difference_m, system);
    }
    buffer_join(out, " ", cell, " |");
}

static void
add_station(struct buffer *out, const struct station *station, bool removal, enum unit_system system)
{
    char at[TEXT_PART_SIZE] = "not given", size[SIZE_TEXT_MAX];

    if (station->has_at) {
        quantity_write(at, sizeof at, station->at_m, DIMENSION_LENGTH, system);
    }
    size_text_write(size, sizeof size, station->size_mean_m, system);
    buffer_join(out, "| ", at, " | ", size, " |");
    if (station->reading_count > 1) {
        add_difference(out, station->out_of_round_m, system);
    } else {
        buffer_add(out, " one reading |");
    }
    if (removal && station->to_remove_m > 0.0) {
        add_difference(out, station->to_remove_m, system);
    } else if (removal) {
        buffer_add(out, " nothing |");
    }
    buffer_add(out, "\n");
}

void
text_station_table(struct buffer *out, const struct job *job, const struct report *report)
{
    const struct result_value *most = &report->result[RESULT_inspection_to_remove];
    const bool removal = most->known && most->si > 0.0;

    if (report->station_count == 0) {
        return;
    }
    buffer_add(out, "\n| From the end | Mean at 20 degC (68 degF) | Out of round |");
    if (removal) {
        const bool hole = job->inspection.part == CHOICE_part_HOLE;
        buffer_format(out, " Take %s the diameter |\n|---|---|---|---|\n", hole ? "out, on" : "off");
    } else {
        buffer_add(out, "\n|---|---|---|\n");
    }
    for (size_t i = 0; i < report->station_count; i++) {
        add_station(out, &report->station[i], removal, job->units);
    }
}
