#include "fuzz/joint_bytes.h"

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "wire/material_read.h"
#include "wire/own_material.h"

uint8_t
bytes_take(struct bytes *bytes)
{
    if (bytes->left == 0) {
        return 0;
    }
    bytes->left--;
    return *bytes->at++;
}

/* From 0 to 1, both reached. */
static double
take_share(struct bytes *bytes)
{
    const unsigned high = bytes_take(bytes), low = bytes_take(bytes);
    return (double)(high << 8 | low) / 65535.0;
}

static double
within(double value, double minimum, double maximum)
{
    return fmin(fmax(value, minimum), maximum);
}

/* Sizes of an ordinary joint, so that parts often go together. 0: no idea. */
static const double usual[FIELD_COUNT] = {
    [FIELD_engine_bore] = 0.13,          [FIELD_engine_stroke] = 0.2,          [FIELD_engine_rod_length] = 0.45,
    [FIELD_engine_speed] = 40.0,         [FIELD_engine_peak_pressure] = 2.0e6, [FIELD_engine_compression_pressure] = 5.0e5,
    [FIELD_engine_compression_ratio] = 4.5, [FIELD_engine_intake_pressure] = 1.0e5, [FIELD_engine_reciprocating_mass] = 9.0,
    [FIELD_pin_diameter] = 0.035,        [FIELD_pin_length] = 0.12,            [FIELD_pin_inside_diameter] = 0.012,
    [FIELD_eye_width] = 0.05,            [FIELD_eye_outside] = 0.06,           [FIELD_boss_length] = 0.033,
    [FIELD_boss_gap] = 0.0015,           [FIELD_slot_depth] = 0.0034,          [FIELD_slot_cutter_diameter] = 0.011,
    [FIELD_clamp_bolt_diameter] = 0.0095, [FIELD_clamp_bolt_offset] = 0.0193,  [FIELD_clamp_bolt_hinge_offset] = 0.023,
    [FIELD_clamp_bolt_torque] = 38.0,    [FIELD_set_screw_torque] = 30.0,      [FIELD_set_screw_flat_depth] = 0.002,
    [FIELD_running_fit_pin] = 0.035,     [FIELD_running_fit_hole] = 0.03503,   [FIELD_running_fit_wanted] = 3.0e-5,
    [FIELD_running_fit_pin_temperature] = 93.0, [FIELD_running_fit_hole_temperature] = 82.0,
    [FIELD_held_fit_hole] = 0.03501,     [FIELD_press_fit_bushing_outside] = 0.0415, [FIELD_press_fit_housing_bore] = 0.04145,
    [FIELD_press_fit_bushing_bore] = 0.035, [FIELD_press_fit_housing_outside] = 0.06, [FIELD_press_fit_length] = 0.05,
    [FIELD_press_fit_temperature] = 80.0, [FIELD_demand_axial] = 500.0,        [FIELD_demand_torque] = 10.0,
    [FIELD_inspection_accept] = 0.035,   [FIELD_inspection_accept_taper] = 1.0e-5, [FIELD_inspection_accept_out_of_round] = 1.0e-5,
    [FIELD_inspection_resolution] = 2.5e-6, [FIELD_inspection_uncertainty] = 2.0e-6, [FIELD_turning_stock_diameter] = 0.038,
    [FIELD_turning_stock_length] = 0.15, [FIELD_turning_depth_of_cut] = 0.001, [FIELD_turning_nose_radius] = 0.0004,
    [FIELD_turning_roughness] = 8.0e-7,  [FIELD_turning_between_centres] = 0.5, [FIELD_machine_taper_amount] = 2.0e-5,
    [FIELD_machine_taper_over] = 0.2,
};

/* How a number is chosen within its range. */
enum { NEAR_USUAL, HARD_BY_USUAL, LINEAR, LOGARITHMIC, AT_MINIMUM, AT_MAXIMUM, JUST_INSIDE, HALF_OR_TWICE };

static double
chosen(unsigned how, double share, double like, double minimum, double maximum)
{
    const double low = minimum > 0.0 ? minimum : 1.0e-7 * maximum;
    switch (how % 8) {
    case NEAR_USUAL:
        return within(like * (0.9 + 0.2 * share), minimum, maximum);
    case HARD_BY_USUAL:
        return within(like + 2.0e-4 * (share - 0.5), minimum, maximum);
    case LINEAR:
        return within(minimum + share * (maximum - minimum), minimum, maximum);
    case LOGARITHMIC:
        return within(low * pow(maximum / low, share), minimum, maximum);
    case AT_MINIMUM:
        return minimum;
    case AT_MAXIMUM:
        return maximum;
    case JUST_INSIDE:
        return share < 0.5 ? nextafter(minimum, maximum) : nextafter(maximum, minimum);
    default:
        return within(like * (0.5 + 1.5 * share), minimum, maximum);
    }
}

