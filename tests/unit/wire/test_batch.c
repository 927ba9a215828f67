#include "wire/batch.h"

#include "ask.h"

#include "wire/batch_entry.h"

/* The whole answer, or the refusal, with its status; `late` entries are answered
 * before the rest is put off. */
static json_t *
ask_batch(const char *text, size_t length, int status, size_t late)
{
    struct batch batch;
    struct buffer out;
    struct reply reply = {.status = 0};
    buffer_init(&out);
    if (!batch_begin(&batch, text, length, "/v1/batch", &out, &reply)) {
        assert_null(out.at);
        assert_int_equal(reply.status, status);
        return reply_json(&reply);
    }
    assert_int_equal(status, 200);
    if (late == 0) {
        batch_put_off(&batch, 1500);
    }
    while (batch_next(&batch)) {
        if (batch.answered == late) {
            batch_put_off(&batch, 1500);
        }
    }
    assert_false(batch_next(&batch));
    batch_end(&batch);
    assert_false(out.failed);
    reply = (struct reply){.status = 200, .body = out.at, .length = out.length, .owned = out.at};
    return reply_json(&reply);
}

static json_t *
ask_text(const char *text, int status)
{
    return ask_batch(text, strlen(text), status, (size_t)-1);
}

/* One entry's answer; the caller drops the reference. */
static json_t *
ask_entry(const char *entry)
{
    char text[2048];
    assert_true((size_t)snprintf(text, sizeof text, "{\"jobs\":[%s]}", entry) < sizeof text);
    json_t *root = ask_text(text, 200);
    assert_int_equal(json_array_size(look(root, "/answers")), 1);
    json_t *answer = json_incref(look(root, "/answers/0"));
    json_decref(root);
    return answer;
}

static void
assert_problem(json_t *entry, int status, const char *name)
{
    char type[80];
    assert_true(snprintf(type, sizeof type, "/v1/problems/%s", name) > 0);
    assert_null(look(entry, "/answer"));
    assert_int_equal((int)look_number(entry, "/status"), status);
    assert_int_equal((int)look_number(entry, "/problem/status"), status);
    assert_string_equal(look_text(entry, "/problem/type"), type);
    assert_true(json_array_size(look(entry, "/problem/cautions")) > 0);
}

static void
assert_first_error(json_t *problem, const char *pointer, const char *code)
{
    assert_string_equal(look_text(problem, "/errors/0/pointer"), pointer);
    assert_string_equal(look_text(problem, "/errors/0/code"), code);
}

/* ---- the whole ---- */

static void
answers_an_empty_list_with_one(void **state)
{
    (void)state;
    json_t *root = ask_text("{\"jobs\":[]}", 200);
    assert_true(json_is_array(look(root, "/answers")));
    assert_int_equal(json_array_size(look(root, "/answers")), 0);
    assert_string_equal(look_text(root, "/service/name"), "smallend");
    assert_true(json_array_size(look(root, "/cautions")) > 0);
    json_decref(root);
}

