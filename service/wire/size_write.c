#include "wire/size_write.h"

static void
write_found(struct writer *writer, const struct job *job, const struct size *size)
{
    const enum dimension dimension = job_field_row(size->field)->dimension;

    if (size->of_steel) {
        writer_text_if(writer, "found", size->found_id);
        writer_list(writer, "passing");
        for (size_t i = 0; i < size->passing_count; i++) {
            writer_text(writer, NULL, size->passing[i]);
        }
        writer_list_end(writer);
        return;
    }
    if (size->found_known) {
        writer_quantity(writer, "found", size->found, dimension, job->units);
    }
    if (size->range_known) {
        writer_quantity(writer, "found_low", size->found_low, dimension, job->units);
        writer_quantity(writer, "found_high", size->found_high, dimension, job->units);
    }
    if (size->practical_known) {
        writer_quantity(writer, "next_practical", size->practical, dimension, job->units);
    }
}

void
size_write(struct writer *writer, const struct job *job, const struct size *size)
{
    writer_object(writer, "size");
    writer_text(writer, "what", size->what);
    writer_text(writer, "outcome", size_outcome_text(size->outcome));
    write_found(writer, job, size);
    if (size->governing != NULL) {
        writer_text(writer, "governing", size->governing);
        writer_number(writer, "governing_utilization", size->governing_utilization);
    }
    writer_text_if(writer, "contradiction", size->contradiction);
    writer_list(writer, "sensitivities");
    for (size_t i = 0; i < size->sensitivity_count; i++) {
        writer_object(writer, NULL);
        writer_text(writer, "at", job_field_pointer(size->sensitivity[i].at));
        writer_number(writer, "utilization_per_percent", size->sensitivity[i].utilization_per_percent);
        writer_object_end(writer);
    }
    writer_list_end(writer);
    writer_object_end(writer);
}
