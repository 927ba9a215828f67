#include "joint/size_search.h"

#include <math.h>

/* How far each input moves the check that governs. */

static void
keep_sensitivity(struct size *size, enum job_field at, double change)
{
    size_t place = size->sensitivity_count;

    if (change == 0.0) {
        return;
    }
    while (place > 0 && fabs(change) > fabs(size->sensitivity[place - 1].utilization_per_percent)) {
        if (place < SENSITIVITY_MAX) {
            size->sensitivity[place] = size->sensitivity[place - 1];
        }
        place--;
    }
    if (place < SENSITIVITY_MAX) {
        size->sensitivity[place] = (struct sensitivity){at, change};
        size->sensitivity_count += size->sensitivity_count < SENSITIVITY_MAX;
    }
}

/* One percent more of each number that was given, one at a time. */
void
search_sensitivities(const struct search *search, struct size *size)
{
    const size_t check = size->governing != NULL ? check_index(size->governing) : check_count();
    struct job base = *search->given, whole;
    double before;

    if (check == check_count()) {
        return;
    }
    target_set(&base, &search->target, size->found);
    whole = base;
    before = search_utilization(search, &whole, check);
    for (int field = 0; field < FIELD_COUNT; field++) {
        const struct job_field_row *row = job_field_row((enum job_field)field);
        struct job moved;
        const struct target target = {.field = (enum job_field)field, .dimension = row->dimension};
        double value, after;

        if (row->kind != KIND_NUMBER || !job_given(&base, (enum job_field)field) ||
            field == (int)search->target.field || row->dimension == DIMENSION_COUNT ||
            row->dimension == DIMENSION_TEMPERATURE) {
            continue;
        }
        moved = base;
        value = *(const double *)(const void *)((const char *)&base + row->offset);
        target_set(&moved, &target, 1.01 * value);
        after = search_utilization(search, &moved, check);
        if (before >= 0.0 && after >= 0.0) {
            keep_sensitivity(size, (enum job_field)field, after - before);
        }
    }
}