static double
take_number(struct bytes *bytes, unsigned how, double like, double minimum, double maximum)
{
    return chosen(how, take_share(bytes), like != 0.0 ? like : sqrt(fmax(minimum, 1.0e-9) * maximum), minimum, maximum);
}

static void
take_limits(struct bytes *bytes, unsigned how, enum job_field field, struct limits *limits)
{
    const struct job_field_row *row = job_field_row(field);
    const unsigned width = bytes_take(bytes);
    const double size = take_number(bytes, how, usual[field], row->minimum, row->maximum);
    size_t count = 0;
    const struct fit_class *table = fit_class_table(&count);
    *limits = (struct limits){.min_m = size, .max_m = size};
    if (width >= 128 && row->side != FIT_SIDE_NONE) {
        (void)!fit_limits(size, table[width % count].id, row->side, limits);
    } else if (width > 0) {
        limits->max_m = within(size + pow(10.0, -1.0 - (double)(width % 16) / 2.0), size, row->maximum);
    }
}

/* ---- metals ---- */

static double
take_figure(struct bytes *bytes, const struct own_member *member)
{
    const unsigned how = bytes_take(bytes);
    return take_number(bytes, how % 4 + 2, 0.0, member->minimum, member->maximum);
}

/* What material_read takes: any row, or figures in their ranges, yield below
 * tensile, the hardness on one of two scales. */
static void
take_steel(struct bytes *bytes, unsigned how, struct steel_choice *choice)
{
    size_t count = 0, members = 0;
    const struct steel *row = steel_table(&count);
    const struct own_member *member = own_steel_members(&members);
    const unsigned which = bytes_take(bytes);
    const double tensile = take_figure(bytes, &member[0]), yield = take_figure(bytes, &member[1]);
    const double hardness = take_figure(bytes, &member[2]);
    memset(choice, 0, sizeof *choice);
    if (how % 8 < 6) {
        choice->row = &row[which % count];
        return;
    }
    own_steel_init(&choice->own);
    choice->own.tensile = own_figure(fmax(tensile, nextafter(member[1].minimum, 1e12)));
    choice->own.yield = own_figure(fmin(yield, nextafter(choice->own.tensile.si, 0.0)));
    if (which % 2 != 0) {
        *(hardness <= 70.0 ? &choice->own.hardness_hrc : &choice->own.hardness_hb) = own_figure(hardness);
    }
    own_steel_judge_slot(&choice->own);
    text_copy(choice->basis, sizeof choice->basis, "certificate");
}

static void
take_metal(struct bytes *bytes, unsigned how, struct metal_choice *choice)
{
    size_t bearings = 0, structurals = 0, members = 0;
    const struct metal *bearing = bearing_metal_table(&bearings), *structural = structural_metal_table(&structurals);
    const struct own_member *member = own_metal_members(&members);
    const unsigned which = bytes_take(bytes), given = bytes_take(bytes);
    memset(choice, 0, sizeof *choice);
    own_metal_init(&choice->own, (enum metal_kind)(which % (METAL_BRASS + 1)));
    for (size_t i = 0; i < members; i++) {
        if (member[i].kind == OWN_FIGURE) {
            const struct figure figure = own_figure(take_figure(bytes, &member[i]));
            if (member[i].needed || (given >> (i % 8) & 1) != 0) {
                memcpy((char *)&choice->own + member[i].offset, &figure, sizeof figure);
            }
        }
    }
    if (choice->own.tensile.given && choice->own.yield.si >= choice->own.tensile.si) {
        choice->own.tensile.given = false;
    }
    if (how % 8 < 6) {
        memset(choice, 0, sizeof *choice);
        choice->row = which < bearings ? &bearing[which] : &structural[which % structurals];
    }
}

/* ---- lists, words, threads ---- */

static void
take_readings(struct bytes *bytes, unsigned how, struct reading *reading, size_t capacity, size_t *count)
{
    enum { PLACES = 12 }; /* bytes for so many; more repeat them */
    const size_t wanted = 1 + bytes_take(bytes) % capacity;
    for (size_t i = 0; i < PLACES; i++) {
        const unsigned has = bytes_take(bytes);
        reading[i] = (struct reading){.has_at = (has & 1) != 0, .has_around = (has & 2) != 0};
        const double at_m = 5.0 * take_share(bytes), around_rad = 12.56 * (take_share(bytes) - 0.5);
        reading[i].at_m = reading[i].has_at ? ((has & 4) != 0 ? at_m : 0.01 * (double)(has >> 4)) : 0.0;
        reading[i].around_rad = reading[i].has_around ? around_rad : 0.0;
        reading[i].size_m = take_number(bytes, (has & 8) != 0 ? how : HARD_BY_USUAL, 0.035, 0.001, 1.0);
    }
    for (size_t i = PLACES; i < wanted; i++) {
        reading[i] = reading[i % PLACES];
    }
    *count = wanted;
}

