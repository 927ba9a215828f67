#include "wire/schema_order.h"

#include "joint/job.h"
#include "joint/order.h"

/* What order_write.c and part_write.c put into a record; the contract tests
 * hold every member of real records against it. */

static const struct part order_part[] = {
    {"release", PART_OTHER, true, 0, NULL, NULL},
    {"reasons", PART_REFS, true, 0, "OrderReason", "why, gravest first"},
    {"action", PART_OTHER, true, 0, NULL, NULL},
    {"supersedes", PART_TEXT, false, 0, NULL, "the record that this one replaces or withdraws"},
    {"quantity", PART_COUNT, false, 0, NULL, "number of parts, as the buyer gave it"},
    {"reference", PART_TEXT, false, 0, NULL, "the buyer's own reference"},
    {"date", PART_TEXT, false, 0, NULL, "the buyer's own date"},
    {"part_id", PART_TEXT, false, 0, NULL,
     "SHA-256 of what defines the part alone: the same for the same part, whoever orders it"},
    {"part", PART_REF, false, 0, "OrderPart", "what to buy, make and inspect; absent where the diameter is not known"},
    {"job", PART_OTHER, true, 0, NULL, NULL},
    {"record_id", PART_TEXT, false, 0, NULL,
     "SHA-256 of the answer without record_id and jws: the same order gives the same record"},
    {"jws", PART_TEXT, false, 0, NULL, "the signed record, where the service has a key (JWS, RFC 7515)"},
};

static const struct part reason_part[] = {
    {"code", PART_OTHER, true, 0, NULL, NULL},
    {"text", PART_TEXT, true, 0, NULL, "a plain sentence"},
    {"check", PART_REF, false, 0, "CheckId", "the check that it is about"},
    {"at", PART_PATH, false, 0, NULL, "the member of the job to look at"},
};

static const struct part pin_part[] = {
    {"name", PART_TEXT, true, 0, NULL, "what the part is"},
    {"material", PART_REF, false, 0, "OrderMaterial", "the steel to buy"},
    {"blank", PART_REF, false, 0, "OrderBlank", "the bar to buy"},
    {"diameter", PART_REF, true, 0, "LengthValueLimits", "limits of the finished diameter"},
    {"diameter_inch", PART_REF, true, 0, "LengthValueLimits", "the same in inches"},
    {"diameter_metric", PART_REF, true, 0, "LengthValueLimits", "the same in millimeters"},
    {"diameter_class", PART_TEXT, false, 0, NULL, "the class of fit that they are of"},
    {"at_temperature", PART_QUANTITY, true, DIMENSION_TEMPERATURE, NULL, "temperature at which the sizes hold"},
    {"inside_diameter", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "bore of a hollow pin; 0 is solid"},
    {"length", PART_REF, false, 0, "LengthValueLimits", "limits of the length"},
    {"taper", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "at most, over the length, on the diameter"},
    {"out_of_round", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "at most, at any station"},
    {"stations", PART_COUNT, true, 0, NULL, "places along the pin at which to measure it"},
    {"finish", PART_OTHER, true, 0, NULL, NULL},
    {"roughness", PART_QUANTITY, true, DIMENSION_ROUGHNESS, NULL, "Ra of the running surface, at most"},
    {"hardness", PART_REF, false, 0, "OrderHardness", "of the running surface"},
    {"case_depth", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "at least, after grinding, to 550 HV"},
    {"slot", PART_REF, false, 0, "OrderSlot", "the locking slot"},
    {"flats", PART_REF, false, 0, "OrderFlats", "the flats for set screws"},
    {"fastening", PART_REF, false, 0, "OrderFastening", "the bolt or screws that lock the pin"},
    {"notes", PART_REFS, true, 0, "OrderNote", "what to take care of in making it"},
    {"inspection", PART_REFS, true, 0, "OrderNote", "what it must pass"},
};

static const struct part material_part[] = {
    {"id", PART_TEXT, true, 0, NULL, "id of GET /v1/steels, or certificate for own figures"},
    {"grade", PART_TEXT, false, 0, NULL, "generic grade"},
    {"condition", PART_TEXT, false, 0, NULL, "how it is supplied or treated"},
    {"uns", PART_TEXT, false, 0, NULL, "number of the unified numbering system"},
    {"designation", PART_TEXT, false, 0, NULL, "what to write on the order"},
    {"near_equivalent", PART_TEXT, false, 0, NULL, "near equivalents of other standards"},
    {"bar_sizes", PART_TEXT, false, 0, NULL, "sizes in which bar is sold"},
    {"basis", PART_REF, true, 0, "StrengthBasis", NULL},
    {"certificate", PART_TEXT, false, 0, NULL, "what figures of the client's own rest on"},
    {"hardening", PART_TEXT, false, 0, NULL, "how it may be hardened"},
    {"note", PART_TEXT, false, 0, NULL, "what to mind"},
};

