#ifndef SMALLEND_JOINT_REPORT_H
#define SMALLEND_JOINT_REPORT_H

/*
 * What the core answers: results, findings of the checks, assumptions, next
 * steps. All values SI, all text constant; nothing is allocated.
 */

#include <stdbool.h>
#include <stddef.h>

#include "joint/fit.h"
#include "joint/job.h"
#include "joint/message.h"
#include "joint/order.h"
#include "quantity/unit.h"

enum section {
#define SECTION(id, meaning) SECTION_##id,
#include "joint/section.def"
    SECTION_COUNT
};
const char *section_text(enum section section);

/* A set of sections, one bit each. */
typedef unsigned section_set;
#define SECTION_BIT(id) (1u << SECTION_##id)

enum call {
#define CALL(id, word, sections, summary) CALL_##id,
#include "joint/call.def"
    CALL_COUNT
};
struct call_row {
    const char *id;   /* "set_screw" */
    const char *word; /* "set-screw", as in the path and the option */
    section_set sections;
    const char *summary;
    bool by_link; /* a link can ask for it too */
};
const struct call_row *call_row(enum call call);

/* ---- results ---- */

enum result {
#define RESULT(section, name, dimension, meaning) RESULT_##section##_##name,
#define RESULT_FLAG(section, name, meaning) RESULT_##section##_##name,
#define RESULT_LIMITS(section, name, dimension, meaning) RESULT_##section##_##name,
#define RESULT_WORD(section, name, meaning) RESULT_##section##_##name,
#include "joint/result.def"
    RESULT_COUNT
};

enum result_kind { RESULT_IS_NUMBER, RESULT_IS_FLAG, RESULT_IS_LIMITS, RESULT_IS_WORD };

struct result_row {
    enum section section;
    const char *name;
    enum result_kind kind;
    enum dimension dimension;
    const char *meaning;
};
const struct result_row *result_row(enum result result);

struct result_value {
    bool known;
    double si;   /* number, flag (0 or 1), or lower limit */
    double high; /* upper limit */
    const char *word;
};

/* ---- findings ---- */

enum verdict { VERDICT_OK, VERDICT_MARGINAL, VERDICT_INCOMPLETE, VERDICT_FAILS };
const char *verdict_text(enum verdict verdict);

struct finding {
    bool judged;
    enum verdict verdict;      /* meaningful if judged */
    bool two_sided;            /* value to value_high, and pairs of limits */
    bool has_limits;           /* advised and limit (or their pairs) are set */
    bool has_utilization;
    bool has_value;            /* false for a check of words (steel_suits) */
    double value, advised, limit;
    double value_high;         /* two-sided: value is the lower end */
    double limit_low, limit_high, advised_low, advised_high;
    double utilization;
    struct message advice;     /* what to change; also set where ok */
    enum job_field fix;        /* member to change, FIELD_NONE if none */
    bool has_fix_to;
    double fix_to;             /* value that would mend it, SI */
    bool assumed_geometry;     /* fails, and some dimension it reads is assumed */
    const char *not_applicable; /* why it does not apply, NULL if it does */
};

/* ---- the lists beside ---- */

enum {
    FINDING_MAX = 64,
    MATCH_MAX = 6,
    RANKING_MAX = 48,
    STATION_MAX = 96,
    PASS_MAX = 24,
    ASSUMPTION_MAX = 48,
    NEXT_STEP_MAX = 12,
    CAUTION_MAX = 16
};

/* A steel or a bearing metal ranked for this joint. */
struct ranking {
    const char *id;
    enum verdict verdict;
    const char *governing; /* id of the check nearest its limit, NULL if none */
    double utilization;
    const char *note;
};

/* ---- sizing ---- */

enum size_outcome { SIZE_LIMIT, SIZE_WINDOW, SIZE_NONE_PASSES, SIZE_ALL_PASS };
const char *size_outcome_text(enum size_outcome outcome);

enum { SENSITIVITY_MAX = 5, SIZE_PASSING_MAX = 48, SIZE_WHAT_SIZE = 64, SIZE_TEXT_SIZE = 240 };

/* How an input moves the governing check: change of its utilization for one
 * percent more of the input. */
struct sensitivity {
    enum job_field at;
    double utilization_per_percent;
};

