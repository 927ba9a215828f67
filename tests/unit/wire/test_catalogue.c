#include "ask.h"

#include "joint/check.h"
#include "wire/catalogue_write.h"

static json_t *
table(const char *name, const char *id, int status)
{
    struct reply reply;
    assert_true(answer_table(name, id, &reply));
    assert_int_equal(reply.status, status);
    return reply_json(&reply);
}

static void
every_table_has_its_rows_and_cautions(void **state)
{
    (void)state;
    static const char *const tables[][2] = {{"steels", "steels"}, {"bearing-metals", "bearing_metals"},
                                            {"bolts", "bolts"},   {"fit-classes", "fit_classes"},
                                            {"units", "units"},   {"sources", "sources"},
                                            {"checks", "checks"}, {"problems", "problems"}};
    assert_int_equal(catalogue_count(), sizeof tables / sizeof tables[0]);
    for (size_t i = 0; i < catalogue_count(); i++) {
        json_t *root = table(tables[i][0], NULL, 200);
        assert_int_equal(json_object_size(root), 2);
        assert_true(json_array_size(json_object_get(root, tables[i][1])) > 3);
        assert_true(json_array_size(json_object_get(root, "cautions")) > 0);
        json_decref(root);
    }
}

static void
every_row_has_an_id_of_its_own_and_is_found_by_it(void **state)
{
    (void)state;
    for (size_t t = 0; t < catalogue_count(); t++) {
        const struct catalogue *catalogue = catalogue_at(t);
        json_t *root = table(catalogue->name, NULL, 200);
        json_t *rows = json_object_get(root, catalogue->member);
        assert_int_equal(json_array_size(rows), catalogue->count());
        for (size_t i = 0; i < json_array_size(rows); i++) {
            json_t *row = json_array_get(rows, i);
            const char *id = look_text(row, "/id");
            assert_ptr_equal(entry_of(rows, id), row);
            json_t *single = table(catalogue->name, id, 200);
            assert_true(json_array_size(look(single, "/cautions")) > 0);
            json_object_del(single, "cautions");
            assert_true(json_equal(single, row));
            json_decref(single);
        }
        json_decref(root);
    }
}

/* ASTM A434-04 table 1, class BC: 125/105 ksi over 1 1/2 in, 115/95 over 2 1/2. */
static void
a_heat_treated_steel_shows_what_thicker_bar_has(void **state)
{
    (void)state;
    const double ksi_MPa = 6.894757293168361;
    json_t *row = table("steels", "4140-bc", 200);

    assert_int_equal(json_array_size(look(row, "/thicker_bar")), 2);
    assert_close(look_number(row, "/thicker_bar/0/diameter_over/value"), 38.1, 1e-6);
    assert_close(look_number(row, "/thicker_bar/0/tensile/value"), 125.0 * ksi_MPa, 1e-6);
    assert_close(look_number(row, "/thicker_bar/1/diameter_over/value"), 63.5, 1e-6);
    assert_close(look_number(row, "/thicker_bar/1/yield/value"), 95.0 * ksi_MPa, 1e-6);
    assert_string_equal(look_text(row, "/thicker_bar/1/source"), "A434");
    json_decref(row);
    row = table("steels", "1045-cd", 200);
    assert_null(json_object_get(row, "thicker_bar"));
    json_decref(row);
}

/* Every figure has a value, a unit, and how it was obtained. */
static void
check_figures(json_t *row)
{
    const char *key;
    json_t *value;
    json_object_foreach(row, key, value)
    {
        if (json_is_object(value) && json_object_get(value, "value") != NULL) {
            assert_true(json_is_number(look(value, "/value")));
            assert_non_null(look_text(value, "/unit"));
            assert_non_null(look_text(value, "/obtained"));
        }
    }
}

static void
every_figure_says_where_it_comes_from(void **state)
{
    (void)state;
    static const char *const tables[][2] = {{"steels", "steels"}, {"bearing-metals", "bearing_metals"}};
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        json_t *root = table(tables[t][0], NULL, 200);
        json_t *rows = json_object_get(root, tables[t][1]);
        for (size_t i = 0; i < json_array_size(rows); i++) {
            check_figures(json_array_get(rows, i));
        }
        json_decref(root);
    }
}

/* 12L14 cold drawn: 70 and 60 ksi (bar stockholder's sheets, read); 1 ksi =
 * 6.894757293168361 MPa, exact. */
static void
a_steel_is_found_by_its_grade_and_in_any_case(void **state)
{
    (void)state;
    json_t *root = table("steels", "12l14", 200);
    assert_string_equal(look_text(root, "/grade"), "12L14");
    assert_string_equal(look_text(root, "/tensile/unit"), "MPa");
    assert_close(look_number(root, "/tensile/value"), 482.6330, 1e-6);
    assert_close(look_number(root, "/yield/value"), 413.6854, 1e-6);
    json_decref(root);
    root = table("bolts", "sae 5", 200);
    assert_string_equal(look_text(root, "/id"), "SAE 5");
    json_decref(root);
}

