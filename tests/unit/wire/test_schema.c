/* The schemas are printed from the tables: what the tables hold must stand in them. Whether real answers meet them is
 * the business of tests/contract. */

#include "ask.h"

#include "joint/check.h"
#include "quantity/quantity.h"
#include "wire/material_write.h"
#include "wire/schema.h"
#include "wire/schema_quantity.h"

static json_t *
schema(const char *name)
{
    struct buffer out;
    json_error_t error;
    buffer_init(&out);
    assert_true(schema_write(&out, name));
    assert_false(out.failed);
    json_t *root = json_loadb(out.at, out.length, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL) {
        fail_msg("schema %s is not JSON: %s, line %d", name, error.text, error.line);
    }
    buffer_clear(&out);
    return root;
}

static void
prints_every_schema_it_names(void **state)
{
    (void)state;
    size_t count = 0;
    for (; schema_name(count) != NULL; count++) {
        json_t *root = schema(schema_name(count));
        assert_string_equal(look_text(root, "/$schema"), "https://json-schema.org/draft/2020-12/schema");
        assert_true(json_object_size(look(root, "/$defs")) > 0);
        json_decref(root);
    }
    assert_int_equal(count, 5);
}

static void
knows_no_other_schema(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    assert_false(schema_write(&out, "jobs"));
    assert_false(schema_write(&out, ""));
    assert_null(out.at);
}

/* Every "$ref" within `value` must lead to a definition. */
static void
assert_resolves(json_t *value, json_t *definitions)
{
    const char *key;
    json_t *member;
    size_t index;
    json_array_foreach(value, index, member)
    {
        assert_resolves(member, definitions);
    }
    json_object_foreach(value, key, member)
    {
        if (strcmp(key, "$ref") == 0) {
            const char *name = json_string_value(member);
            assert_memory_equal(name, "#/$defs/", 8);
            if (json_object_get(definitions, name + 8) == NULL) {
                fail_msg("there is no %s", name);
            }
        }
        assert_resolves(member, definitions);
    }
}

static void
each_schema_stands_on_its_own(void **state)
{
    (void)state;
    for (size_t i = 0; schema_name(i) != NULL; i++) {
        json_t *root = schema(schema_name(i));
        assert_resolves(root, look(root, "/$defs"));
        json_decref(root);
    }
}

/* The definition of the group that holds the field: JobClampBolt of clamp_bolt. */
static json_t *
members_of(json_t *root, enum job_group group)
{
    char name[SCHEMA_NAME_SIZE];
    schema_camel(name, "Job", job_group_row(group)->name, "");
    json_t *definition = json_object_get(look(root, "/$defs"), name);
    assert_true(json_is_false(json_object_get(definition, "additionalProperties")));
    return json_object_get(definition, "properties");
}

static void
the_job_has_every_member_with_its_meaning_and_default(void **state)
{
    (void)state;
    json_t *root = schema("job");
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *row = job_field_row((enum job_field)i);
        json_t *member = json_object_get(members_of(root, row->group), row->name);
        if (member == NULL) {
            fail_msg("%s is missing", row->path);
        }
        const char *told = json_string_value(json_object_get(member, "description"));
        assert_non_null(told);
        assert_non_null(strstr(told, row->meaning + 1)); /* the first letter is a capital */
        const char *by_default = job_default_text((enum job_field)i);
        assert_true(by_default[0] == '\0' || strstr(told, by_default) != NULL);
    }
    json_decref(root);
}

static void
a_group_stands_where_its_path_says(void **state)
{
    (void)state;
    json_t *root = schema("job");
    assert_string_equal(look_text(root, "/$defs/Job/properties/clamp_bolt/$ref"), "#/$defs/JobClampBolt");
    assert_string_equal(look_text(root, "/$defs/JobTurning/properties/machine_taper/$ref"), "#/$defs/JobMachineTaper");
    assert_null(look(root, "/$defs/Job/properties/machine_taper"));
    json_decref(root);
}

