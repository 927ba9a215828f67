#include "ask.h"

static void
an_empty_job_is_answered_incomplete(void **state)
{
    (void)state;
    for (int call = 0; call < CALL_COUNT; call++) {
        if (call == CALL_size || call == CALL_order) {
            continue; /* one needs find.what, the other a notary: see test_record.c */
        }
        json_t *root = ask((enum call)call, "{}", 200);
        assert_string_equal(look_text(root, "/verdict"), "incomplete");
        assert_true(json_array_size(look(root, "/not_checked")) > 0);
        assert_true(json_array_size(look(root, "/cautions")) > 0);
        json_decref(root);
    }
}

static void
an_ordinary_job_is_answered_whole(void **state)
{
    (void)state;
    static const char *const sections[] = {"load", "strength", "slot", "fit", "material"};
    json_t *root = ask(CALL_check, ORDINARY_JOB, 200);
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++) {
        assert_true(json_object_size(json_object_get(look(root, "/results"), sections[i])) > 1);
    }
    assert_true(json_array_size(look(root, "/checks")) > 20);
    /* 5 1/4 in bore at 285 psi: pi/4 x 5.25^2 x 285 = 6169.55 lbf. */
    assert_close(look_number(root, "/results/load/gas_force_peak/value"), 6169.55, 1e-6);
    assert_string_equal(look_text(root, "/results/material/chosen/id"), "4140-bc");
    json_decref(root);
}

static void
the_same_request_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int format = ANSWER_JSON; format <= ANSWER_TXT; format++) {
        struct reply first, second;
        answer_call(CALL_check, ORDINARY_JOB, strlen(ORDINARY_JOB), (enum answer_format)format, NULL, &first, NULL);
        answer_call(CALL_check, ORDINARY_JOB, strlen(ORDINARY_JOB), (enum answer_format)format, NULL, &second, NULL);
        assert_int_equal(first.length, second.length);
        assert_memory_equal(first.body, second.body, first.length);
        reply_clear(&first);
        reply_clear(&second);
    }
}

/* The same joint in millimetres and in inches gives the same verdicts. */
static void
units_do_not_change_a_verdict(void **state)
{
    (void)state;
    json_t *inch = ask(CALL_strength,
                       "{\"engine\":{\"bore\":5,\"stroke\":8,\"speed\":400,\"peak_pressure\":285},"
                       "\"pin\":{\"diameter\":1.25,\"steel\":\"4140-bc\"}}",
                       200);
    json_t *metric = ask(CALL_strength,
                         "{\"units\":\"metric\",\"engine\":{\"bore\":127,\"stroke\":203.2,\"speed\":400,"
                         "\"peak_pressure\":\"285 psi\"},\"pin\":{\"diameter\":31.75,\"steel\":\"4140-bc\"}}",
                         200);
    json_t *checks = look(inch, "/checks");
    assert_true(json_array_size(checks) > 5);
    assert_int_equal(json_array_size(checks), json_array_size(look(metric, "/checks")));
    for (size_t i = 0; i < json_array_size(checks); i++) {
        json_t *check = json_array_get(checks, i);
        json_t *other = entry_of(look(metric, "/checks"), look_text(check, "/id"));
        assert_string_equal(look_text(check, "/verdict"), look_text(other, "/verdict"));
        if (look(check, "/utilization") != NULL) {
            assert_close(look_number(check, "/utilization"), look_number(other, "/utilization"), 1e-6);
        }
    }
    json_decref(inch);
    json_decref(metric);
}

static void
every_format_has_its_content_type(void **state)
{
    (void)state;
    static const struct {
        const char *word, *content_type;
    } formats[] = {
        {"json", "application/json"},
        {"md", "text/markdown; charset=utf-8"},
        {"txt", "text/plain; charset=utf-8"},
        {"html", "text/html; charset=utf-8"},
    };
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++) {
        enum answer_format format = ANSWER_JSON;
        struct reply reply;
        enum verdict verdict = VERDICT_OK;
        assert_true(answer_format_from(formats[i].word, &format));
        answer_call(CALL_check, "{}", 2, format, NULL, &reply, &verdict);
        assert_int_equal(reply.status, 200);
        assert_string_equal(reply.content_type, formats[i].content_type);
        assert_int_equal(verdict, VERDICT_INCOMPLETE);
        reply_clear(&reply);
    }
    enum answer_format format = ANSWER_JSON;
    assert_false(answer_format_from("pdf", &format));
}