static void
take_numbers(struct bytes *bytes, unsigned how, const struct job_field_row *row, double *entry, size_t *count)
{
    *count = 1 + bytes_take(bytes) % row->capacity;
    for (size_t i = 0; i < row->capacity; i++) {
        const double number = i < 8 ? take_number(bytes, how, 0.0, row->minimum, row->maximum) : entry[i % 8];
        entry[i] = i < *count ? number : 0.0;
    }
}

static void
take_names(struct bytes *bytes, const struct job_field_row *row, char *entry, size_t *count)
{
    size_t steels = 0;
    const struct steel *steel = steel_table(&steels);
    *count = 1 + bytes_take(bytes) % 4;
    for (size_t i = 0; i < 4; i++) {
        const char *id = steel[bytes_take(bytes) % steels].id;
        if (i < *count) {
            text_copy(entry + i * row->entry_size, row->entry_size, id);
        }
    }
}

static void
take_raw(struct bytes *bytes, unsigned how, struct raw_quantity *raw)
{
    static const char *const texts[] = {"1 in", "0.5", "35 mm", "30 lbf.ft", "250 psi", "90 deg", "no number", "300 rpm"};
    const unsigned which = bytes_take(bytes);
    const double number = take_number(bytes, how, 1.0, -100.0, 1.0e9);
    memset(raw, 0, sizeof *raw);
    raw->is_number = which >= 128;
    if (raw->is_number) {
        raw->number = number;
    } else {
        text_copy(raw->text, sizeof raw->text, texts[which % 8]);
    }
}

/* The path of a member, with or without an end of its limits. */
static void
take_text(struct bytes *bytes, char *at, size_t capacity)
{
    static const char *const ends[] = {"", "", "", ".min", ".max", ".lower"};
    const unsigned which = bytes_take(bytes), end = bytes_take(bytes);
    struct text text;
    text_init(&text, at, capacity);
    text_format(&text, "%s%s", job_field_row((enum job_field)(which % FIELD_COUNT))->path, ends[end % 6]);
}

static void
take_thread(struct bytes *bytes, unsigned how, struct thread *thread)
{
    const unsigned metric = bytes_take(bytes);
    const double diameter_m = take_number(bytes, how, 0.0095, 0.001, 0.1);
    memset(thread, 0, sizeof *thread);
    thread_coarse_near(diameter_m, metric % 2 != 0, thread);
}

/* ---- the job ---- */

static void
take_member(struct bytes *bytes, unsigned how, enum job_field field, struct job *job)
{
    const struct job_field_row *row = job_field_row(field);
    char *at = (char *)job + row->offset;
    size_t words = 0, *count = (size_t *)(void *)((char *)job + row->count_offset);
    switch (row->kind) {
    case KIND_NUMBER: {
        const double number = take_number(bytes, how, usual[field], row->minimum, row->maximum);
        *(double *)(void *)at = row->dimension == DIMENSION_COUNT ? round(number) : number;
        break;
    }
    case KIND_LIMITS:
        take_limits(bytes, how, field, (struct limits *)(void *)at);
        break;
    case KIND_CHOICE:
        (void)choice_table(row->choices, &words);
        *(int *)(void *)at = (int)(bytes_take(bytes) % words);
        break;
    case KIND_TEXT:
        take_text(bytes, at, row->capacity);
        break;
    case KIND_FLAG:
        *(bool *)(void *)at = bytes_take(bytes) % 2 != 0;
        break;
    case KIND_STEEL:
        take_steel(bytes, how, (struct steel_choice *)(void *)at);
        break;
    case KIND_METAL:
        take_metal(bytes, how, (struct metal_choice *)(void *)at);
        break;
    case KIND_THREAD:
        take_thread(bytes, how, (struct thread *)(void *)at);
        break;
    case KIND_NUMBERS:
        take_numbers(bytes, how, row, (double *)(void *)at, count);
        break;
    case KIND_NAMES:
        take_names(bytes, row, at, count);
        break;
    case KIND_RAW:
        take_raw(bytes, how, (struct raw_quantity *)(void *)at);
        break;
    case KIND_READINGS:
        take_readings(bytes, how, (struct reading *)(void *)at, row->capacity, count);
        break;
    }
}

void
job_from_bytes(struct bytes *bytes, struct job *job)
{
    struct job passed_over; /* takes the bytes of absent members */
    job_init(&passed_over);
    job_init(job);
    job->units = bytes_take(bytes) % 2 != 0 ? UNITS_METRIC : UNITS_INCH;
    for (int i = 0; i < FIELD_COUNT; i++) {
        const enum job_field field = (enum job_field)i;
        const unsigned mode = bytes_take(bytes);
        const bool given = (mode & 1) != 0;
        take_member(bytes, mode >> 1, field, given ? job : &passed_over);
        job->state[field] = given ? FIELD_GIVEN : FIELD_ABSENT;
    }
}