static void
choices_are_closed_sets_of_their_words(void **state)
{
    (void)state;
    json_t *root = schema("job");
    for (int i = 0; i < FIELD_COUNT; i++) {
        const struct job_field_row *row = job_field_row((enum job_field)i);
        if (row->kind != KIND_CHOICE) {
            continue;
        }
        size_t count = 0;
        const struct choice_row *choice = choice_table(row->choices, &count);
        json_t *words = json_object_get(json_object_get(members_of(root, row->group), row->name), "enum");
        assert_int_equal(json_array_size(words), count);
        for (size_t k = 0; k < count; k++) {
            assert_string_equal(json_string_value(json_array_get(words, k)), choice[k].text);
        }
    }
    json_decref(root);
}

/* 0.01 m and 2 m are 0.3937008 in, 78.74016 in, 10 mm and 2000 mm: exact by the inch of 25.4 mm. */
static void
ranges_are_told_in_both_systems(void **state)
{
    (void)state;
    json_t *root = schema("job");
    const char *bore = "/$defs/JobEngine/properties/bore";
    json_t *member = look(root, bore);
    assert_close(look_number(member, "/x-range/inch/minimum"), 0.3937008, 1e-7);
    assert_close(look_number(member, "/x-range/inch/maximum"), 78.74016, 1e-5);
    assert_close(look_number(member, "/x-range/metric/minimum"), 10.0, 0.0);
    assert_close(look_number(member, "/x-range/metric/maximum"), 2000.0, 0.0);
    assert_non_null(strstr(look_text(member, "/description"), "From 0.3937 to 78.74 in (10 to 2000 mm)."));
    json_decref(root);
}

/* What no number may go beyond in either system: for a bore the least is in inches, the greatest in millimeters. */
static void
a_range_is_a_minimum_and_a_maximum_whatever_the_units(void **state)
{
    (void)state;
    json_t *root = schema("job");
    json_t *member = look(root, "/$defs/JobEngine/properties/compression_ratio");
    assert_close(look_number(member, "/minimum"), 1.5, 0.0);
    assert_close(look_number(member, "/maximum"), 25.0, 0.0);
    member = look(root, "/$defs/JobEngine/properties/bore");
    assert_close(look_number(member, "/minimum"), 0.01 / 0.0254, 1e-15);
    assert_close(look_number(member, "/maximum"), 2000.0, 0.0);
    json_decref(root);
}

/* "0.8 thou" is a length, but no bore. */
static void
a_member_shows_examples_that_it_takes(void **state)
{
    (void)state;
    json_t *root = schema("job");
    json_t *examples = look(root, "/$defs/JobEngine/properties/bore/examples");
    assert_int_equal(json_array_size(examples), 2);
    assert_string_equal(json_string_value(json_array_get(examples, 0)), "5 1/4 in");
    assert_string_equal(json_string_value(json_array_get(examples, 1)), "34.92 mm");
    assert_string_equal(look_text(root, "/$defs/JobEngine/properties/bore/x-dimension"), "length");
    json_decref(root);
}

static void
only_sizing_needs_a_member(void **state)
{
    (void)state;
    json_t *root = schema("job");
    assert_null(look(root, "/$defs/Job/required"));
    assert_null(look(root, "/$defs/JobFind/required"));
    assert_string_equal(look_text(root, "/$defs/SizeJob/required/0"), "find");
    assert_string_equal(look_text(root, "/$defs/SizeJob/properties/find/$ref"), "#/$defs/SizeFind");
    assert_string_equal(look_text(root, "/$defs/SizeFind/required/0"), "what");
    assert_true(json_equal(look(root, "/$defs/SizeFind/properties"), look(root, "/$defs/JobFind/properties")));
    assert_int_equal(json_object_size(look(root, "/$defs/SizeJob/properties")),
                     json_object_size(look(root, "/$defs/Job/properties")));
    json_decref(root);
}

static void
examples_of_quantities_can_be_read(void **state)
{
    (void)state;
    for (int dimension = 0; dimension < DIMENSION_UNIT_COUNT; dimension++) {
        assert_non_null(schema_quantity_example((enum dimension)dimension, 0));
        for (size_t i = 0; schema_quantity_example((enum dimension)dimension, i) != NULL; i++) {
            const char *text = schema_quantity_example((enum dimension)dimension, i);
            struct quantity_reading reading;
            if (!quantity_read(text, strlen(text), (enum dimension)dimension, UNITS_INCH, &reading)) {
                fail_msg("%s: %s", text, reading.detail);
            }
        }
    }
}

