#include "base/fault.h"

#include <stdarg.h>

#include "base/text.h"

const char *
fault_code_text(enum fault_code code)
{
    switch (code) {
    case FAULT_UNKNOWN_MEMBER:
        return "unknown_member";
    case FAULT_WRONG_TYPE:
        return "wrong_type";
    case FAULT_WRONG_UNIT:
        return "wrong_unit";
    case FAULT_BAD_NUMBER:
        return "bad_number";
    case FAULT_OUT_OF_RANGE:
        return "out_of_range";
    case FAULT_CONTRADICTION:
        return "contradiction";
    case FAULT_MISSING:
        return "missing";
    case FAULT_CODE_COUNT:
        break;
    }
    return "unknown";
}

/* The entries are written when they are taken, so 30 kB need no clearing. */
void
fault_list_init(struct fault_list *list)
{
    list->count = 0;
    list->dropped = 0;
}

struct fault *
fault_add(struct fault_list *list, enum fault_code code, const char *pointer, const char *detail, ...)
{
    if (list->count >= FAULT_MAX) {
        list->dropped++;
        return NULL;
    }
    struct fault *const fault = &list->fault[list->count++];
    struct text text;
    va_list arguments;

    fault->code = code;
    /* A pointer that does not fit is cut: still the best hint at the place. */
    text_copy(fault->pointer, sizeof fault->pointer, pointer);
    text_init(&text, fault->detail, sizeof fault->detail);
    va_start(arguments, detail);
    text_format_list(&text, detail, arguments);
    va_end(arguments);
    fault->got[0] = '\0';
    fault->expected[0] = '\0';
    fault->nearest[0] = '\0';
    return fault;
}
