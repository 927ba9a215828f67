#ifndef SMALLEND_JOINT_MACHINING_H
#define SMALLEND_JOINT_MACHINING_H

/* Cutting speeds by steel, hardness, tool and depth: machining.def. */

#include <stdbool.h>
#include <stddef.h>

#include "joint/job.h"
#include "joint/material.h"

/* Steels that cut alike. */
enum machining_family {
    MACHINING_LOW_CARBON,
    MACHINING_MEDIUM_CARBON,
    MACHINING_FREE_LOW_CARBON,
    MACHINING_FREE_MEDIUM_CARBON,
    MACHINING_FREE_CUTTING,
    MACHINING_ALLOY,
    MACHINING_CASE_ALLOY,
    MACHINING_HIGH_CARBON,
    MACHINING_OIL_TOOL,
    MACHINING_FREE_STAINLESS,
    MACHINING_AGED_STAINLESS,
    MACHINING_BEARING,
    MACHINING_FAMILY_COUNT
};

enum { MACHINING_DEPTHS = 3 };

/* One row: speeds in m/s by depth of cut, 0 where none is known. */
struct machining_row {
    enum machining_family family;
    const char *material; /* "low carbon alloy steel, 8620, of 175 to 225 HB" */
    double from_HB, to_HB;
    double hss_m_s[MACHINING_DEPTHS];
    double carbide_m_s[MACHINING_DEPTHS];
    enum provenance provenance;
    const char *source; /* key in source.def */
    const char *note;   /* table in the source, what was rejected */
};
const struct machining_row *machining_table(size_t *count);

/* Harder than this a steel is ground, not turned (judgement: about 45 HRC,
 * where printed turning speeds of high-speed steel end). */
#define MACHINING_HARDEST_HB 425.0

struct machining {
    const struct machining_row *row;
    double speed_m_s;      /* as printed, for a production lathe */
    bool before_hardening; /* the steel is hardened later: the row is for its soft state */
};

/*
 * The speed for cuts up to this depth: the column of the next greater depth,
 * the deepest beyond all; a cell that is empty gives way to the next deeper one,
 * or else to the shallower. Hardness picks the row: the first band that reaches
 * it, the hardest beyond all. Case-hardened steel and steel harder than
 * MACHINING_HARDEST_HB are turned soft: the first row of the family. A steel by
 * figures of one's own is taken as alloy steel of its hardness, or of the
 * hardness that its tensile strength tells (HB = MPa / 3.45). False where there
 * is nothing to go by.
 */
bool machining_find(const struct steel *steel, enum choice_tool tool, double depth_m, struct machining *machining)
    __attribute__((warn_unused_result));

#endif
