#include "joint/machining.h"

#include "joint/name.h"
#include "joint/printed.h"

/* Depths of cut of the three columns. */
static const double depths_m[MACHINING_DEPTHS] = {0.040 * SI_PER_INCH, 0.150 * SI_PER_INCH, 0.300 * SI_PER_INCH};

/* clang-format off */
static const struct machining_row rows[] = {
#define MACHINED(grade, family)
#define CUT(family_, material_, from, to, h1, h2, h3, c1, c2, c3, how, key, text)                                      \
    {.family = MACHINING_##family_, .material = material_ ", of " #from " to " #to " HB", .from_HB = (from),           \
     .to_HB = (to), .hss_m_s = {(h1) * SI_PER_FT_MIN, (h2) * SI_PER_FT_MIN, (h3) * SI_PER_FT_MIN},                     \
     .carbide_m_s = {(c1) * SI_PER_FT_MIN, (c2) * SI_PER_FT_MIN, (c3) * SI_PER_FT_MIN},                                \
     .provenance = PROVENANCE_##how, .source = (key), .note = (text)},
#include "joint/machining.def"
};

static const struct {
    const char *grade;
    enum machining_family family;
} grades[] = {
#define MACHINED(grade, family) {grade, MACHINING_##family},
#define CUT(family, material, from, to, h1, h2, h3, c1, c2, c3, how, key, text)
#include "joint/machining.def"
};
/* clang-format on */

enum { ROW_COUNT = sizeof rows / sizeof rows[0], GRADE_COUNT = sizeof grades / sizeof grades[0] };

/* Brinell number of steel from its tensile strength [SAE J413 and others give
 * 0.5 ksi, 3.45 MPa, per HB; it holds within 7 % in steel.def]. */
static const double tensile_Pa_per_HB = 3.45e6;

const struct machining_row *
machining_table(size_t *count)
{
    *count = ROW_COUNT;
    return rows;
}

static enum machining_family
family_of(const struct steel *steel)
{
    for (size_t i = 0; i < GRADE_COUNT && steel->grade != NULL; i++) {
        if (name_same(grades[i].grade, steel->grade)) {
            return grades[i].family;
        }
    }
    return MACHINING_ALLOY;
}

/* Hardness of the bar, the middle of a range; 0 where nothing tells it. */
static double
bar_hardness_HB(const struct steel *steel)
{
    if (steel->hardness_hb.given) {
        return (steel->hardness_hb.si + steel->hardness_hb.si_high) / 2.0;
    }
    if (steel->hardness_hrc.given) {
        return hardness_HB_from_HRC(steel->hardness_hrc.si);
    }
    return steel->tensile.given ? steel->tensile.si / tensile_Pa_per_HB : 0.0;
}

static const struct machining_row *
row_of(enum machining_family family, double hardness_HB)
{
    const struct machining_row *row = NULL;

    for (size_t i = 0; i < ROW_COUNT; i++) {
        if (rows[i].family == family) {
            row = &rows[i];
            if (hardness_HB <= row->to_HB) {
                break;
            }
        }
    }
    return row;
}

static double
cell_m_s(const double speed_m_s[MACHINING_DEPTHS], double depth_m)
{
    size_t column = 0;

    /* 1e-9: a depth of just the column's belongs to it */
    while (column + 1 < MACHINING_DEPTHS && depth_m > depths_m[column] * (1.0 + 1e-9)) {
        column++;
    }
    for (size_t deeper = column; deeper < MACHINING_DEPTHS; deeper++) {
        if (speed_m_s[deeper] > 0.0) {
            return speed_m_s[deeper];
        }
    }
    while (column > 0 && speed_m_s[column] <= 0.0) {
        column--;
    }
    return speed_m_s[column];
}

bool
machining_find(const struct steel *steel, enum choice_tool tool, double depth_m, struct machining *machining)
{
    const double hardness_HB = bar_hardness_HB(steel);
    const bool soft = steel->case_hardened || hardness_HB > MACHINING_HARDEST_HB;

    if (!soft && hardness_HB <= 0.0) {
        return false;
    }
    machining->row = row_of(family_of(steel), soft ? 0.0 : hardness_HB);
    if (machining->row == NULL) {
        return false;
    }
    machining->before_hardening = soft;
    machining->speed_m_s =
        cell_m_s(tool == CHOICE_tool_CARBIDE ? machining->row->carbide_m_s : machining->row->hss_m_s, depth_m);
    return machining->speed_m_s > 0.0;
}
