#ifndef SMALLEND_WIRE_BATCH_MEMBER_H
#define SMALLEND_WIRE_BATCH_MEMBER_H

/* The members of the few objects that a batch wraps around its jobs. */

#include "base/fault.h"
#include "wire/answer.h"
#include "wire/json_outline.h"

/* What an object may hold. */
struct batch_names {
    const char *const *name; /* at most 8 */
    size_t count;
};

/*
 * Find the members of `object`, which stands at `pointer`: found[i] is the one
 * called names->name[i], its length 0 where it is absent or null. Others become
 * faults. False, and the reply filled, where a known one stands twice (whether an
 * unknown one does is not asked, for it is refused as it is) or memory ran out.
 */
bool batch_member_find(const struct json_part *object, const char *pointer, const struct batch_names *names,
                       const char *path, struct json_part *found, struct fault_list *faults, struct reply *reply);

#endif
