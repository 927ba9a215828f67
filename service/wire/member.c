#include "wire/member.h"

#include <string.h>

#include "base/text.h"
#include "wire/nearest.h"

/* Members of the document itself that are no groups. */
static const char *const top_member[] = {"units", "label"};
enum { TOP_MEMBERS = sizeof top_member / sizeof top_member[0] };

const char *
member_within(const struct job_group_row *group, const struct job_group_row *parent)
{
    const char *rest = group->path;
    if (parent != NULL) {
        const size_t length = strlen(parent->path);
        if (strncmp(rest, parent->path, length) != 0 || rest[length] != '/') {
            return NULL;
        }
        rest += length + 1;
    }
    return strchr(rest, '/') == NULL ? rest : NULL;
}

/* Is the field a member of this group? */
static bool
belongs(const struct job_field_row *field, const struct job_group_row *group)
{
    return group != NULL && job_group_row(field->group) == group;
}

bool
member_is_known(const struct job_group_row *group, const char *name)
{
    for (int i = 0; group == NULL && i < TOP_MEMBERS; i++) {
        if (strcmp(top_member[i], name) == 0) {
            return true;
        }
    }
    for (int i = 0; i < GROUP_COUNT; i++) {
        const char *within = member_within(job_group_row((enum job_group)i), group);
        if (within != NULL && strcmp(within, name) == 0) {
            return true;
        }
    }
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *field = job_field_row((enum job_field)i);
        if (belongs(field, group) && strcmp(field->name, name) == 0) {
            return true;
        }
    }
    return false;
}

/* The nearest name that is defined in this place. */
static const char *
nearest_here(const struct job_group_row *group, const char *name)
{
    struct nearest nearest;
    nearest_init(&nearest, name);
    for (int i = 0; group == NULL && i < TOP_MEMBERS; i++) {
        nearest_offer(&nearest, top_member[i]);
    }
    for (int i = 0; i < GROUP_COUNT; i++) {
        const char *within = member_within(job_group_row((enum job_group)i), group);
        if (within != NULL) {
            nearest_offer(&nearest, within);
        }
    }
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *field = job_field_row((enum job_field)i);
        if (belongs(field, group)) {
            nearest_offer(&nearest, field->name);
        }
    }
    return nearest.best;
}

/* Path of the field or group of this name, or of a near one, elsewhere. */
static const char *
nearest_elsewhere(const char *name)
{
    struct nearest nearest;
    nearest_init(&nearest, name);
    const char *path = NULL;
    for (int i = 0; i < GROUP_COUNT; i++) {
        const unsigned before = nearest.distance;
        nearest_offer(&nearest, job_group_row((enum job_group)i)->name);
        path = nearest.distance < before ? job_group_row((enum job_group)i)->path : path;
    }
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *field = job_field_row((enum job_field)i);
        const unsigned before = nearest.distance;
        nearest_offer(&nearest, field->name);
        path = nearest.distance < before ? field->path : path;
    }
    return path;
}

void
member_refuse(struct reader *reader, const struct job_group_row *group, const char *pointer, const char *name)
{
    struct place place;
    place_member(&place, pointer, name);
    struct fault *fault = fault_add(reader->faults, FAULT_UNKNOWN_MEMBER, place.pointer, "%s",
                                    group != NULL ? "No such member is defined in this object."
                                                  : "No such member is defined at the top of a job.");
    if (fault == NULL) {
        return;
    }
    const char *here = nearest_here(group, name);
    const char *nearest = here != NULL ? here : nearest_elsewhere(name);
    if (nearest == NULL) {
        return;
    }
    text_copy(fault->nearest, sizeof fault->nearest, nearest);
    struct text detail;
    text_init(&detail, fault->detail, sizeof fault->detail);
    text_format(&detail,
                here != NULL ? "No such member is defined here; %s is."
                             : "No such member is defined here; %s is, in its own place.",
                nearest);
}
