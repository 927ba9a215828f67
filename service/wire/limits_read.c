#include "wire/limits_read.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "wire/nearest.h"

/* A deviation from the nominal size beyond 10 mm is a slip of the unit. */
#define DEVIATION_MAX_M 0.010

enum member { MIN, MAX, NOMINAL, UPPER, LOWER, CLASS, MEMBER_COUNT };
static const char *const member_name[MEMBER_COUNT] = {"min", "max", "nominal", "upper", "lower", "class"};

#define BIT(member) (1u << (member))
#define FORM_MIN_MAX (BIT(MIN) | BIT(MAX))
#define FORM_DEVIATIONS (BIT(NOMINAL) | BIT(UPPER) | BIT(LOWER))
#define FORM_CLASS (BIT(NOMINAL) | BIT(CLASS))

/* The form that a set of members is most likely meant to be. */
static unsigned
form_meant(unsigned present)
{
    if (present & BIT(CLASS)) {
        return FORM_CLASS;
    }
    return present & FORM_DEVIATIONS ? FORM_DEVIATIONS : FORM_MIN_MAX;
}

/* Which form is it? 0 and faults where members are missing or mixed. */
static unsigned
form_of(struct reader *reader, const char *pointer, const json_t *object)
{
    unsigned present = 0;
    for (int i = 0; i < MEMBER_COUNT; i++) {
        present |= reader_member(object, member_name[i]) != NULL ? BIT(i) : 0u;
    }
    const unsigned form = form_meant(present);
    if (present & ~form) {
        reader_fault(reader, FAULT_CONTRADICTION, pointer, NULL,
                     "Give min and max, or nominal with upper and lower, or nominal with class: not a mixture.");
        return 0;
    }
    for (int i = 0; i < MEMBER_COUNT; i++) {
        if (form & ~present & BIT(i)) {
            reader_missing(reader, pointer, member_name[i],
                           "Limits are min and max, or nominal with upper and lower, or nominal with class.");
        }
    }
    return form == present ? form : 0;
}

static bool
read_length(struct reader *reader, const char *pointer, const json_t *object, enum member member, double minimum,
            double maximum, double *length_m)
{
    const struct quantity_kind kind = {DIMENSION_LENGTH, minimum, maximum};
    struct place place;
    place_member(&place, pointer, member_name[member]);
    return reader_quantity(reader, place.pointer, reader_member(object, member_name[member]), &kind, length_m);
}

/* The lower of a pair must not be the larger: both are named. */
static bool
in_order(struct reader *reader, const char *pointer, enum member low, double low_m, enum member high, double high_m)
{
    if (low_m <= high_m) {
        return true;
    }
    const struct unit *unit = unit_of(DIMENSION_LENGTH, reader->job->units);
    fault_add(reader->faults, FAULT_CONTRADICTION, pointer, "%s (%.7g %s) is greater than %s (%.7g %s).",
              member_name[low], unit_from_si(unit, low_m), unit->symbol, member_name[high], unit_from_si(unit, high_m),
              unit->symbol);
    return false;
}

static bool
read_min_max(struct reader *reader, const char *pointer, const json_t *object, const struct limits_kind *kind,
             struct limits *limits)
{
    struct limits read = {0};
    const bool has_min = read_length(reader, pointer, object, MIN, kind->minimum, kind->maximum, &read.min_m);
    const bool has_max = read_length(reader, pointer, object, MAX, kind->minimum, kind->maximum, &read.max_m);
    if (!has_min || !has_max || !in_order(reader, pointer, MIN, read.min_m, MAX, read.max_m)) {
        return false;
    }
    *limits = read;
    return true;
}

static bool
read_deviations(struct reader *reader, const char *pointer, const json_t *object, const struct limits_kind *kind,
                struct limits *limits)
{
    struct limits read = {0};
    double upper_m = 0.0, lower_m = 0.0;
    const bool has_nominal =
        read_length(reader, pointer, object, NOMINAL, kind->minimum, kind->maximum, &read.nominal_m);
    const bool has_upper = read_length(reader, pointer, object, UPPER, -DEVIATION_MAX_M, DEVIATION_MAX_M, &upper_m);
    const bool has_lower = read_length(reader, pointer, object, LOWER, -DEVIATION_MAX_M, DEVIATION_MAX_M, &lower_m);
    if (!has_nominal || !has_upper || !has_lower || !in_order(reader, pointer, LOWER, lower_m, UPPER, upper_m)) {
        return false;
    }
    read.min_m = read.nominal_m + lower_m;
    read.max_m = read.nominal_m + upper_m;
    const struct quantity_kind range = {DIMENSION_LENGTH, kind->minimum, kind->maximum};
    if (!reader_in_range(reader, pointer, NULL, &range, read.min_m) ||
        !reader_in_range(reader, pointer, NULL, &range, read.max_m)) {
        return false;
    }
    *limits = read;
    return true;
}