static void
an_unknown_id_is_a_404_with_the_nearest(void **state)
{
    (void)state;
    json_t *root = table("bearing-metals", "c93300", 404);
    assert_string_equal(look_text(root, "/type"), "/v1/problems/not-found");
    assert_string_equal(look_text(root, "/instance"), "/v1/bearing-metals/c93300");
    assert_non_null(strstr(look_text(root, "/detail"), "c93200"));
    json_decref(root);
    struct reply reply;
    assert_false(answer_table("pistons", NULL, &reply));
}

/* "h7" is a shaft's class, "H7" a hole's. ISO 286, over 30 to 50 mm, IT7 is 25
 * um (read). */
static void
a_class_is_served_as_it_stands(void **state)
{
    (void)state;
    json_t *root = table("fit-classes", "h7", 200);
    assert_string_equal(look_text(root, "/side"), "shaft");
    json_decref(root);
    root = table("fit-classes", "H7", 200);
    assert_string_equal(look_text(root, "/side"), "hole");
    bool found = false;
    json_t *steps = look(root, "/steps");
    for (size_t i = 0; i < json_array_size(steps); i++) {
        json_t *step = json_array_get(steps, i);
        if (look_number(step, "/over") <= 38.0 && look_number(step, "/to") >= 38.0) {
            assert_close(look_number(step, "/hole_upper"), 25.0, 1e-9);
            assert_close_or(look_number(step, "/hole_lower"), 0.0, 0.0, 1e-9);
            found = true;
        }
    }
    assert_true(found);
    json_decref(root);
}

/* The international inch is 25.4 mm, the pound-force 4.4482216152605 N, both
 * exact: the table gives them to the last digit. */
static void
factors_of_units_are_exact(void **state)
{
    (void)state;
    json_t *root = table("units", "in", 200);
    assert_true(look_number(root, "/factor") == 0.0254);
    assert_string_equal(look_text(root, "/ucum"), "[in_i]");
    json_decref(root);
    root = table("units", "lbf", 200);
    assert_true(look_number(root, "/factor") == 4.4482216152605);
    json_decref(root);
}

static void
a_check_says_what_moves_its_limit(void **state)
{
    (void)state;
    json_t *root = table("checks", "boss_pressure", 200);
    assert_string_equal(look_text(root, "/override"), "/limits/boss_pressure");
    assert_string_equal(look_text(root, "/units/inch"), "psi");
    assert_string_equal(look_text(root, "/units/metric"), "MPa");
    assert_string_equal(look_text(root, "/sense"), "at_most");
    assert_true(json_array_size(look(root, "/reads")) > 3);
    assert_true(json_array_size(look(root, "/needs_one_of_each")) > 1);
    assert_non_null(look_text(root, "/asks"));
    assert_non_null(look_text(root, "/limit_rule"));
    json_decref(root);
}

static void
the_index_lists_every_call_and_table(void **state)
{
    (void)state;
    struct reply reply;
    answer_index(ANSWER_JSON, &reply);
    assert_int_equal(reply.status, 200);
    json_t *root = reply_json(&reply);
    assert_int_equal(json_array_size(look(root, "/calls")), CALL_COUNT + 2); /* and batch and verify */
    assert_string_equal(look_text(entry_of(look(root, "/calls"), "verify"), "/href"), "/v1/order/verify");
    assert_int_equal(json_array_size(look(root, "/tables")), catalogue_count());
    assert_string_equal(look_text(entry_of(look(root, "/calls"), "set_screw"), "/href"), "/v1/set-screw");
    assert_string_equal(look_text(root, "/service/name"), "smallend");
    assert_true(json_array_size(look(root, "/cautions")) > 0);
    json_decref(root);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_heat_treated_steel_shows_what_thicker_bar_has),
        cmocka_unit_test(every_table_has_its_rows_and_cautions),
        cmocka_unit_test(every_row_has_an_id_of_its_own_and_is_found_by_it),
        cmocka_unit_test(every_figure_says_where_it_comes_from),
        cmocka_unit_test(a_steel_is_found_by_its_grade_and_in_any_case),
        cmocka_unit_test(an_unknown_id_is_a_404_with_the_nearest),
        cmocka_unit_test(a_class_is_served_as_it_stands),
        cmocka_unit_test(factors_of_units_are_exact),
        cmocka_unit_test(a_check_says_what_moves_its_limit),
        cmocka_unit_test(the_index_lists_every_call_and_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
