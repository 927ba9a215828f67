#include "support/close.h"

#include <ctype.h>
#include <string.h>

#include "joint/machining.h"
#include "joint/fit.h"
#include "joint/material.h"
#include "joint/name.h"
#include "joint/thread.h"

/* The tables of materials and sources test themselves. */

static const double KSI_Pa = 6894757.293168361; /* 1000 lbf/in2, exact definitions */

static void
is_an_id(const char *id)
{
    assert_non_null(id);
    assert_true(id[0] != '\0');
    for (; *id != '\0'; id++) {
        assert_true(islower((unsigned char)*id) || isdigit((unsigned char)*id) || *id == '-' || *id == '_');
    }
}

static void
is_a_sentence(const char *text)
{
    assert_non_null(text);
    if (text[0] != '\0') {
        assert_true(text[0] != ' ' && text[strlen(text) - 1] != ' ');
    }
}

/* A figure that is given has a source that exists and lies in the range. */
static void
is_a_figure(const char *id, const char *what, const struct figure *figure, double low, double high)
{
    is_a_sentence(figure->note);
    assert_non_null(figure->source);
    if (!figure->given) {
        assert_true(figure->si == 0.0 && figure->si_high == 0.0);
        return;
    }
    if (source_find(figure->source) == NULL) {
        fail_msg("%s, %s: no source %s", id, what, figure->source);
    }
    if (!(figure->si >= low && figure->si_high <= high && figure->si <= figure->si_high)) {
        fail_msg("%s, %s: %g to %g is outside %g to %g", id, what, figure->si, figure->si_high, low, high);
    }
    if (figure->provenance == PROVENANCE_JUDGEMENT || figure->provenance == PROVENANCE_DERIVED) {
        assert_true(figure->note[0] != '\0'); /* what it rests on */
    }
}

static void
every_steel_is_complete_and_plausible(void **state)
{
    (void)state;
    size_t count;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        const struct steel *row = &table[i];

        is_an_id(row->id);
        is_a_figure(row->id, "tensile", &row->tensile, 350e6, 2400e6);
        is_a_figure(row->id, "yield", &row->yield, 200e6, 2200e6);
        is_a_figure(row->id, "elongation", &row->elongation, 0.01, 0.40);
        is_a_figure(row->id, "Brinell", &row->hardness_hb, 100, 450);
        is_a_figure(row->id, "Rockwell C", &row->hardness_hrc, 15, 66);
        is_a_figure(row->id, "modulus", &row->modulus, 190e9, 215e9);
        is_a_figure(row->id, "density", &row->density, 7700, 7900);
        is_a_figure(row->id, "expansion", &row->expansion, 9.5e-6, 13e-6);
        is_a_figure(row->id, "machinability", &row->machinability, 0.30, 2.0);
        assert_true(row->modulus.given && row->density.given && row->expansion.given);
        assert_true(row->hardness_hb.given || row->hardness_hrc.given);
        if (row->yield.given) {
            assert_true(row->tensile.given && row->yield.si < row->tensile.si);
        }
        if (row->case_hardened) {
            assert_true(row->hardness_hrc.given); /* the case */
        }
        if (row->slot != SLOT_SUITS) {
            assert_true(row->note[0] != '\0'); /* the care it needs, or why not */
        }
    }
}

static void
every_steel_is_described(void **state)
{
    (void)state;
    size_t count;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        const struct steel *row = &table[i];
        const char *const words[] = {row->grade,       row->condition,       row->uns,         row->basis_text,
                                     row->hardening,   row->welding,         row->bronze_wear, row->note,
                                     row->designation, row->near_equivalent, row->bar_sizes,   row->pin_note};

        for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
            is_a_sentence(words[k]);
            assert_true(words[k][0] != '\0');
        }
        is_a_sentence(row->other_values);
    }
}

static void
holds_at_least_eighteen_grades_and_thirty_conditions(void **state)
{
    (void)state;
    size_t count, usual = 0;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        usual += table[i].usual;
    }
    assert_true(count >= 30);
    assert_true(usual >= 18); /* one for each grade, see the next test */
}

static void
every_grade_has_one_usual_condition(void **state)
{
    (void)state;
    size_t count;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        size_t same = 0, usual = 0;

        for (size_t k = 0; k < count; k++) {
            same += name_same(table[i].id, table[k].id);
            usual += name_same(table[i].grade, table[k].grade) && table[k].usual;
        }
        assert_int_equal(same, 1);
        assert_int_equal(usual, 1);
    }
}

/* Shigley eq. 2-21, from memory: tensile strength is 0.5 ksi per Brinell
 * number; 15 % allowed about the range printed. */
