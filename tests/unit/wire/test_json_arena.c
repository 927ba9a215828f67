#include "ask.h"

#include <stdint.h>

#include "wire/json_arena.h"

static bool
lies_in(const struct json_arena *arena, const void *block)
{
    return (uintptr_t)block - (uintptr_t)arena->block < JSON_ARENA_SIZE;
}

static void
a_job_fits_into_it(void **state)
{
    (void)state;
    struct json_text_fault fault;
    struct json_arena arena;
    json_arena_begin(&arena);
    json_t *root = json_text_read(ORDINARY_JOB, strlen(ORDINARY_JOB), &fault);
    assert_non_null(root);
    assert_true(lies_in(&arena, root));
    assert_true(lies_in(&arena, json_object_get(root, "engine")));
    assert_false(arena.overflow);
    assert_true(arena.used > 0 && arena.used <= JSON_ARENA_SIZE);
    json_arena_end(&arena, root);
}

/* What does not fit comes from malloc, and goes back there: the sanitizer of
 * this program would tell of what is lost or given back twice. */
static void
a_larger_tree_goes_beyond_it_and_is_given_back(void **state)
{
    (void)state;
    struct json_arena arena;
    json_arena_begin(&arena);
    json_t *list = json_array();
    for (int i = 0; i < 2 * JSON_ARENA_SIZE / 16; i++) {
        assert_int_equal(json_array_append_new(list, json_real(i)), 0);
    }
    assert_true(arena.overflow);
    assert_true(lies_in(&arena, list));
    assert_false(lies_in(&arena, json_array_get(list, json_array_size(list) - 1)));
    assert_true(json_real_value(json_array_get(list, 0)) == 0.0);
    assert_true(json_real_value(json_array_get(list, 1000)) == 1000.0);
    json_arena_end(&arena, list);
}

static void
blocks_are_aligned_and_apart(void **state)
{
    (void)state;
    struct json_arena arena;
    json_malloc_t take = NULL;
    json_free_t give_back = NULL;
    json_get_alloc_funcs(&take, &give_back);
    json_arena_begin(&arena);
    const char *end = NULL;
    for (size_t size = 1; size <= 64; size++) {
        char *block = take(size);
        assert_int_equal((uintptr_t)block % alignof(max_align_t), 0);
        assert_true(end == NULL || block >= end);
        memset(block, 0x5A, size);
        end = block + size;
        give_back(block);
    }
    void *large = take(JSON_ARENA_SIZE); /* as large as all of it: there is no room left for that */
    assert_false(lies_in(&arena, large));
    give_back(large);
    json_arena_end(&arena, NULL);
}

/* Behind its end, and before its beginning, jansson is as ever. */
static void
outside_of_it_memory_comes_from_malloc(void **state)
{
    (void)state;
    struct json_arena arena;
    json_t *before = json_string("before");
    json_arena_begin(&arena);
    json_t *within = json_string("within");
    json_arena_end(&arena, within);
    json_t *after = json_string("after");
    assert_false(lies_in(&arena, before));
    assert_true(lies_in(&arena, within));
    assert_false(lies_in(&arena, after));
    assert_string_equal(json_string_value(before), "before");
    json_decref(before);
    json_decref(after);
}

/* A link that no parameters can spell holds the document as jansson writes it:
 * that text too goes back to where it came from. */
static void
the_text_of_a_document_is_given_back(void **state)
{
    (void)state;
    static const char body[] = "{\"label\":\"\",\"pin\":{\"diameter\":1.375}}";
    struct reply reply;
    answer_call(CALL_check, body, strlen(body), ANSWER_JSON, "/v1/check", &reply, NULL);
    assert_non_null(reply.location);
    assert_non_null(strstr(reply.location, "?job="));
    reply_clear(&reply);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_job_fits_into_it),
        cmocka_unit_test(a_larger_tree_goes_beyond_it_and_is_given_back),
        cmocka_unit_test(blocks_are_aligned_and_apart),
        cmocka_unit_test(outside_of_it_memory_comes_from_malloc),
        cmocka_unit_test(the_text_of_a_document_is_given_back),
    };
    json_arena_install();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