/* The object of a section of the answer: SetScrewResults of set_screw. */
static json_t *
results_of(json_t *root, enum section section)
{
    char name[SCHEMA_NAME_SIZE];
    schema_camel(name, "", section_text(section), "Results");
    return json_object_get(json_object_get(look(root, "/$defs"), name), "properties");
}

static void
the_answer_has_every_result_in_its_section(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    for (int i = 0; i < RESULT_COUNT; i++) {
        const struct result_row *row = result_row((enum result)i);
        json_t *member = json_object_get(results_of(root, row->section), row->name);
        if (member == NULL) {
            fail_msg("%s.%s is missing", section_text(row->section), row->name);
        }
        char wanted[SCHEMA_NAME_SIZE + 16] = "#/$defs/";
        schema_quantity_name(wanted + strlen(wanted), row->dimension, SCHEMA_WRITTEN);
        assert_true(row->kind != RESULT_IS_NUMBER || strcmp(look_text(member, "/$ref"), wanted) == 0);
    }
    json_decref(root);
}

/* The answer of a call has its own sections and no others. */
static void
each_call_has_an_answer_of_its_own(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    for (int i = 0; i < CALL_COUNT; i++) {
        const struct call_row *const call = call_row((enum call)i);
        char name[SCHEMA_NAME_SIZE];
        schema_camel(name, "", call->id, "Answer");
        json_t *answer = json_object_get(look(root, "/$defs"), name);
        assert_non_null(answer);
        json_t *results = look(answer, "/properties/results/properties");
        assert_true(json_equal(look(answer, "/required"), look(root, "/$defs/Answer/required")));
        for (int section = 0; section < SECTION_COUNT; section++) {
            const bool has = json_object_get(results, section_text((enum section)section)) != NULL;
            assert_int_equal(has, (call->sections & (1u << section)) != 0);
        }
        assert_int_equal(json_object_get(results, "size") != NULL, i == CALL_size);
    }
    assert_string_equal(look_text(root, "/$defs/LoadAnswer/properties/results/properties/load/$ref"),
                        "#/$defs/LoadTraceResults");
    assert_null(look(root, "/$defs/LoadResults/properties/trace"));
    assert_non_null(look(root, "/$defs/LoadTraceResults/properties/trace"));
    json_decref(root);
}

static void
a_figure_of_a_table_has_its_one_unit(void **state)
{
    (void)state;
    size_t count = 0;
    const struct material_figure *figure = material_metal_figures(&count);
    json_t *root = schema("tables");
    for (size_t i = 0; i < count; i++) {
        const json_t *member = json_object_get(look(root, "/$defs/BearingMetal/properties"), figure[i].name);
        const char *name = json_string_value(json_object_get(member, "$ref")) + strlen("#/$defs/");
        json_t *definition = json_object_get(look(root, "/$defs"), name);
        assert_string_equal(look_text(definition, "/properties/unit/const"), figure[i].unit);
    }
    json_decref(root);
}

static void
a_written_quantity_names_the_units_of_both_systems(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    json_t *units = look(root, "/$defs/TorqueValue/properties/unit/enum");
    assert_int_equal(json_array_size(units), 2);
    assert_string_equal(json_string_value(json_array_get(units, 0)), "lbf.ft");
    assert_string_equal(json_string_value(json_array_get(units, 1)), "N.m");
    assert_int_equal(json_array_size(look(root, "/$defs/AngleValue/properties/unit/enum")), 1);
    json_decref(root);
}

static void
answers_are_open_and_requests_are_not(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    assert_null(look(root, "/$defs/Answer/additionalProperties"));
    assert_null(look(root, "/$defs/Check/additionalProperties"));
    json_decref(root);
    root = schema("job");
    assert_true(json_is_false(look(root, "/$defs/Job/additionalProperties")));
    assert_true(json_is_false(look(root, "/$defs/SteelChoice/additionalProperties")));
    json_decref(root);
}