static void
a_document_that_is_no_job_is_a_422(void **state)
{
    (void)state;
    json_t *root = ask(CALL_check, "{\"engine\":{\"bore\":-1,\"storke\":8}}", 422);
    assert_string_equal(look_text(root, "/type"), "/v1/problems/invalid-job");
    assert_string_equal(look_text(root, "/instance"), "/v1/test");
    assert_int_equal(json_array_size(look(root, "/errors")), 2);
    assert_non_null(strstr(look_text(root, "/detail"), "2 faults"));
    json_decref(root);
    root = ask(CALL_check, "[]", 422);
    assert_string_equal(look_text(root, "/errors/0/code"), "wrong_type");
    json_decref(root);
}

/* A solid rod of 1 in cannot reach round a crank of 4 in. */
static void
a_joint_that_contradicts_itself_is_a_422(void **state)
{
    (void)state;
    json_t *root = ask(CALL_check, "{\"engine\":{\"stroke\":8,\"rod_length\":1}}", 422);
    assert_string_equal(look_text(root, "/errors/0/code"), "contradiction");
    json_decref(root);
}

static void
text_that_is_no_json_is_a_400(void **state)
{
    (void)state;
    static const struct {
        const char *text, *type;
    } cases[] = {
        {"", "/v1/problems/not-json"},
        {"{", "/v1/problems/not-json"},
        {"{\"pin\":{},\"pin\":{}}", "/v1/problems/duplicate-member"},
        {"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[", "/v1/problems/too-deep"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct reply reply;
        answer_call(CALL_load, cases[i].text, strlen(cases[i].text), ANSWER_JSON, NULL, &reply, NULL);
        assert_int_equal(reply.status, 400);
        assert_string_equal(reply.content_type, "application/problem+json");
        json_t *root = reply_json(&reply);
        assert_string_equal(look_text(root, "/type"), cases[i].type);
        json_decref(root);
    }
}

/* A line for each fault, and nothing in it that calls or links. */
static void
a_refusal_is_text_where_text_was_asked_for(void **state)
{
    (void)state;
    static const char job[] = "{\"engine\":{\"bore\":\"@all https://x.example <b>\",\"storke\":8}}";
    static const enum answer_format forms[] = {ANSWER_MD, ANSWER_TXT, ANSWER_HTML};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        struct reply reply;
        answer_call(CALL_load, job, strlen(job), forms[i], NULL, &reply, NULL);
        assert_int_equal(reply.status, 422);
        assert_string_equal(reply.content_type, answer_form(forms[i])->content_type);
        assert_non_null(strstr(reply.body, "/engine/bore: "));
        assert_non_null(strstr(reply.body, "Nearest: stroke"));
        assert_non_null(strstr(reply.body, "Cautions"));
        assert_null(strstr(reply.body, "@all"));
        assert_null(strstr(reply.body, "://"));
        assert_null(strstr(reply.body, "<b>"));
        reply_clear(&reply);
    }
}

/* Names and bytes of the client's stand in a refusal without their line ends,
 * escape sequences for terminals, and marks that turn the direction of writing. */
static void
a_refusal_quotes_no_control_character(void **state)
{
    (void)state;
    static const char *const jobs[] = {
        "{\"engine\":{\"a\\n# b\\u001b[31m\\u202e\\u2028c\":1}}",
        "{\"engine\":\x1f",
    };
    static const enum answer_format forms[] = {ANSWER_MD, ANSWER_TXT, ANSWER_HTML};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        for (size_t k = 0; k < sizeof jobs / sizeof jobs[0]; k++) {
            struct reply reply;
            answer_call(CALL_load, jobs[k], strlen(jobs[k]), forms[i], NULL, &reply, NULL);
            assert_int_equal(reply.status, k == 0 ? 422 : 400);
            assert_null(strpbrk(reply.body, "\x1b\x1f"));
            assert_null(strstr(reply.body, "\n# b"));
            assert_null(strstr(reply.body, "\u202e"));
            assert_null(strstr(reply.body, "\u2028"));
            reply_clear(&reply);
        }
    }
}

/* A link spells the job; the reply to a body tells it. */
static void
a_link_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int format = 0; format < ANSWER_FORMATS; format++) {
        struct reply posted, linked;
        struct query query;
        if ((answer_forms(CALL_check) & 1u << format) == 0) {
            continue;
        }
        answer_call(CALL_check, ORDINARY_JOB, strlen(ORDINARY_JOB), (enum answer_format)format, "/v1/check", &posted,
                    NULL);
        assert_non_null(posted.location);
        const char *string = strchr(posted.location, '?') + 1;
        assert_int_equal(query_open(&query, string), QUERY_READ);
        for (size_t i = 0; i < query.count; i++) {
            query.pair[i].taken = strcmp(query.pair[i].name, "format") == 0;
        }
        const struct answer_request request = {
            .call = CALL_check, .format = (enum answer_format)format, .query = &query, .path = "/v1/check"};
        answer_request(&request, &linked, NULL);
        assert_int_equal(linked.status, 200);
        assert_int_equal(linked.length, posted.length);
        assert_memory_equal(linked.body, posted.body, posted.length);
        assert_string_equal(linked.location, posted.location);
        query_close(&query);
        reply_clear(&linked);
        reply_clear(&posted);
    }
}