static void
tensile_strength_follows_from_hardness(void **state)
{
    (void)state;
    size_t count, tried = 0;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        const double low_Pa = 0.5 * table[i].hardness_hb.si * KSI_Pa;
        const double high_Pa = 0.5 * table[i].hardness_hb.si_high * KSI_Pa;

        if (table[i].tensile.given && table[i].hardness_hb.given) {
            tried++;
            if (!(table[i].tensile.si > 0.85 * low_Pa && table[i].tensile.si < 1.15 * high_Pa)) {
                fail_msg("%s: %g MPa does not go with its hardness", table[i].id, table[i].tensile.si / 1e6);
            }
        }
    }
    assert_true(tried >= 25);
}

/* Where a row has both scales for one material they are a pair of E140, 6 %
 * allowed: the sources round. Below 20 HRC the scale does not reach. */
static void
both_hardness_scales_agree(void **state)
{
    (void)state;
    size_t count, tried = 0;
    const struct steel *table = steel_table(&count);

    for (size_t i = 0; i < count; i++) {
        if (!table[i].case_hardened && table[i].hardness_hb.given && table[i].hardness_hrc.given &&
            table[i].hardness_hrc.si >= 20.0) {
            tried++;
            assert_close(table[i].hardness_hb.si, hardness_HB_from_HRC(table[i].hardness_hrc.si), 0.06);
        }
    }
    assert_true(tried >= 6);
}

static void
every_metal_is_complete_and_plausible(void **state)
{
    (void)state;
    size_t bearings, structurals;
    const struct metal *const table[2] = {bearing_metal_table(&bearings), structural_metal_table(&structurals)};

    assert_true(bearings >= 12);
    for (size_t i = 0; i < bearings + structurals; i++) {
        const struct metal *row = i < bearings ? &table[0][i] : &table[1][i - bearings];

        is_an_id(row->id);
        assert_ptr_equal(metal_find(row->id), row); /* so it is unique over both tables */
        is_a_figure(row->id, "tensile", &row->tensile, 100e6, 800e6);
        is_a_figure(row->id, "yield", &row->yield, 20e6, 450e6);
        is_a_figure(row->id, "elongation", &row->elongation, 0.05, 0.30);
        is_a_figure(row->id, "Brinell", &row->hardness_hb, 10, 250);
        is_a_figure(row->id, "modulus", &row->modulus, 20e9, 210e9);
        is_a_figure(row->id, "Poisson's ratio", &row->poisson, 0.2, 0.45);
        is_a_figure(row->id, "density", &row->density, 2500, 11000);
        is_a_figure(row->id, "expansion", &row->expansion, 10e-6, 30e-6);
        is_a_figure(row->id, "pressure", &row->pressure_max, 3e6, 60e6);
        is_a_figure(row->id, "velocity", &row->velocity_max, 1.0, 6.0);
        is_a_figure(row->id, "PV", &row->pv_max, 0.5e6, 6e6);
        is_a_figure(row->id, "temperature", &row->temperature_max, 100, 400);
        is_a_figure(row->id, "journal hardness", &row->shaft_hardness_min, 130, 500);
        assert_true(row->modulus.given && row->poisson.given && row->density.given && row->expansion.given);
        if (row->tensile.given && row->yield.given) {
            assert_true(row->yield.si <= row->tensile.si); /* equal for grey iron: no yield point */
        }
        if (row->bearing) {
            assert_true(row->pressure_max.given && row->yield.given && row->note[0] != '\0');
        }
        is_a_sentence(row->name);
        is_a_sentence(row->form);
        is_a_sentence(row->designation);
        is_a_sentence(row->near_equivalent);
        is_a_sentence(row->note);
        assert_true(metal_kind_text(row->kind)[0] != '\0');
    }
}

/* ---- sources ---- */

/* `key` stands in `text` as a word of its own. */
static bool
mentions(const char *text, const char *key)
{
    const char *at = text;

    while ((at = strstr(at, key)) != NULL) {
        const char after = at[strlen(key)];

        if ((at == text || !isalnum((unsigned char)at[-1])) && !isalnum((unsigned char)after)) {
            return true;
        }
        at++;
    }
    return false;
}

static bool
rests_on(const struct figure *figure, const char *key)
{
    return (figure->given && strcmp(figure->source, key) == 0) || mentions(figure->note, key);
}

static bool
used_by_steels(const char *key)
{
    size_t count;
    const struct steel *row = steel_table(&count);

    for (size_t i = 0; i < count; i++, row++) {
        if (rests_on(&row->tensile, key) || rests_on(&row->yield, key) || rests_on(&row->elongation, key) ||
            rests_on(&row->hardness_hb, key) || rests_on(&row->hardness_hrc, key) || rests_on(&row->modulus, key) ||
            rests_on(&row->density, key) || rests_on(&row->expansion, key) || rests_on(&row->machinability, key) ||
            mentions(row->other_values, key)) {
            return true;
        }
    }
    return false;
}