static void
refuses_a_body_that_is_no_json_in_its_outline(void **state)
{
    (void)state;
    static const struct {
        const char *text, *type;
    } cases[] = {
        {"", "/v1/problems/not-json"},
        {"{\"jobs\":[{\"call\":\"fit\"}", "/v1/problems/not-json"},
        {"{\"jobs\":[{\"call\":\"fit},{\"call\":\"fit\"}]}", "/v1/problems/not-json"},
        {"{\"jobs\":[{},]}", "/v1/problems/not-json"},
        {"{\"jobs\":[]}{}", "/v1/problems/not-json"},
        {"{\"jobs\":[],\"jobs\":[]}", "/v1/problems/duplicate-member"},
        {"{\"jobs\":[],\"j\\u006fbs\":[]}", "/v1/problems/duplicate-member"},
        {"{\"jobs\":null,\"jobs\":[]}", "/v1/problems/duplicate-member"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        json_t *root = ask_text(cases[i].text, 400);
        assert_string_equal(look_text(root, "/type"), cases[i].type);
        assert_string_equal(look_text(root, "/instance"), "/v1/batch");
        json_decref(root);
    }
    json_t *root = ask_batch("{\"jobs\":[]}\0", 12, 400, (size_t)-1);
    assert_string_equal(look_text(root, "/type"), "/v1/problems/not-json");
    json_decref(root);
}

static void
refuses_a_body_without_a_list_of_jobs(void **state)
{
    (void)state;
    static const struct {
        const char *text, *pointer, *code;
    } cases[] = {
        {"{}", "/jobs", "missing"},
        {"{\"jobs\":null}", "/jobs", "missing"},
        {"{\"jobs\":{}}", "/jobs", "wrong_type"},
        {"{\"jobs\":\"[]\"}", "/jobs", "wrong_type"},
        {"[]", "", "wrong_type"},
        {"7", "", "wrong_type"},
        {"{\"jobs\":[],\"verbose\":true}", "/verbose", "unknown_member"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        json_t *root = ask_text(cases[i].text, 422);
        assert_first_error(root, cases[i].pointer, cases[i].code);
        json_decref(root);
    }
    json_t *root = ask_text("{\"job\":[]}", 422);
    assert_int_equal(json_array_size(look(root, "/errors")), 2);
    assert_first_error(root, "/job", "unknown_member");
    assert_string_equal(look_text(root, "/errors/0/nearest"), "jobs");
    json_decref(root);
}

/* A list of `count` entries that are the least there is; the caller frees it. */
static char *
many(size_t count, const char *entry)
{
    struct buffer text;
    buffer_init(&text);
    buffer_add(&text, "\xEF\xBB\xBF{\"jobs\": [");
    for (size_t i = 0; i < count; i++) {
        buffer_add(&text, i > 0 ? " ,\n" : " ");
        buffer_add(&text, entry);
    }
    buffer_add(&text, " ] }");
    assert_false(text.failed);
    return text.at;
}

static void
takes_a_thousand_and_no_more(void **state)
{
    (void)state;
    char *text = many(1000, "0");
    json_t *root = ask_text(text, 200);
    assert_int_equal(json_array_size(look(root, "/answers")), 1000);
    assert_string_equal(look_text(root, "/answers/999/problem/errors/0/pointer"), "/jobs/999");
    json_decref(root);
    free(text);
    text = many(1001, "0");
    root = ask_text(text, 422);
    assert_first_error(root, "/jobs", "out_of_range");
    assert_non_null(strstr(look_text(root, "/errors/0/detail"), "1001"));
    json_decref(root);
    free(text);
}

static void
bounds_what_it_says_of_many_faults(void **state)
{
    (void)state;
    struct buffer text;
    buffer_init(&text);
    buffer_add(&text, "{\"jobs\":[]");
    for (int i = 0; i < 100000; i++) {
        buffer_format(&text, ",\"\\u0061%d\":{}", i);
    }
    buffer_add(&text, "}");
    json_t *root = ask_text(text.at, 422);
    assert_int_equal(json_array_size(look(root, "/errors")), FAULT_MAX);
    assert_string_equal(look_text(root, "/errors/0/pointer"), "/a0");
    json_decref(root);
    buffer_clear(&text);
}

/* ---- entries ---- */

/* Byte for byte, its line break left out. */
static void
answers_with_the_bytes_of_the_single_call(void **state)
{
    (void)state;
    static const char *const jobs[] = {
        ORDINARY_JOB,        "{}",         "{\"engine\":{\"boer\":1,\"stroke\":-1}}", "[]", "{\"a\":1.2.3}",
        "{\"a\":1,\"a\":2}", "\"\\u0000\""};
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        struct batch batch;
        struct buffer out;
        struct reply reply, single;
        char text[2048];
        answer_call(CALL_check, jobs[i], strlen(jobs[i]), ANSWER_JSON, "/v1/check", &single, NULL);
        assert_true((size_t)snprintf(text, sizeof text, "{\"jobs\":[{\"call\":\"check\",\"job\":%s}]}", jobs[i]) <
                    sizeof text);
        buffer_init(&out);
        assert_true(batch_begin(&batch, text, strlen(text), "/v1/batch", &out, &reply));
        buffer_empty(&out);
        assert_true(batch_next(&batch));
        char head[80];
        const int length = snprintf(head, sizeof head, "\n{\"call\":\"check\",\"status\":%d,\"%s\":", single.status,
                                    single.status == 200 ? "answer" : "problem");
        assert_int_equal(out.length, (size_t)length + single.length - 1 + 1);
        assert_memory_equal(out.at, head, (size_t)length);
        assert_memory_equal(out.at + length, single.body, single.length - 1);
        assert_int_equal(out.at[out.length - 1], '}');
        assert_int_equal(batch.worst, single.status);
        buffer_clear(&out);
        reply_clear(&single);
    }
}

static void
keeps_the_order_and_gives_ids_back(void **state)
{
    (void)state;
    json_t *root = ask_text("{\"jobs\":[{\"call\":\"load\",\"id\":\"a\",\"job\":{\"label\":\"one\"}},"
                            "{\"id\":\"\xC3\xA9\\\"\\u20ac\",\"call\":\"chek\"},"
                            "{\"job\":{\"label\":\"three\"},\"call\":\"set-screw\"}]}",
                            200);
    assert_int_equal(json_array_size(look(root, "/answers")), 3);
    assert_string_equal(look_text(root, "/answers/0/id"), "a");
    assert_string_equal(look_text(root, "/answers/0/answer/label"), "one");
    assert_string_equal(look_text(root, "/answers/1/id"), "\xC3\xA9\"\xE2\x82\xAC");
    assert_string_equal(look_text(root, "/answers/1/call"), "chek");
    assert_problem(look(root, "/answers/1"), 422, "invalid-job");
    assert_string_equal(look_text(root, "/answers/2/call"), "set-screw");
    assert_null(look(root, "/answers/2/id"));
    assert_string_equal(look_text(root, "/answers/2/answer/label"), "three");
    json_decref(root);
}

static void
every_call_that_has_a_link_can_be_made(void **state)
{
    (void)state;
    for (int call = 0; call < CALL_COUNT; call++) {
        char entry[80];
        assert_true(snprintf(entry, sizeof entry, "{\"call\":\"%s\"}", call_row((enum call)call)->word) > 0);
        json_t *answer = ask_entry(entry);
        /* An empty job is answered, but for size, which needs to know what is sought; an order, which may want a
         * token, has no place in a batch. */
        const bool refused = call == CALL_size || call == CALL_order;
        assert_int_equal((int)look_number(answer, "/status"), refused ? 422 : 200);
        json_decref(answer);
    }
}

static void
takes_an_absent_job_for_an_empty_one(void **state)
{
    (void)state;
    json_t *absent = ask_entry("{\"call\":\"check\"}");
    json_t *null = ask_entry("{\"call\":\"check\",\"id\":null,\"job\":null}");
    json_t *empty = ask_entry("{\"call\":\"check\",\"job\":{}}");
    assert_string_equal(look_text(empty, "/answer/verdict"), "incomplete");
    assert_true(json_equal(absent, empty));
    assert_true(json_equal(null, empty));
    json_decref(absent);
    json_decref(null);
    json_decref(empty);
}

static void
tells_what_is_wrong_with_an_entry_in_its_place(void **state)
{
    (void)state;
    static const struct {
        const char *entry, *pointer, *code;
    } cases[] = {
        {"7", "/jobs/0", "wrong_type"},
        {"[]", "/jobs/0", "wrong_type"},
        {"null", "/jobs/0", "wrong_type"},
        {"{}", "/jobs/0/call", "missing"},
        {"{\"call\":null}", "/jobs/0/call", "missing"},
        {"{\"call\":7}", "/jobs/0/call", "wrong_type"},
        {"{\"call\":\"Check\"}", "/jobs/0/call", "out_of_range"},
        {"{\"call\":\"\"}", "/jobs/0/call", "out_of_range"},
        {"{\"call\":\"check\",\"id\":7}", "/jobs/0/id", "wrong_type"},
        {"{\"call\":\"check\",\"id\":\"a\\nb\"}", "/jobs/0/id", "out_of_range"},
        {"{\"call\":\"check\",\"jop\":{}}", "/jobs/0/jop", "unknown_member"},
        {"{\"call\":\"check\",\"a/b\":{}}", "/jobs/0/a~1b", "unknown_member"},
        {"{\"call\":\"check\",\"\\ud800\":{}}", "/jobs/0/\\ud800", "unknown_member"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        json_t *answer = ask_entry(cases[i].entry);
        assert_problem(answer, 422, "invalid-job");
        assert_first_error(look(answer, "/problem"), cases[i].pointer, cases[i].code);
        assert_string_equal(look_text(answer, "/problem/instance"), "/v1/batch");
        json_decref(answer);
    }
    json_t *answer = ask_entry("{\"call\":\"fitt\",\"jop\":1}");
    assert_int_equal(json_array_size(look(answer, "/problem/errors")), 2);
    assert_string_equal(look_text(answer, "/problem/errors/0/nearest"), "job");
    assert_string_equal(look_text(answer, "/problem/errors/1/nearest"), "fit");
    assert_non_null(strstr(look_text(answer, "/problem/errors/1/expected"), "\"set-screw\""));
    json_decref(answer);
}

static void
tells_of_bad_json_within_an_entry_in_its_place(void **state)
{
    (void)state;
    static const struct {
        const char *entry, *type;
    } cases[] = {
        {"{\"call\":\"check\",\"job\":nonsense}", "not-json"},
        {"{\"call\":\"check\",\"job\":{\"label\":\"\xff\"}}", "not-json"},
        {"{\"call\":\"check\",\"job\":{\"label\":\"\",\"label\":\"\"}}", "duplicate-member"},
        {"{\"call\":\"check\",\"call\":\"check\"}", "duplicate-member"},
        {"{\"call\":\"check\",\"c\\u0061ll\":\"check\"}", "duplicate-member"},
        {"{\"call\":chekc}", "not-json"},
        {"{\"call\":\"\\u0000\"}", "not-json"},
        {"{\"call\":\"check\",\"id\":1e999}", "not-json"},
        {"{\"call\":\"check\",\"job\":[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]}", "too-deep"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        json_t *answer = ask_entry(cases[i].entry);
        assert_problem(answer, 400, cases[i].type);
        json_decref(answer);
    }
}

static void
bounds_what_comes_back_of_an_entry(void **state)
{
    (void)state;
    char entry[1200], call[400], id[4 * 121 + 1] = "";
    memset(call, 'x', sizeof call - 1);
    call[sizeof call - 1] = '\0';
    assert_true(snprintf(entry, sizeof entry, "{\"call\":\"%s\"}", call) > 0);
    json_t *answer = ask_entry(entry);
    assert_int_equal(strlen(look_text(answer, "/call")), BATCH_CALL_SIZE - 1);
    json_decref(answer);

    /* 120 characters of four bytes each, and one more. */
    for (int i = 0; i < BATCH_ID_CHARACTERS; i++) {
        memcpy(id + 4 * i, "\xF0\x9F\x94\xA7", 5);
    }
    assert_true(snprintf(entry, sizeof entry, "{\"call\":\"fit\",\"id\":\"%s\"}", id) > 0);
    answer = ask_entry(entry);
    assert_string_equal(look_text(answer, "/id"), id);
    json_decref(answer);
    assert_true(snprintf(entry, sizeof entry, "{\"call\":\"fit\",\"id\":\"%sx\"}", id) > 0);
    answer = ask_entry(entry);
    assert_problem(answer, 422, "invalid-job");
    assert_null(look(answer, "/id"));
    json_decref(answer);
}

static void
puts_off_what_is_left_when_told(void **state)
{
    (void)state;
    static const char text[] = "{\"jobs\":[{\"call\":\"fit\"},{\"call\":\"fit\",\"id\":\"b\"},{\"call\":\"ftt\"}]}";
    json_t *root = ask_batch(text, sizeof text - 1, 200, 1);
    assert_int_equal((int)look_number(root, "/answers/0/status"), 200);
    assert_problem(look(root, "/answers/1"), 503, "unavailable");
    assert_string_equal(look_text(root, "/answers/1/id"), "b");
    assert_non_null(strstr(look_text(root, "/answers/1/problem/detail"), "1.5 s"));
    assert_problem(look(root, "/answers/2"), 422, "invalid-job");
    json_decref(root);
}

static void
remembers_the_worst_status(void **state)
{
    (void)state;
    static const char text[] =
        "{\"jobs\":[{\"call\":\"fit\"},{\"call\":\"ftt\"},{\"call\":\"fit\",\"job\":x},{\"call\":\"fit\"}]}";
    static const int worst[] = {200, 422, 422, 503};
    struct batch batch;
    struct buffer out;
    struct reply reply;
    buffer_init(&out);
    assert_true(batch_begin(&batch, text, sizeof text - 1, NULL, &out, &reply));
    assert_int_equal(batch.worst, 200);
    for (int i = 0; i < 4; i++) {
        if (i == 3) {
            batch_put_off(&batch, 1000);
        }
        buffer_empty(&out);
        assert_true(batch_next(&batch));
        assert_null(strstr(out.at, "instance"));
        assert_int_equal(batch.worst, worst[i]);
    }
    buffer_clear(&out);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(answers_an_empty_list_with_one),
        cmocka_unit_test(refuses_a_body_that_is_no_json_in_its_outline),
        cmocka_unit_test(refuses_a_body_without_a_list_of_jobs),
        cmocka_unit_test(takes_a_thousand_and_no_more),
        cmocka_unit_test(bounds_what_it_says_of_many_faults),
        cmocka_unit_test(answers_with_the_bytes_of_the_single_call),
        cmocka_unit_test(keeps_the_order_and_gives_ids_back),
        cmocka_unit_test(every_call_that_has_a_link_can_be_made),
        cmocka_unit_test(takes_an_absent_job_for_an_empty_one),
        cmocka_unit_test(tells_what_is_wrong_with_an_entry_in_its_place),
        cmocka_unit_test(tells_of_bad_json_within_an_entry_in_its_place),
        cmocka_unit_test(bounds_what_comes_back_of_an_entry),
        cmocka_unit_test(puts_off_what_is_left_when_told),
        cmocka_unit_test(remembers_the_worst_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
