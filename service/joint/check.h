#ifndef SMALLEND_JOINT_CHECK_H
#define SMALLEND_JOINT_CHECK_H

/*
 * A check: what it asks, what it reads, its rule and limit, and the function
 * that judges. One file holds one check or a family of near relatives;
 * check.def has one row for each. Checks read (job, derived) and never each
 * other, so each is tested alone and their order does not matter.
 */

#include "joint/derived.h"
#include "joint/job.h"
#include "joint/report.h"

/*
 * What must be known before the check can be judged: any one of the fields.
 * Unused places are FIELD_NONE through NEED1 to NEED4.
 */
enum { NEED_ANY_MAX = 4 };
struct need {
    enum job_field any[NEED_ANY_MAX];
};
#define NEED1(a) {{FIELD_##a, FIELD_NONE, FIELD_NONE, FIELD_NONE}}
#define NEED2(a, b) {{FIELD_##a, FIELD_##b, FIELD_NONE, FIELD_NONE}}
#define NEED3(a, b, c) {{FIELD_##a, FIELD_##b, FIELD_##c, FIELD_NONE}}
#define NEED4(a, b, c, d) {{FIELD_##a, FIELD_##b, FIELD_##c, FIELD_##d}}
#define NEED_PRESSURE NEED3(engine_peak_pressure, engine_compression_pressure, engine_compression_ratio)

enum check_sense {
    SENSE_CEILING, /* demand: at most advised, at most limit */
    SENSE_FLOOR,   /* factor or clearance: at least advised, at least limit */
    SENSE_WINDOW,  /* between a low and a high */
    SENSE_WORD     /* judged by a word of a table, no number */
};

struct check {
    const char *id;
    const char *name;          /* in words, for sentences: "pressure in the bosses" */
    enum section section;
    enum check_sense sense;
    enum dimension dimension;  /* of value, advised, limit */
    const char *asks;          /* the question, one sentence */
    const char *basis;         /* the formula in words */
    const char *limit_rule;    /* limit and advised figure in words, with what they rest on */
    const char *source;        /* publication and table */
    enum job_field override_field; /* member of `limits` that moves the limit, or FIELD_NONE */
    const enum job_field *reads;
    size_t reads_count;
    const struct need *needs;
    size_t needs_count;
    bool repeats;     /* says again, in other words, what other checks of the joint say */
    bool whole_cycle; /* rests on the shape of the pressure curve, not on its peak alone */
    void (*judge)(const struct job *job, const struct derived *derived, struct finding *finding);
};
/* What the force on the pin rests on; see check_reads_field. */
#define READS_FORCE                                                                                                   \
    FIELD_engine_cycle, FIELD_engine_bore, FIELD_engine_stroke, FIELD_engine_rod_length, FIELD_engine_speed,          \
        FIELD_engine_peak_pressure, FIELD_engine_compression_pressure, FIELD_engine_compression_ratio,                \
        FIELD_engine_pressure_rise_ratio, FIELD_engine_polytropic_exponent, FIELD_engine_intake_pressure,             \
        FIELD_engine_reciprocating_mass
#define NEED_FORCE NEED1(engine_bore), NEED1(engine_stroke), NEED_PRESSURE
/* A demand on the lock: given, or worked out from the force. */
#define NEED_DEMAND(demand)                                                                                           \
    NEED2(engine_bore, demand), NEED2(engine_stroke, demand),                                                         \
        NEED4(engine_peak_pressure, engine_compression_pressure, engine_compression_ratio, demand)
#define CHECK_LIST(array) (array), sizeof(array) / sizeof((array)[0])

/* The rows of check.def: a check's place among the findings of a report. */
enum check_place {
#define CHECK(id) CHECK_##id,
#include "joint/check.def"
    CHECK_COUNT
};

/* Every check, in the order reported. */
const struct check *check_row(size_t index);
size_t check_count(void);
size_t check_index(const char *id); /* check_count() if there is none */

/* Are all needs of the check known in this job? */
bool check_needs_known(const struct check *check, const struct job *job);

/*
 * Does this check, for this job, rest on this member? It must stand in the
 * check's reads and be known; members that do not enter are left out: what
 * only shapes the pressure curve where a peak is given and the check does not
 * look at the whole cycle, the moving mass where no speed is given, defaults of
 * a press fit that is not described.
 */
bool check_reads_field(const struct check *check, const struct job *job, enum job_field field);

/* The same of a member that stands in the check's reads. */
bool check_field_enters(const struct check *check, const struct job *job, enum job_field field);

/* Does the check read a dimension of the joint that a default stands in for?
 * If it then fails, the answer is incomplete, not failing. */
bool check_rests_on_assumed_geometry(const struct check *check, const struct job *job);

/* ---- how a judge writes its finding ---- */

/* Utilization beyond this is written as this: the joint has nothing left. */
#define UTILIZATION_MAX 999.0

/* value at most advised: ok; at most limit: marginal; else fails. limit > 0. */
void finding_ceiling(struct finding *finding, double value, double advised, double limit);

/* value at least advised: ok; at least limit: marginal; else fails. limit > 0;
 * utilization = limit / value, UTILIZATION_MAX where value <= 0. */
void finding_floor(struct finding *finding, double value, double advised, double limit);

/* What to change, and where: `to` is the value of `fix` that would mend it; one
 * that the member does not take (a pin of less than nothing) is not told. */
void finding_advise(struct finding *finding, const char *text);
void finding_advise_value(struct finding *finding, size_t place, double si, enum dimension dimension);
void finding_advise_word(struct finding *finding, size_t place, const char *word);
void finding_fix(struct finding *finding, enum job_field field);
void finding_fix_to(struct finding *finding, enum job_field field, double to);

/* The check does not apply to this joint, and why. */
void finding_not_applicable(struct finding *finding, const char *why);

/*
 * Limit and advised figure for a ceiling or a factor, with the client's own
 * limit in place of ours: a ceiling's advised figure is then 0.9 of it, a
 * factor's is limit / 0.9.
 */
struct allowable { double advised, limit; };
struct allowable allowable_ceiling(const struct job *job, enum job_field override_field, double override_si,
                                   double advised, double limit);
struct allowable allowable_factor(const struct job *job, enum job_field override_field, double override_si,
                                  double advised, double limit);

#endif