static const struct part blank_part[] = {
    {"diameter", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "diameter of the bar"},
    {"length", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "length to saw off"},
    {"at_size", PART_FLAG, true, 0, NULL, "the bar is used as drawn: only its ends are to be made"},
};

static const struct part hardness_part[] = {
    {"min", PART_NUMBER, true, 0, NULL, "at least"},
    {"max", PART_NUMBER, false, 0, NULL, "at most"},
    {"scale", PART_OTHER, true, 0, NULL, NULL},
};

static const struct part slot_part[] = {
    {"depth", PART_REF, true, 0, "LengthValueLimits", "limits of the depth from the finished surface"},
    {"cutter_diameter", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "diameter of the cutter"},
    {"mouth", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "width along the pin, at its surface"},
    {"chord", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "length across the pin, at the floor"},
    {"at", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "center of the slot, from either end"},
    {"within", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "how far it may be off"},
};

static const struct part flats_part[] = {
    {"count", PART_COUNT, true, 0, NULL, "number of flats"},
    {"depth", PART_QUANTITY, true, DIMENSION_LENGTH, NULL, "depth from the surface"},
    {"width", PART_QUANTITY, false, DIMENSION_LENGTH, NULL, "width across the pin"},
};

static const struct part fastening_part[] = {
    {"kind", PART_TEXT, true, 0, NULL, "clamp_bolt or set_screw"},
    {"thread", PART_TEXT, true, 0, NULL, "its designation"},
    {"grade", PART_TEXT, false, 0, NULL, "strength grade"},
    {"count", PART_COUNT, true, 0, NULL, "how many"},
    {"torque", PART_QUANTITY, false, DIMENSION_TORQUE, NULL, "tightening torque"},
};

static const struct part note_part[] = {
    {"id", PART_TEXT, true, 0, NULL, "a word that a program can tell it by"},
    {"text", PART_TEXT, true, 0, NULL, "a plain sentence"},
};

/* ---- words ---- */

static const char *
release_at(size_t index)
{
    static const char *const words[] = {"release", "hold"};
    return words[index];
}

static const char *
reason_at(size_t index)
{
    return order_reason_row((enum order_reason_code)index)->code;
}

/* ---- the record ---- */

static void
write_order(struct writer *writer)
{
    schema_object_begin(writer, "OrderResults", "the release record of a pin: whether it may be made, and what it is",
                        PARTS(order_part));
    schema_enum(writer, "release",
                "release: load, strength, lock, running fit and steel are all judged on given dimensions, and pass; "
                "hold: make nothing by this record",
                release_at, 2);
    schema_choice(writer, "action", "what the record does", CHOICE_SET_action);
    schema_begin(writer, "job", "object",
                 "the job as it was understood, in one spelling; sent again it gives the record again");
    writer_object_end(writer);
    schema_object_end(writer);
}

static void
write_pin(struct writer *writer)
{
    schema_object_begin(writer, "OrderPart", "the pin to buy, make and inspect; sizes are of the finished pin",
                        PARTS(pin_part));
    schema_choice(writer, "finish", "finish of the running surface", CHOICE_SET_finish);
    schema_object_end(writer);
}

static void
write_reason(struct writer *writer)
{
    schema_object_begin(writer, "OrderReason", "why a record releases or holds", PARTS(reason_part));
    schema_open_enum(writer, "code", "what kind of reason it is", SCHEMA_WORD, reason_at, ORDER_REASON_CODES);
    schema_object_end(writer);
}

static void
write_hardness(struct writer *writer)
{
    schema_object_begin(writer, "OrderHardness", "hardness asked for", PARTS(hardness_part));
    schema_choice(writer, "scale", "the scale", CHOICE_SET_hardness_scale);
    schema_object_end(writer);
}

void
schema_order(struct writer *writer)
{
    write_order(writer);
    write_reason(writer);
    write_pin(writer);
    write_hardness(writer);
    schema_object(writer, "OrderMaterial", "the steel to buy", PARTS(material_part));
    schema_object(writer, "OrderBlank", "the bar to buy", PARTS(blank_part));
    schema_object(writer, "OrderSlot", "the slot to mill", PARTS(slot_part));
    schema_object(writer, "OrderFlats", "the flats to mill", PARTS(flats_part));
    schema_object(writer, "OrderFastening", "what locks the pin", PARTS(fastening_part));
    schema_object(writer, "OrderNote", "something to take care of, or to look at", PARTS(note_part));
}