static void
the_verdict_is_left_alone_where_nothing_was_judged(void **state)
{
    (void)state;
    struct reply reply;
    enum verdict verdict = VERDICT_MARGINAL;
    answer_call(CALL_check, "{", 1, ANSWER_JSON, NULL, &reply, &verdict);
    assert_int_equal(verdict, VERDICT_MARGINAL);
    reply_clear(&reply);
}

/* One size per part: no pin is between 1.3747 and 1.3750 in and between 1.3720
 * and 1.3730 in; a bare size beside limits may be its nominal one. */
static void
two_sizes_of_one_part_contradict(void **state)
{
    (void)state;
    static const char *const wrong[] = {
        "{\"pin\":{\"diameter\":{\"min\":1.3747,\"max\":1.375}},"
        "\"running_fit\":{\"pin\":{\"min\":1.372,\"max\":1.373}}}",
        "{\"running_fit\":{\"pin\":{\"min\":1.3747,\"max\":1.375}},"
        "\"inspection\":{\"accept\":{\"min\":1.372,\"max\":1.373}}}",
        "{\"running_fit\":{\"hole\":{\"min\":1.3747,\"max\":1.375}},"
        "\"inspection\":{\"part\":\"hole\",\"accept\":{\"min\":1.372,\"max\":1.373}}}",
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        json_t *root = ask(CALL_check, wrong[i], 422);
        assert_string_equal(look_text(root, "/errors/0/code"), "contradiction");
        json_decref(root);
    }
    json_decref(ask(CALL_check,
                    "{\"pin\":{\"diameter\":1.375},\"running_fit\":{\"pin\":{\"min\":1.372,\"max\":1.373}}}", 200));
}

/* ---- curves over the cycle ---- */

static json_t *
ask_trace(const char *job, unsigned points)
{
    const struct answer_request request = {
        .call = CALL_load, .format = ANSWER_JSON, .body = job, .length = strlen(job), .trace = points};
    struct reply reply;
    answer_request(&request, &reply, NULL);
    assert_int_equal(reply.status, 200);
    return reply_json(&reply);
}

static void
load_gives_curves_over_the_cycle(void **state)
{
    (void)state;
    json_t *root = ask_trace("{\"engine\":{\"bore\":5,\"stroke\":8,\"speed\":400,\"peak_pressure\":285}}", 12);
    json_t *curves = look(root, "/results/load/trace");
    const char *key;
    json_t *curve;
    assert_int_equal(json_object_size(curves), 6);
    json_object_foreach(curves, key, curve)
    {
        assert_int_equal(json_array_size(look(curve, "/values")), 12);
        assert_non_null(look_text(curve, "/unit"));
    }
    /* A four-stroke takes 720 degrees, from the firing dead centre on. */
    assert_close_or(look_number(curves, "/crank_angle/values/0"), 0.0, 0.0, 0.0);
    assert_close(look_number(curves, "/crank_angle/values/11"), 660.0, 1e-9);
    assert_close(look_number(curves, "/cylinder_pressure/values/0"), 285.0, 1e-6);
    json_decref(root);
}

static void
curves_are_left_out_where_the_load_is_not_known(void **state)
{
    (void)state;
    json_t *root = ask_trace("{\"engine\":{\"bore\":5,\"stroke\":8}}", 12);
    assert_null(look(root, "/results/load/trace"));
    json_decref(root);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_job_is_answered_incomplete),
        cmocka_unit_test(an_ordinary_job_is_answered_whole),
        cmocka_unit_test(the_same_request_gives_the_same_bytes),
        cmocka_unit_test(units_do_not_change_a_verdict),
        cmocka_unit_test(every_format_has_its_content_type),
        cmocka_unit_test(a_document_that_is_no_job_is_a_422),
        cmocka_unit_test(a_joint_that_contradicts_itself_is_a_422),
        cmocka_unit_test(two_sizes_of_one_part_contradict),
        cmocka_unit_test(text_that_is_no_json_is_a_400),
        cmocka_unit_test(a_refusal_is_text_where_text_was_asked_for),
        cmocka_unit_test(a_refusal_quotes_no_control_character),
        cmocka_unit_test(a_link_gives_the_same_bytes),
        cmocka_unit_test(the_verdict_is_left_alone_where_nothing_was_judged),
        cmocka_unit_test(load_gives_curves_over_the_cycle),
        cmocka_unit_test(curves_are_left_out_where_the_load_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
