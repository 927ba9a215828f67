/* Who is admitted by a bearer token. Hashes are those of coreutils' sha256sum. */

#include "seal/token.h"

#include "keys.h"

/* printf %s museum-42 | sha256sum; the same of other-43. */
#define MUSEUM "c018dca0473c5c7b05c6cde3aeac228b9f941986ee57f0a5119c3d7a1d7b90cb"
#define OTHER "243c1161648d04153fa8b92d9d2416187ce762c530d6377c164c7261b25dfcb7"

static int
set_up(void **state)
{
    static struct folder folder;
    folder_make(&folder);
    *state = &folder;
    return 0;
}

static int
tear_down(void **state)
{
    folder_remove(*state);
    return 0;
}

static bool
read_list(const struct folder *folder, const char *text, struct token_list *list, char fault[KEY_FAULT_SIZE])
{
    char path[PATH_BYTES];
    write_text(folder, 't', text, path);
    return token_read(list, path, fault);
}

static void
admits_everybody_where_none_is_wanted(void **state)
{
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    (void)state;
    assert_true(token_read(&list, "", fault));
    assert_true(token_admits(&list, NULL));
    assert_true(token_admits(&list, "Bearer anything"));
    token_clear(&list);
}

static void
admits_who_has_a_token_of_the_list(void **state)
{
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    assert_true(read_list(*state, "# the buyers\n\n  " MUSEUM "  -\r\n" OTHER " # till May\n", &list, fault));
    assert_int_equal(list.count, 2);
    assert_true(token_admits(&list, "Bearer museum-42"));
    assert_true(token_admits(&list, "bearer   museum-42 "));
    assert_true(token_admits(&list, "BEARER other-43"));
    token_clear(&list);
}

static void
admits_nobody_else(void **state)
{
    static const char *const headers[] = {
        NULL,
        "",
        "Bearer",
        "Bearer ",
        "Bearer museum-43",
        "Bearer museum-4",
        "Bearer museum-422",
        "Bearer Museum-42",
        "Bearermuseum-42",
        "Basic museum-42",
        "Bearer museum-42 x",
        "Bearer museum-42, Bearer museum-42",
        "museum-42",
        "Bearer " MUSEUM, /* the hash is no token */
    };
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    assert_true(read_list(*state, MUSEUM "\n" OTHER, &list, fault));
    for (size_t i = 0; i < sizeof headers / sizeof headers[0]; i++) {
        if (token_admits(&list, headers[i])) {
            fail_msg("admitted: %s", headers[i] != NULL ? headers[i] : "no header");
        }
    }
    token_clear(&list);
}

/* So can all be shut out without stopping the service. */
static void
admits_nobody_by_an_empty_list(void **state)
{
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    assert_true(read_list(*state, "# none at present\n", &list, fault));
    assert_true(list.wanted);
    assert_false(token_admits(&list, NULL));
    assert_false(token_admits(&list, "Bearer museum-42"));
    token_clear(&list);
}

static void
tells_the_line_but_not_what_stands_there(void **state)
{
    static const char *const wrong[] = {"museum-42", MUSEUM "0", "0123", MUSEUM " museum-42", MUSEUM "x"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct token_list list;
        char text[256], fault[KEY_FAULT_SIZE] = "";
        snprintf(text, sizeof text, "%s\n# x\n%s\n", OTHER, wrong[i]);
        assert_false(read_list(*state, text, &list, fault));
        assert_non_null(strstr(fault, "line 3"));
        assert_null(strstr(fault, "museum-42"));
        assert_null(list.hash);
    }
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    assert_false(token_read(&list, "/nowhere/tokens", fault));
    assert_non_null(strstr(fault, "/nowhere/tokens"));
}

static void
takes_so_many_tokens_and_no_more(void **state)
{
    struct token_list list;
    char fault[KEY_FAULT_SIZE] = "";
    struct buffer text;
    buffer_init(&text);
    for (int i = 0; i < TOKENS_MAX; i++) {
        buffer_add(&text, OTHER "\n");
    }
    assert_true(read_list(*state, text.at, &list, fault));
    assert_int_equal(list.count, TOKENS_MAX);
    token_clear(&list);
    buffer_add(&text, MUSEUM "\n");
    assert_false(read_list(*state, text.at, &list, fault));
    buffer_clear(&text);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(admits_everybody_where_none_is_wanted, set_up, tear_down),
        cmocka_unit_test_setup_teardown(admits_who_has_a_token_of_the_list, set_up, tear_down),
        cmocka_unit_test_setup_teardown(admits_nobody_else, set_up, tear_down),
        cmocka_unit_test_setup_teardown(admits_nobody_by_an_empty_list, set_up, tear_down),
        cmocka_unit_test_setup_teardown(tells_the_line_but_not_what_stands_there, set_up, tear_down),
        cmocka_unit_test_setup_teardown(takes_so_many_tokens_and_no_more, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
