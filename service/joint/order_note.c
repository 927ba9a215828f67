#include "joint/order_part.h"

#include "joint/turning.h"

/*
 * What a machinist who gets the record without the engine must be told, and
 * what the part must pass when it comes back.
 */

/* ---- adding ---- */

static struct message *
add(struct order_note *list, size_t *count, size_t capacity, const char *id, const char *text)
{
    struct order_note *note = &list[*count < capacity ? *count : capacity - 1];

    *count += *count < capacity;
    *note = (struct order_note){.id = id, .text = {.text = text}};
    return &note->text;
}

static struct message *
note(struct order_part *part, const char *id, const char *text)
{
    return add(part->note, &part->note_count, ORDER_NOTE_MAX, id, text);
}

static struct message *
inspect(struct order_part *part, const char *id, const char *text)
{
    return add(part->inspection, &part->inspection_count, ORDER_INSPECTION_MAX, id, text);
}

static void
put_length(struct message *message, size_t place, double si)
{
    message_value(message, place, si, DIMENSION_LENGTH);
}

static const char *
scale_word(const struct order_part *part)
{
    size_t count;

    return choice_table(CHOICE_SET_hardness_scale, &count)[part->hardness.scale].text;
}

static void
put_hardness(struct message *message, const struct order_part *part)
{
    message_value(message, 0, part->hardness.min, DIMENSION_RATIO);
    message_value(message, 1, part->hardness.max, DIMENSION_RATIO);
    message->word[0] = scale_word(part);
}

/* ---- making ---- */

static void
note_hardening(const struct job *job, struct order_part *part)
{
    const struct steel *steel = part->steel;

    if (steel == NULL) {
        return;
    }
    if (part->case_known) {
        struct message *text = note(part, "heat_treatment",
                                    "Carburize, harden and temper: surface of at least {0} {a}, case at least {2} deep "
                                    "after grinding, to 550 HV.");
        put_hardness(text, part);
        put_length(text, 2, part->case_depth_m);
    } else if (steel->case_hardened) {
        put_hardness(note(part, "heat_treatment",
                          "Case harden to at least {0} {a}; the wall is too thin for a rule of "
                          "depth: agree it with whoever hardens the pin."),
                     part);
    } else if (part->hardness.asked && turning_hardened_later(job)) {
        struct message *text = note(part, "heat_treatment",
                                    "Harden the running surface to at least {0} {a} (this steel: {b}); agree the depth "
                                    "with whoever hardens the pin.");
        put_hardness(text, part);
        text->word[1] = steel->hardening[0] != '\0' ? steel->hardening : "see its certificate";
    }
    if (turning_hardened_later(job)) {
        put_length(note(part, "grinding", "Leave {0} on the diameter after turning, harden, then grind to size."), 0,
                   turning_finishing_allowance_m(job));
    }
}

static void
note_slot(const struct job *job, struct order_part *part)
{
    const struct order_slot *slot = &part->slot;
    struct message *text =
        note(part, "slot",
             slot->at_known ? "Mill the slot across the pin, square to its axis and {2} from either "
                              "end, with a round cutter of {1}; depth {0} from the finished surface."
                            : "Mill the slot across the pin, square to its axis and at mid-length, with "
                              "a round cutter of {1}; depth {0} from the finished surface.");

    put_length(text, 0, job->slot.depth_m);
    put_length(text, 1, slot->cutter_diameter_m);
    put_length(text, 2, slot->at_m);
    if (turning_hardened_later(job)) {
        note(part, "slot_and_hardening",
             "Mill the slot before hardening, and keep the case off it or stone its edges "
             "after; do not mill it into the hard surface.");
    }
    put_length(note(part, "slot_edges",
                    "Break every edge of the slot to about {0} radius and polish its floor: no tool "
                    "marks across the pin."),
               0, order_practice(job->units)->edge_m);
}

static void
note_flats(const struct job *job, struct order_part *part)
{
    struct message *text = note(part, "flats",
                                part->flats.width_m > 0.0
                                    ? "Flats for set screws: {0}, each {1} deep from the finished surface and {2} wide "
                                      "there; take their places from the piston."
                                    : "Flats for set screws: {0}, each {1} deep from the finished surface; take their "
                                      "places from the piston.");

    message_value(text, 0, part->flats.count, DIMENSION_COUNT);
    put_length(text, 1, part->flats.depth_m);
    put_length(text, 2, part->flats.width_m);
    put_length(note(part, "flat_edges", "Break every edge of the flats to about {0} radius."), 0,
               order_practice(job->units)->edge_m);
}