/* The known class nearest to the one given, for the side it stands on. */
static void
suggest_class(struct fault *fault, const char *given, enum fit_side side)
{
    struct nearest nearest;
    nearest_init(&nearest, given);
    size_t count = 0;
    const struct fit_class *row = fit_class_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (row[i].side == side || row[i].side == FIT_SIDE_NONE) {
            nearest_offer(&nearest, row[i].id);
        }
    }
    if (nearest.best != NULL) {
        text_copy(fault->nearest, sizeof fault->nearest, nearest.best);
    }
}

static void
refuse_class(struct reader *reader, const char *pointer, const json_t *value, enum fit_side side,
             enum fit_status status)
{
    const char *detail = "The tables do not have this class; GET /v1/fit-classes lists them.";
    if (status == FIT_WRONG_SIDE) {
        detail = side == FIT_SIDE_SHAFT
                     ? "This is a class for holes; a shaft's ISO class has a small letter, as in g6."
                     : "This is a class for shafts; a hole's ISO class has a capital letter, as in H7.";
    } else if (status == FIT_OUT_OF_RANGE) {
        detail = "The tables do not have this class for this nominal size; GET /v1/fit-classes lists the sizes.";
    }
    struct fault *fault = reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, value, detail);
    if (fault != NULL && status != FIT_OUT_OF_RANGE) {
        suggest_class(fault, json_string_value(value), side);
    }
}

static bool
read_class(struct reader *reader, const char *pointer, const json_t *object, const struct limits_kind *kind,
           struct limits *limits)
{
    double nominal_m = 0.0;
    const bool has_nominal = read_length(reader, pointer, object, NOMINAL, kind->minimum, kind->maximum, &nominal_m);
    struct place place;
    place_member(&place, pointer, member_name[CLASS]);
    const json_t *value = reader_member(object, member_name[CLASS]);
    if (kind->side == FIT_SIDE_NONE) {
        reader_fault(reader, FAULT_UNKNOWN_MEMBER, place.pointer, value,
                     "A class cannot be used here: give min and max, or nominal with upper and lower.");
        return false;
    }
    if (!json_is_string(value)) {
        reader_wrong_type(reader, place.pointer, value, "a text that names a class, such as \"g6\", \"H7\" or \"RC4\"");
        return false;
    }
    if (!has_nominal) {
        return false;
    }
    const enum fit_status status = fit_limits(nominal_m, json_string_value(value), kind->side, limits);
    if (status != FIT_OK) {
        refuse_class(reader, place.pointer, value, kind->side, status);
    }
    return status == FIT_OK;
}

static bool
read_object(struct reader *reader, const char *pointer, json_t *object, const struct limits_kind *kind,
            struct limits *limits)
{
    reader_refuse_others(reader, pointer, object, member_name, MEMBER_COUNT);
    switch (form_of(reader, pointer, object)) {
    case FORM_MIN_MAX:
        return read_min_max(reader, pointer, object, kind, limits);
    case FORM_DEVIATIONS:
        return read_deviations(reader, pointer, object, kind, limits);
    case FORM_CLASS:
        return read_class(reader, pointer, object, kind, limits);
    default:
        return false;
    }
}

bool
limits_read(struct reader *reader, const char *pointer, json_t *value, const struct limits_kind *kind,
            struct limits *limits)
{
    if (json_is_object(value)) {
        return read_object(reader, pointer, value, kind, limits);
    }
    if (!json_is_number(value) && !json_is_string(value)) {
        reader_wrong_type(reader, pointer, value,
                          "a length, or limits: an object of min and max, of nominal, upper "
                          "and lower, or of nominal and class");
        return false;
    }
    const struct quantity_kind range = {DIMENSION_LENGTH, kind->minimum, kind->maximum};
    double size_m = 0.0;
    if (!reader_quantity(reader, pointer, value, &range, &size_m)) {
        return false;
    }
    *limits = (struct limits){.min_m = size_m, .max_m = size_m};
    return true;
}
