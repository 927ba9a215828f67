#ifndef SMALLEND_JOINT_PRINTED_H
#define SMALLEND_JOINT_PRINTED_H

/*
 * Figures as their sources print them. The .def tables of this folder hold
 * handbook units; the macros here are the one place that turns them into SI,
 * and test_material.c holds them against unit.def. They are macros because the
 * tables are constants: no code runs to fill them.
 *
 * In a table a figure is written
 *   READ(64, "A20")                 the source was open when it was entered
 *   READ_NOTED(60, "B505", "note")  the same, with a note
 *   READ_RANGE(269, 331, "BS970", "note")  a range, low end first
 *   MEMORY, MEMORY_NOTED, MEMORY_RANGE     from memory of the source named
 *   DERIVED(value, "note")          worked out from other figures of the row
 *   JUDGED(value, "note")           our own judgement, no publication
 *   NONE, NONE_NOTED("note")        no figure is known
 * and its column says the unit by FIGURE(scale, ...).
 */

#include "joint/material.h"

#define SI_PER_INCH 0.0254
#define SI_PER_MM 1e-3
#define SI_PER_UM 1e-6
#define SI_PER_THOU (1e-3 * SI_PER_INCH)
#define SI_PER_LBF 4.4482216152605
#define SI_PER_LBF_IN (SI_PER_LBF * SI_PER_INCH)
#define SI_PER_PSI (SI_PER_LBF / (SI_PER_INCH * SI_PER_INCH))
#define SI_PER_KSI (1e3 * SI_PER_PSI)
#define SI_PER_MPA 1e6
#define SI_PER_GPA 1e9
#define SI_PER_FT_MIN (12.0 * SI_PER_INCH / 60.0)
#define SI_PER_PSI_FT_MIN (SI_PER_PSI * SI_PER_FT_MIN)
#define SI_PER_PERCENT 1e-2
#define SI_PER_UM_M_K 1e-6
#define DEGC_PER_DEGF (1.0 / 1.8)
#define DEGC_AT_0_DEGF (-32.0 / 1.8)

/* A stress that its source prints in MPa, for a column of ksi or of psi. */
#define MPA(value) ((value) * (SI_PER_MPA / SI_PER_KSI))
#define MPA_IN_PSI(value) ((value) * (SI_PER_MPA / SI_PER_PSI))

#define READ(value, key) READ_RANGE(value, value, key, "")
#define READ_NOTED(value, key, note) READ_RANGE(value, value, key, note)
#define READ_RANGE(low, high, key, note) true, low, high, PROVENANCE_READ, key, note
#define MEMORY(value, key) MEMORY_RANGE(value, value, key, "")
#define MEMORY_NOTED(value, key, note) MEMORY_RANGE(value, value, key, note)
#define MEMORY_RANGE(low, high, key, note) true, low, high, PROVENANCE_MEMORY, key, note
#define DERIVED(value, note) true, value, value, PROVENANCE_DERIVED, "OWN", note
#define JUDGED(value, note) true, value, value, PROVENANCE_JUDGEMENT, "OWN", note
#define NONE NONE_NOTED("")
#define NONE_NOTED(note) false, 0.0, 0.0, PROVENANCE_JUDGEMENT, "", note

#define FIGURE(scale, ...) FIGURE_AFFINE(scale, 0.0, __VA_ARGS__)
#define FIGURE_AFFINE(scale, offset, ...) FIGURE_OF(scale, offset, __VA_ARGS__)
#define FIGURE_OF(scale, offset, known, low, high, how, key, text)                                                     \
    {                                                                                                                  \
        .given = (known), .si = (known) ? (low) * (scale) + (offset) : 0.0,                                            \
        .si_high = (known) ? (high) * (scale) + (offset) : 0.0, .provenance = (how), .source = (key), .note = (text)   \
    }

#endif