static bool
is_required(json_t *definition, const char *name)
{
    size_t index;
    json_t *entry;
    json_array_foreach(json_object_get(definition, "required"), index, entry)
    {
        if (strcmp(json_string_value(entry), name) == 0) {
            return json_object_get(json_object_get(definition, "properties"), name) != NULL;
        }
    }
    return false;
}

static void
what_is_always_there_is_required(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    assert_true(is_required(look(root, "/$defs/NotChecked"), "needs"));
    assert_true(is_required(look(root, "/$defs/Curve"), "values"));
    assert_true(is_required(look(root, "/$defs/Trace"), "pin_load"));
    assert_true(is_required(look(root, "/$defs/Hardness"), "unit"));
    assert_false(is_required(look(root, "/$defs/Check"), "limit"));
    json_decref(root);
    root = schema("problem");
    assert_true(is_required(look(root, "/$defs/Problem"), "type"));
    assert_true(is_required(look(root, "/$defs/Problem"), "status"));
    assert_true(is_required(look(root, "/$defs/Fault"), "code"));
    assert_false(is_required(look(root, "/$defs/Fault"), "pointer"));
    json_decref(root);
}

static void
every_check_is_an_example_of_its_id(void **state)
{
    (void)state;
    json_t *root = schema("answer");
    json_t *ids = look(root, "/$defs/CheckId/examples");
    assert_int_equal(json_array_size(ids), check_count());
    for (size_t i = 0; i < check_count(); i++) {
        assert_string_equal(json_string_value(json_array_get(ids, i)), check_row(i)->id);
    }
    json_decref(root);
}

static void
the_calls_name_their_sections_and_forms(void **state)
{
    (void)state;
    struct buffer out;
    json_error_t error;
    buffer_init(&out);
    schema_write_calls(&out);
    json_t *root = json_loadb(out.at, out.length, JSON_REJECT_DUPLICATES, &error);
    buffer_clear(&out);
    assert_non_null(root);
    assert_int_equal(json_array_size(look(root, "/calls")), CALL_COUNT);
    json_t *call = entry_of(look(root, "/calls"), "set_screw");
    assert_string_equal(look_text(call, "/word"), "set-screw");
    assert_string_equal(look_text(call, "/sections/1"), "set_screw");
    assert_string_equal(look_text(call, "/forms/0"), "json");
    json_decref(root);
}

static void
phrases_become_sentences(void **state)
{
    (void)state;
    struct words words;
    words_init(&words);
    words_sentence(&words, "cylinder bore");
    words_sentence(&words, NULL);
    words_sentence(&words, "");
    words_sentence(&words, "pin_load_min over pin_load_max");
    words_sentence(&words, "Already one.");
    assert_string_equal(words.at, "Cylinder bore. pin_load_min over pin_load_max. Already one.");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_every_schema_it_names),
        cmocka_unit_test(knows_no_other_schema),
        cmocka_unit_test(each_schema_stands_on_its_own),
        cmocka_unit_test(the_job_has_every_member_with_its_meaning_and_default),
        cmocka_unit_test(a_group_stands_where_its_path_says),
        cmocka_unit_test(choices_are_closed_sets_of_their_words),
        cmocka_unit_test(ranges_are_told_in_both_systems),
        cmocka_unit_test(a_range_is_a_minimum_and_a_maximum_whatever_the_units),
        cmocka_unit_test(a_member_shows_examples_that_it_takes),
        cmocka_unit_test(only_sizing_needs_a_member),
        cmocka_unit_test(examples_of_quantities_can_be_read),
        cmocka_unit_test(the_answer_has_every_result_in_its_section),
        cmocka_unit_test(each_call_has_an_answer_of_its_own),
        cmocka_unit_test(a_figure_of_a_table_has_its_one_unit),
        cmocka_unit_test(a_written_quantity_names_the_units_of_both_systems),
        cmocka_unit_test(answers_are_open_and_requests_are_not),
        cmocka_unit_test(what_is_always_there_is_required),
        cmocka_unit_test(every_check_is_an_example_of_its_id),
        cmocka_unit_test(the_calls_name_their_sections_and_forms),
        cmocka_unit_test(phrases_become_sentences),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
