#include "ask.h"

#include "base/text.h"
#include "wire/buffer.h"
#include "wire/problem.h"

static json_t *
written(enum problem problem, const char *detail, const char *instance, const struct fault_list *faults)
{
    struct buffer out;
    buffer_init(&out);
    problem_write(&out, problem, detail, instance, faults, PLACE_POINTER);
    assert_false(out.failed);
    json_error_t error;
    json_t *root = json_loadb(out.at, out.length, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(root);
    buffer_clear(&out);
    return root;
}

static void
every_problem_has_name_status_and_words(void **state)
{
    (void)state;
    static const char *const ids[] = {
#define PROBLEM(id, name, status, title, meaning) #id,
#include "wire/problem.def"
    };
    for (int i = 0; i < PROBLEM_COUNT; i++) {
        const struct problem_row *row = problem_row((enum problem)i);
        assert_int_equal(strlen(row->name), strlen(ids[i]));
        for (size_t k = 0; ids[i][k] != '\0'; k++) {
            assert_int_equal(row->name[k], ids[i][k] == '_' ? '-' : ids[i][k]);
        }
        assert_true(row->status >= 400 && row->status < 600);
        assert_true(strlen(row->title) > 5 && strlen(row->meaning) > 20);
    }
}

/* The statuses of the contract's section "Problems". */
static void
every_status_of_the_contract_has_a_problem(void **state)
{
    (void)state;
    static const int statuses[] = {400, 401, 404, 405, 406, 408, 411, 413, 414, 415, 417, 422, 429, 431, 500, 503, 505};
    for (size_t i = 0; i < sizeof statuses / sizeof statuses[0]; i++) {
        assert_int_equal(problem_row(problem_of_status(statuses[i]))->status, statuses[i]);
    }
}

static void
a_status_without_a_problem_gets_the_general_one(void **state)
{
    (void)state;
    assert_int_equal(problem_of_status(400), PROBLEM_bad_request);
    assert_int_equal(problem_of_status(418), PROBLEM_bad_request);
    assert_int_equal(problem_of_status(501), PROBLEM_internal);
}

/* RFC 9457 section 3.1; `cautions` and `errors` after the contract. */
static void
writes_the_document_of_rfc_9457(void **state)
{
    (void)state;
    struct fault_list faults;
    fault_list_init(&faults);
    struct fault *fault = fault_add(&faults, FAULT_UNKNOWN_MEMBER, "/engine/storke", "No such member.");
    text_copy(fault->nearest, sizeof fault->nearest, "stroke");
    json_t *root = written(PROBLEM_invalid_job, "one fault", "/v1/check", &faults);
    assert_string_equal(look_text(root, "/type"), "/v1/problems/invalid-job");
    assert_string_equal(look_text(root, "/title"), "The document is not a job");
    assert_int_equal(json_integer_value(look(root, "/status")), 422);
    assert_string_equal(look_text(root, "/detail"), "one fault");
    assert_string_equal(look_text(root, "/instance"), "/v1/check");
    assert_string_equal(look_text(root, "/errors/0/pointer"), "/engine/storke");
    assert_string_equal(look_text(root, "/errors/0/code"), "unknown_member");
    assert_string_equal(look_text(root, "/errors/0/detail"), "No such member.");
    assert_string_equal(look_text(root, "/errors/0/nearest"), "stroke");
    assert_null(look(root, "/errors/0/got"));
    assert_null(look(root, "/errors/0/expected"));
    assert_true(json_array_size(look(root, "/cautions")) >= 1);
    json_decref(root);
}

static void
leaves_out_what_is_not_known(void **state)
{
    (void)state;
    json_t *root = written(PROBLEM_not_found, NULL, NULL, NULL);
    assert_null(look(root, "/instance"));
    assert_null(look(root, "/errors"));
    assert_string_equal(look_text(root, "/detail"), problem_row(PROBLEM_not_found)->meaning);
    json_decref(root);
}

static void
stays_json_whatever_the_client_sent(void **state)
{
    (void)state;
    json_t *root = written(PROBLEM_not_found, "a \"quote\", a \\, a tab\t, half a character \xE2\x82", "/\xFF", NULL);
    assert_string_equal(look_text(root, "/instance"), "/\xEF\xBF\xBD");
    assert_non_null(strstr(look_text(root, "/detail"), "a \"quote\", a \\, a tab\t"));
    json_decref(root);
}

static void
the_document_without_memory_is_like_the_others(void **state)
{
    (void)state;
    json_error_t error;
    json_t *root = json_loadb(problem_no_memory, problem_no_memory_length, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(root);
    assert_int_equal(strlen(problem_no_memory), problem_no_memory_length);
    json_t *like = written(PROBLEM_unavailable, NULL, NULL, NULL);
    assert_string_equal(look_text(root, "/type"), look_text(like, "/type"));
    assert_string_equal(look_text(root, "/title"), look_text(like, "/title"));
    assert_int_equal(json_integer_value(look(root, "/status")), json_integer_value(look(like, "/status")));
    json_t *cautions = look(root, "/cautions");
    json_t *likes = look(like, "/cautions");
    assert_int_equal(json_array_size(cautions), json_array_size(likes) + 1);
    for (size_t i = 0; i < json_array_size(likes); i++) {
        assert_true(json_equal(json_array_get(cautions, i + 1), json_array_get(likes, i)));
    }
    json_decref(root);
    json_decref(like);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_problem_has_name_status_and_words),
        cmocka_unit_test(every_status_of_the_contract_has_a_problem),
        cmocka_unit_test(a_status_without_a_problem_gets_the_general_one),
        cmocka_unit_test(writes_the_document_of_rfc_9457),
        cmocka_unit_test(leaves_out_what_is_not_known),
        cmocka_unit_test(stays_json_whatever_the_client_sent),
        cmocka_unit_test(the_document_without_memory_is_like_the_others),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
