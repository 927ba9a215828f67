#include "wire/quantity_spell.h"

#include "base/text.h"
#include "quantity/exact.h"

struct spelling
spelling_of_job(const struct job *job, enum dimension dimension)
{
    const bool differs = unit_of(dimension, UNITS_INCH) != unit_of(dimension, UNITS_METRIC);
    return (struct spelling){
        .dimension = dimension,
        .system = job->units,
        .without_unit = !job->units_given && job->bare_numbers,
        .with_unit = !job->units_given && !job->bare_numbers && differs,
    };
}

void
spell_quantity(struct writer *writer, const struct spelling *how, const char *key, double base_si, double si)
{
    char buffer[64];
    struct text text;
    struct exact exact;
    if (!exact_find(base_si, si, how->dimension, how->system, how->without_unit, &exact)) {
        writer->defect = true; /* a job has no such value */
        return;
    }
    if (!how->with_unit && exact.unit == unit_of(how->dimension, how->system)) {
        writer_exact(writer, key, exact.number);
        return;
    }
    text_init(&text, buffer, sizeof buffer);
    text_add_exact(&text, exact.number);
    text_format(&text, " %s", exact.unit->symbol);
    writer_text(writer, key, buffer);
}
