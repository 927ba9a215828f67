#ifndef SMALLEND_BASE_FAULT_H
#define SMALLEND_BASE_FAULT_H

/*
 * What is wrong with a client's document: a bounded list, so that all faults
 * are told at once and a hostile document cannot make it grow.
 */

#include <stddef.h>

enum fault_code {
    FAULT_UNKNOWN_MEMBER, /* the document does not define this name */
    FAULT_WRONG_TYPE,     /* an object where a quantity belongs, ... */
    FAULT_WRONG_UNIT,     /* not a unit, or of another dimension */
    FAULT_BAD_NUMBER,     /* text that is no number */
    FAULT_OUT_OF_RANGE,   /* a number outside what the member takes */
    FAULT_CONTRADICTION,  /* two members that cannot both hold */
    FAULT_MISSING,        /* a mandatory member is absent */
    FAULT_CODE_COUNT
};

/* The code as it stands on the wire, for example "unknown_member". */
const char *fault_code_text(enum fault_code code);

enum {
    FAULT_MAX = 40,
    FAULT_POINTER_SIZE = 160,
    FAULT_TEXT_SIZE = 240,
    FAULT_SHORT_SIZE = 64
};

struct fault {
    enum fault_code code;
    char pointer[FAULT_POINTER_SIZE]; /* JSON pointer, "/engine/bore" */
    char detail[FAULT_TEXT_SIZE];     /* a plain sentence */
    char got[FAULT_SHORT_SIZE];       /* "" = not given */
    char expected[FAULT_TEXT_SIZE];   /* "" = not given */
    char nearest[FAULT_SHORT_SIZE];   /* "" = none near enough */
};

struct fault_list {
    size_t count;
    size_t dropped; /* found beyond FAULT_MAX */
    struct fault fault[FAULT_MAX];
};

void fault_list_init(struct fault_list *list);

/*
 * Add a fault and return it so that got, expected and nearest can be filled;
 * detail is a printf format. Beyond FAULT_MAX the fault is counted as dropped
 * and a scratch entry (the last one) must not be touched: NULL is returned.
 */
struct fault *fault_add(struct fault_list *list, enum fault_code code, const char *pointer, const char *detail, ...)
    __attribute__((format(printf, 4, 5)));

#endif
