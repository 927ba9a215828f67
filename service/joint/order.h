#ifndef SMALLEND_JOINT_ORDER_H
#define SMALLEND_JOINT_ORDER_H

/*
 * The release record of a pin: whether it may be made, why, and what to buy,
 * make and inspect. A pin is released only where load, strength, the lock that
 * the joint uses, the running fit and the steel are all judged, on dimensions
 * that were given, and no check fails; marginal checks hold it unless the buyer
 * accepts them.
 *
 * The lock of a pin held in the rod is its slot and clamp bolt, of one held in
 * the piston its set screws. What keeps a floating pin from the cylinder wall
 * is not judged here, so none is released.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/fault.h"
#include "joint/fit.h"
#include "joint/job.h"
#include "joint/message.h"

enum order_reason_code {
#define ORDER_REASON(code, outcome, brief, meaning) ORDER_##code,
#include "joint/order_reason.def"
    ORDER_REASON_CODES
};

struct order_reason_row {
    const char *code;  /* "assumed_geometry" */
    bool holds;        /* a pin is not released for it */
    const char *brief; /* in a few words */
    const char *meaning;
};
const struct order_reason_row *order_reason_row(enum order_reason_code code);

struct order_reason {
    enum order_reason_code code;
    struct message text;
    const char *check; /* id of the check it is about, NULL = none in particular */
    enum job_field at; /* member to look at, FIELD_NONE = none */
};

enum {
    ORDER_REASON_MAX = 32,
    ORDER_NOTE_MAX = 12,
    ORDER_INSPECTION_MAX = 16,
    ORDER_ID_LENGTH = 64, /* SHA-256 in hexadecimal digits */
    ORDER_ID_SIZE = ORDER_ID_LENGTH + 1
};

/* What to do or to look at, under a word that a program can tell it by. */
struct order_note {
    const char *id; /* "ends", "case_depth" */
    struct message text;
};

/* Hardness of the running surface, on the scale named; max 0 = no upper limit. */
struct order_hardness {
    bool known;
    bool asked; /* by the job: not just what this steel has */
    double min, max;
    enum choice_hardness_scale scale;
};

/* The lock: the slot and its bolt, or the flats and their screws. */
struct order_slot {
    bool known;
    struct limits depth; /* from the surface of the finished pin */
    double cutter_diameter_m;
    bool mouth_known;
    double mouth_m, chord_m; /* its width along the pin at the surface, its length across it at the floor */
    bool at_known;
    double at_m, at_within_m; /* center of the slot from either end of the pin, and how far it may be off */
};

struct order_flats {
    bool known;
    double count, depth_m, width_m; /* width 0 = not known */
};

struct order_fastening {
    const char *kind;   /* "clamp_bolt", "set_screw"; NULL = none known */
    const char *thread; /* designation */
    const char *grade;  /* NULL = none */
    double count;
    bool torque_known;
    double torque_Nm;
};

/* What to buy and make; sizes are of the finished pin at 20 degC. */
struct order_part {
    bool known;                /* the pin's diameter is: otherwise there is nothing to say */
    const struct steel *steel; /* NULL = not named; lives as long as the job and the tables */
    const char *certificate;   /* what the client's own figures of the steel rest on; NULL = a steel of the table */
    struct limits diameter;
    double inside_m; /* 0 = solid */
    bool length_known;
    struct limits length;
    bool blank_known, blank_length_known;
    bool as_drawn; /* the bar is at size: only its ends are to be made */
    double blank_diameter_m, blank_length_m;
    enum choice_finish finish;
    double roughness_m; /* Ra, at most */
    double taper_m, out_of_round_m; /* at most, on the diameter */
    double stations;                /* along the pin, for measuring it */
    struct order_hardness hardness;
    bool case_known;
    double case_depth_m; /* at least, after grinding, to 550 HV */
    struct order_slot slot;
    struct order_flats flats;
    struct order_fastening fastening;
    size_t note_count, inspection_count;
    struct order_note note[ORDER_NOTE_MAX];
    struct order_note inspection[ORDER_INSPECTION_MAX];
};

struct order {
    bool known; /* the call was for one */
    bool released;
    enum choice_action action;
    const char *supersedes; /* NULL = nothing; lives as long as the job */
    size_t reason_count;
    struct order_reason reason[ORDER_REASON_MAX];
    struct order_part part;
    /* Filled by the carriage, which can hash and sign: "" and NULL = not yet. */
    char part_id[ORDER_ID_SIZE], record_id[ORDER_ID_SIZE];
    const char *jws, *key_id;
};

/*
 * Refuse what an order contradicts itself in: replace or cancel that does not
 * say which record, a new order that does, and a record_id that is none. The
 * job is completed.
 */
void order_validate(const struct job *job, struct fault_list *faults);

#endif