static void
note_making(const struct job *job, struct order_part *part)
{
    put_length(note(part, "ends", "Face both ends square and chamfer them about {0} x 45 deg; no burrs."), 0,
               order_practice(job->units)->chamfer_m);
    note_hardening(job, part);
    if (part->slot.known) {
        note_slot(job, part);
    }
    if (part->flats.known) {
        note_flats(job, part);
    }
    note(part, "marking",
         "Mark one end face with the first eight characters of part_id; no stamps on the running "
         "surface or near a slot or flat.");
}

/* ---- inspection ---- */

static void
inspect_size(struct order_part *part)
{
    struct message *text = inspect(part, "size_in_limits",
                                   "Diameter {01:} at 20 degC (68 degF), measured at {2} stations spread over the "
                                   "length, both ends among them, in two directions at right angles each.");
    put_length(text, 0, part->diameter.min_m);
    put_length(text, 1, part->diameter.max_m);
    message_value(text, 2, part->stations, DIMENSION_COUNT);
    put_length(inspect(part, "taper", "Taper over the length at most {0} on the diameter."), 0, part->taper_m);
    put_length(inspect(part, "out_of_round",
                       "Out-of-round at any station at most {0} on the diameter; turn the pin in a V-block under an "
                       "indicator for odd lobes."),
               0, part->out_of_round_m);
    if (part->length_known) {
        text = inspect(part, "length", "Length {01:}.");
        put_length(text, 0, part->length.min_m);
        put_length(text, 1, part->length.max_m);
    }
    if (part->inside_m > 0.0) {
        put_length(inspect(part, "inside_diameter", "Bore at most {0}, along the axis of the pin."), 0, part->inside_m);
    }
}

static void
inspect_surface(struct order_part *part)
{
    message_value(inspect(part, "roughness", "Running surface Ra {0} or better."), 0, part->roughness_m,
                  DIMENSION_ROUGHNESS);
    if (part->hardness.known) {
        put_hardness(inspect(part, "hardness",
                             part->hardness.max > 0.0
                                 ? "Hardness of the surface {0} to {1} {a}, tested on an end or on a "
                                   "piece hardened with it."
                                 : "Hardness of the surface at least {0} {a}, tested on an end or on "
                                   "a piece hardened with it."),
                     part);
    }
    if (part->case_known) {
        put_length(inspect(part, "case_depth",
                           "Case at least {0} deep to 550 HV, on a piece hardened with it or by the "
                           "hardener's certificate."),
                   0, part->case_depth_m);
    }
    inspect(part, "cracks", "No cracks under magnetic particles or dye, the floor of a slot and the edges above all.");
}

static void
inspect_lock(struct order_part *part)
{
    const struct order_slot *slot = &part->slot;
    struct message *text;

    if (slot->known) {
        text = inspect(part, "slot_depth", "Slot {01:} deep from the finished surface.");
        put_length(text, 0, slot->depth.min_m);
        put_length(text, 1, slot->depth.max_m);
        put_length(inspect(part, "slot_floor", "Floor of the slot rounded to {0} radius, by gauge; edges broken."), 0,
                   slot->cutter_diameter_m / 2.0);
    }
    if (slot->known && slot->at_known) {
        text = inspect(part, "slot_place", "Center of the slot {0} from either end, within {1}, square to the axis.");
        put_length(text, 0, slot->at_m);
        put_length(text, 1, slot->at_within_m);
    }
    if (part->flats.known) {
        put_length(inspect(part, "flat_depth", "Flats no deeper than {0} from the finished surface; edges broken."), 0,
                   part->flats.depth_m);
    }
}

void
order_notes(const struct job *job, struct order_part *part)
{
    note_making(job, part);
    inspect(part, "material",
            part->certificate != NULL
                ? "The bar's certificate is the one named."
                : "Mill certificate of the bar to the designation, condition and strength included.");
    inspect_size(part);
    inspect_surface(part);
    inspect_lock(part);
}
