/*
 * Every allocation of a request refused in turn, the first, the second and so
 * on: what comes back is the answer or a problem that says so, and nothing is
 * left behind. The linker puts the functions below in the place of the C
 * library's (tests/CMakeLists.txt), and jansson is told of them; then all of it
 * once more with the arena that a job is read into.
 */

#include "ask.h"

#include <errno.h>

#include "wire/json_arena.h"
#include "wire/query.h"

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);

/* Which allocation from now on is refused (0: none), how many there were, and
 * how many blocks are out. */
static size_t refused, made;
static long out;

static bool
refuse(void)
{
    made++;
    if (made == refused) {
        errno = ENOMEM;
        return true;
    }
    return false;
}

void *
__wrap_malloc(size_t size)
{
    void *block = refuse() ? NULL : __real_malloc(size);
    out += block != NULL;
    return block;
}

void *
__wrap_calloc(size_t count, size_t size)
{
    void *block = refuse() ? NULL : __real_calloc(count, size);
    out += block != NULL;
    return block;
}

void *
__wrap_realloc(void *block, size_t size)
{
    void *grown = refuse() ? NULL : __real_realloc(block, size);
    out += grown != NULL && block == NULL;
    return grown;
}

void
__wrap_free(void *block)
{
    out -= block != NULL;
    __real_free(block);
}

/* The reply with the n-th allocation refused; true if there was an n-th. */
static bool
ask_without(size_t n, const struct answer_request *request, struct reply *reply)
{
    made = 0;
    refused = n;
    answer_request(request, reply, NULL);
    refused = 0;
    return made >= n;
}

static void
assert_told(const struct answer_request *request, const struct reply *reply, const struct reply *whole)
{
    assert_non_null(reply->body);
    assert_non_null(reply->content_type);
    assert_true(reply->length > 0);
    if (reply->status == whole->status) {
        assert_string_equal(reply->content_type, whole->content_type);
        if (request->format == ANSWER_JSON) { /* a text tells the link as well, where there was room to write it */
            assert_int_equal(reply->length, whole->length);
            assert_memory_equal(reply->body, whole->body, whole->length);
        }
        return;
    }
    if (reply->status != 503) {
        fail_msg("status %d, call %d, format %d: %.200s", reply->status, request->call, request->format, reply->body);
    }
    if (strcmp(reply->content_type, "application/problem+json") == 0) {
        json_t *root = json_loadb(reply->body, reply->length, 0, NULL);
        assert_non_null(root);
        assert_int_equal(json_integer_value(look(root, "/status")), 503);
        assert_true(json_array_size(look(root, "/cautions")) > 0);
        json_decref(root);
    }
}

/* Refuse each allocation of the request; the same answer as ever afterwards. */
static void
refuse_each(const struct answer_request *request)
{
    struct reply whole, reply;
    const long before = out;
    (void)ask_without(0, request, &whole);
    assert_true(made > 0);
    const size_t count = made;
    for (size_t n = 1; n <= count; n++) {
        const long held = out;
        assert_true(ask_without(n, request, &reply));
        assert_told(request, &reply, &whole);
        reply_clear(&reply);
        if (out != held) {
            fail_msg("%ld blocks left behind when allocation %zu of %zu is refused", out - held, n, count);
        }
    }
    (void)ask_without(0, request, &reply);
    assert_int_equal(reply.status, whole.status);
    assert_int_equal(reply.length, whole.length);
    assert_memory_equal(reply.body, whole.body, whole.length);
    reply_clear(&reply);
    reply_clear(&whole);
    assert_int_equal(out, before);
}

static void
a_body_is_answered_or_refused(void **state)
{
    (void)state;
    static const struct {
        enum call call;
        enum answer_format format;
        unsigned trace;
        const char *body;
    } cases[] = {
        {CALL_check, ANSWER_JSON, 0, ORDINARY_JOB},
        {CALL_check, ANSWER_MD, 0, ORDINARY_JOB},
        {CALL_check, ANSWER_HTML, 0, ORDINARY_JOB},
        {CALL_load, ANSWER_JSON, 36, ORDINARY_JOB},
        {CALL_check, ANSWER_TXT, 0, "{\"engine\":{\"bore\":-1,\"storke\":8}}"},
        {CALL_check, ANSWER_JSON, 0, "{\"engine\":{\"bore\":-1,\"storke\":8}}"},
        {CALL_check, ANSWER_JSON, 0, "{\"a\":[1,2,{\"b\":"},
        {CALL_inspection, ANSWER_JSON, 0,
         "{\"pin\":{\"diameter\":1.375},\"inspection\":{\"readings\":[{\"at\":0.5,\"size\":1.3745},{\"at\":4,\"size\":1.3742}]}}"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct answer_request request = {.call = cases[i].call,
                                               .format = cases[i].format,
                                               .trace = cases[i].trace,
                                               .body = cases[i].body,
                                               .length = strlen(cases[i].body),
                                               .path = "/v1/check",
                                               .public_url = "https://pins.example"};
        refuse_each(&request);
    }
}

/* The query is read anew each time, as its own allocations are refused too. */
static void
a_link_is_answered_or_refused(void **state)
{
    (void)state;
    static const char *const queries[] = {
        "engine.bore=5.25in&engine.stroke=8&engine.peak_pressure=285&pin.diameter.nominal=1.375&pin.diameter.class=g6",
        "job=eyJlbmdpbmUiOnsiYm9yZSI6NX19",
        "inspection.readings.0.size=1.3745&inspection.readings.1.size=1.3742&pin.diameter=1.375",
    };
    for (size_t i = 0; i < sizeof queries / sizeof queries[0]; i++) {
        struct query query;
        const long before = out;
        assert_int_equal(query_open(&query, queries[i]), QUERY_READ);
        const struct answer_request request = {.call = CALL_check, .query = &query, .path = "/v1/check"};
        refuse_each(&request);
        query_close(&query);
        for (refused = 1; refused <= 2; refused++) {
            made = 0;
            assert_int_equal(query_open(&query, queries[i]), QUERY_NO_MEMORY);
            query_close(&query);
        }
        refused = 0;
        assert_int_equal(out, before);
    }
}

static void
a_table_is_told_or_refused(void **state)
{
    (void)state;
    static const char *const names[] = {"steels", "units", "checks", "fit-classes", "problems"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct reply reply;
        made = 0;
        assert_true(answer_table(names[i], NULL, &reply));
        assert_int_equal(reply.status, 200);
        reply_clear(&reply);
        const size_t count = made;
        assert_true(count > 0);
        for (size_t n = 1; n <= count; n++) {
            const long held = out;
            made = 0;
            refused = n;
            assert_true(answer_table(names[i], NULL, &reply));
            refused = 0;
            assert_true(reply.status == 503 && reply.length > 0);
            reply_clear(&reply);
            assert_int_equal(out, held);
        }
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_body_is_answered_or_refused),
        cmocka_unit_test(a_link_is_answered_or_refused),
        cmocka_unit_test(a_table_is_told_or_refused),
    };
    json_set_alloc_funcs(__wrap_malloc, __wrap_free);
    const int failed = cmocka_run_group_tests_name("every allocation of jansson's", tests, NULL, NULL);
    json_arena_install();
    return failed + cmocka_run_group_tests_name("as the service runs", tests, NULL, NULL);
}
