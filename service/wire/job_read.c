#include "wire/job_read.h"

#include <string.h>

#include "base/text.h"
#include "wire/field_read.h"
#include "wire/member.h"
#include "wire/reader.h"

/* Object of a group, found by its path ("turning/machine_taper"); NULL where
 * it, or what should hold it, is absent or no object. */
static json_t *
group_object(json_t *root, const char *path)
{
    json_t *object = root;
    const char *at = path;
    while (object != NULL && *at != '\0') {
        char name[FAULT_SHORT_SIZE];
        struct text text;
        text_init(&text, name, sizeof name);
        const size_t length = strcspn(at, "/");
        text_add_bytes(&text, at, length);
        object = json_is_object(object) ? json_object_get(object, name) : NULL;
        at += length + (at[length] == '/');
    }
    return json_is_null(object) ? NULL : object;
}

/* Refuse what the group does not define; once the list of faults is full, more
 * of them tell the client nothing and cost time. */
static void
refuse_unknown(struct reader *reader, const struct job_group_row *group, const char *pointer, json_t *object)
{
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value)
    {
        if (reader->faults->dropped == 0 && !member_is_known(group, key)) {
            member_refuse(reader, group, pointer, key);
        }
    }
}

/*
 * Read the members of a group; *field is its first row and is left behind its
 * last. Looking each row up in the object is quick; only an object that holds
 * more than was found is gone through member by member.
 */
static void
read_group(struct reader *reader, json_t *root, enum job_group group, int *field)
{
    const struct job_group_row *row = job_group_row(group);
    json_t *object = group_object(root, row->path);
    if (object != NULL && !json_is_object(object)) {
        reader_wrong_type(reader, row->pointer, object, "an object");
        object = NULL;
    }
    size_t found = 0;
    for (; *field < FIELD_COUNT && job_field_row((enum job_field) * field)->group == group; (*field)++) {
        json_t *value = object != NULL ? json_object_get(object, job_field_row((enum job_field) * field)->name) : NULL;
        found += value != NULL;
        if (value != NULL && !json_is_null(value)) {
            field_read(reader, (enum job_field) * field, value);
        }
    }
    if (object != NULL && found < json_object_size(object)) {
        refuse_unknown(reader, row, row->pointer, object);
    }
}

/* "units" decides how every number is read, so it is read first, wherever it
 * stands. Where it is refused, the likely system keeps the other faults true. */
static void
read_units(struct reader *reader, const json_t *root)
{
    const json_t *value = reader_member(root, "units");
    const char *word = json_string_value(value);
    if (value == NULL) {
        return;
    }
    if (word != NULL && text_same_ignoring_case(word, "inch")) {
        reader->job->units_given = true;
        return;
    }
    if (word != NULL && text_same_ignoring_case(word, "metric")) {
        reader->job->units = UNITS_METRIC;
        reader->job->units_given = true;
        return;
    }
    const bool metric = word != NULL && (word[0] == 'm' || word[0] == 'M' || text_same_ignoring_case(word, "si"));
    reader->job->units = metric ? UNITS_METRIC : UNITS_INCH;
    struct fault *fault = reader_fault(reader, word != NULL ? FAULT_OUT_OF_RANGE : FAULT_WRONG_TYPE, "/units", value,
                                       "Must be \"inch\" or \"metric\".");
    if (fault != NULL) {
        text_copy(fault->expected, sizeof fault->expected, "\"inch\", \"metric\"");
        text_copy(fault->nearest, sizeof fault->nearest, metric ? "metric" : "inch");
    }
}

static void
read_label(struct reader *reader, const json_t *root)
{
    const json_t *value = reader_member(root, "label");
    if (value != NULL) {
        reader_text(reader, "/label", value, JOB_LABEL_CHARACTERS, reader->job->label, sizeof reader->job->label);
    }
}

bool
job_read(json_t *root, struct job *job, struct fault_list *faults)
{
    struct reader reader = {job, faults};
    job_init(job);
    fault_list_init(faults);
    if (!json_is_object(root)) {
        reader_wrong_type(&reader, "", root, "an object: the job");
        return false;
    }
    read_units(&reader, root);
    read_label(&reader, root);
    int field = 0;
    for (int group = 0; group < GROUP_COUNT; group++) {
        read_group(&reader, root, (enum job_group)group, &field);
    }
    refuse_unknown(&reader, NULL, "", root);
    return faults->count == 0;
}