struct size {
    bool searched;
    char what[SIZE_WHAT_SIZE];     /* as asked: "pin.diameter", "running_fit.hole.max" */
    enum job_field field;
    enum size_outcome outcome;
    bool of_steel;                 /* steels, not numbers */
    bool found_known, range_known; /* found; found_low and found_high */
    double found, found_low, found_high; /* SI */
    const char *found_id;          /* of_steel: the best that passes */
    size_t passing_count;          /* of_steel: all that pass, best first */
    const char *passing[SIZE_PASSING_MAX];
    const char *governing;         /* check that stops it just beyond, or blocks it; NULL = none */
    double governing_utilization;
    char contradiction[SIZE_TEXT_SIZE]; /* beyond it the document contradicts itself: how; "" = it does not */
    bool practical_known;
    double practical;
    size_t sensitivity_count;
    struct sensitivity sensitivity[SENSITIVITY_MAX];
};

/* A station of an inspected part: its readings together, at 20 degC. */
struct station {
    bool has_at;
    double at_m; /* from the end */
    size_t reading_count; /* with one alone out-of-round is not known, and 0 */
    double size_min_m, size_max_m, size_mean_m, out_of_round_m;
    double to_remove_m; /* on the diameter, 0 = nothing; off the mean, or off the high side if trued up */
    bool true_up;       /* to be made round, not only brought down as it is */
    double leave_m;     /* mean size once that is off */
};

/* A cut on the lathe. */
struct turning_pass {
    const char *purpose; /* "rough", "finish" ... */
    double before_m, after_m; /* diameters */
    double depth_m;      /* on the radius */
    double dial_m;       /* travel that the cross-slide dial shows */
    double spindle_rad_s;
    double feed_m;       /* per revolution */
};

/* A cut of the slot on the mill. */
struct slot_pass {
    double depth_m; /* reached, from the surface as turned */
    double step_m;  /* this cut */
    double effective_diameter_m; /* of the cutter at that depth */
    double spindle_rad_s;
};

struct assumption {
    enum job_field at;        /* FIELD_units for the unit system */
    enum { ASSUMED_QUANTITY, ASSUMED_LIMITS, ASSUMED_WORD, ASSUMED_NOTHING } kind;
    double si;   /* the lower of two limits */
    double high; /* limits: the upper */
    enum dimension dimension;
    const char *word;
    struct message because;
};

struct next_step {
    struct message text;
    enum job_field at; /* FIELD_NONE = nowhere in particular */
    bool has_to;
    double to;         /* SI, in the dimension of the field */
};

/* Curves over the cycle, for load?trace=N; see joint_trace. */
struct trace_point {
    double crank_angle_rad, cylinder_pressure_Pa, gas_force_N, inertia_force_N, pin_load_N, side_thrust_N;
};

struct report {
    enum call call;
    enum verdict verdict;
    struct message summary;
    struct result_value result[RESULT_COUNT];
    section_set computed;   /* sections that gave at least one result or finding */
    struct finding finding[FINDING_MAX]; /* one per check, by check_row's index */
    size_t match_count;
    struct fit_match match[MATCH_MAX];
    const struct steel *chosen;
    size_t ranking_count;
    struct ranking ranking[RANKING_MAX];
    size_t metal_ranking_count;
    struct ranking metal_ranking[RANKING_MAX];
    struct size size;
    struct order order;
    size_t station_count;
    struct station station[STATION_MAX];
    size_t pass_count;
    struct turning_pass pass[PASS_MAX];
    size_t slot_pass_count;
    struct slot_pass slot_pass[PASS_MAX];
    size_t assumption_count;
    struct assumption assumption[ASSUMPTION_MAX];
    size_t next_step_count;
    struct next_step next_step[NEXT_STEP_MAX];
    size_t caution_count;
    const char *caution[CAUTION_MAX];
    const char *defect; /* our own fault (a number that is not finite), else NULL */
};

/*
 * Put a computed number into the report, the one gate that every result
 * passes: a value that is not finite is a defect of ours and is recorded as
 * such, never reported.
 */
void report_put(struct report *report, enum result result, double si);
void report_put_flag(struct report *report, enum result result, bool value);
void report_put_limits(struct report *report, enum result result, double low, double high);
void report_put_word(struct report *report, enum result result, const char *word);

/* Does a next step point at this member? */
bool report_has_step_at(const struct report *report, enum job_field at);

/* Cautions that stand in every answer, problem and table. */
const char *const *caution_always(size_t *count);

/* Cautions that go with every release record. */
const char *const *caution_of_orders(size_t *count);

#endif