static bool
used_by_metals(const struct metal *row, size_t count, const char *key)
{
    for (size_t i = 0; i < count; i++, row++) {
        if (rests_on(&row->tensile, key) || rests_on(&row->yield, key) || rests_on(&row->elongation, key) ||
            rests_on(&row->hardness_hb, key) || rests_on(&row->modulus, key) || rests_on(&row->poisson, key) ||
            rests_on(&row->density, key) || rests_on(&row->expansion, key) || rests_on(&row->pressure_max, key) ||
            rests_on(&row->velocity_max, key) || rests_on(&row->pv_max, key) || rests_on(&row->temperature_max, key) ||
            rests_on(&row->shaft_hardness_min, key)) {
            return true;
        }
    }
    return false;
}

static bool
used_by_fasteners_and_fits(const char *key)
{
    size_t count;
    const struct bolt_grade *bolts = bolt_grade_table(&count);

    for (size_t i = 0; i < count; i++) {
        if (strcmp(bolts[i].source, key) == 0) {
            return true;
        }
    }
    const struct screw_hold *holds = screw_hold_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(holds[i].source, key) == 0 || mentions(holds[i].note, key)) {
            return true;
        }
    }
    const struct screw_point *points = screw_point_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(points[i].source, key) == 0) {
            return true;
        }
    }
    const struct fit_class *fits = fit_class_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(fits[i].source, key) == 0) {
            return true;
        }
    }
    return false;
}

static bool
used_by_machining(const char *key)
{
    size_t count;
    const struct machining_row *table = machining_table(&count);

    for (size_t i = 0; i < count; i++) {
        if (strcmp(table[i].source, key) == 0) {
            return true;
        }
    }
    return false;
}

static void
every_source_is_used(void **state)
{
    (void)state;
    size_t count, bearings, structurals;
    const struct source *table = source_table(&count);
    const struct metal *bearing = bearing_metal_table(&bearings), *structural = structural_metal_table(&structurals);

    for (size_t i = 0; i < count; i++) {
        const char *key = table[i].key;

        assert_ptr_equal(source_find(key), &table[i]); /* so it is unique */
        is_a_sentence(table[i].citation);
        assert_true(table[i].citation[0] != '\0');
        if (!used_by_steels(key) && !used_by_metals(bearing, bearings, key) &&
            !used_by_metals(structural, structurals, key) && !used_by_fasteners_and_fits(key) && !used_by_machining(key)) {
            fail_msg("source %s is not used", key);
        }
    }
    assert_null(source_find("NOBODY"));
}

/* Sources from memory, A311 A564 J1397 ASM CARB GEN A24 SHIGLEY7 B41: when one
 * has been read, mark it and lower the number; it must not rise. */
static void
remembered_sources_only_shrink(void **state)
{
    (void)state;
    size_t count, remembered = 0;
    const struct source *table = source_table(&count);

    for (size_t i = 0; i < count; i++) {
        remembered += table[i].provenance == PROVENANCE_MEMORY;
    }
    assert_true(remembered <= 9);
}

/* A figure read can not come from a source that nobody had open. */
static void
no_figure_is_read_from_a_remembered_source(void **state)
{
    (void)state;
    size_t count;
    const struct steel *row = steel_table(&count);

    for (size_t i = 0; i < count; i++, row++) {
        const struct figure *const figures[] = {&row->tensile,     &row->yield,        &row->elongation,
                                                &row->hardness_hb, &row->hardness_hrc, &row->modulus,
                                                &row->density,     &row->expansion,    &row->machinability};

        for (size_t k = 0; k < sizeof figures / sizeof figures[0]; k++) {
            if (figures[k]->given && figures[k]->provenance == PROVENANCE_READ) {
                assert_int_equal(source_find(figures[k]->source)->provenance, PROVENANCE_READ);
            }
        }
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_steel_is_complete_and_plausible),
        cmocka_unit_test(every_steel_is_described),
        cmocka_unit_test(holds_at_least_eighteen_grades_and_thirty_conditions),
        cmocka_unit_test(every_grade_has_one_usual_condition),
        cmocka_unit_test(tensile_strength_follows_from_hardness),
        cmocka_unit_test(both_hardness_scales_agree),
        cmocka_unit_test(every_metal_is_complete_and_plausible),
        cmocka_unit_test(every_source_is_used),
        cmocka_unit_test(remembered_sources_only_shrink),
        cmocka_unit_test(no_figure_is_read_from_a_remembered_source),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
