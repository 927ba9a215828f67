/* Keys and tokens exchanged while others use them. */

#include "seal/seal.h"

#include "keys.h"

struct bench {
    struct folder folder;
    char key[PATH_BYTES], tokens[PATH_BYTES];
};

static int
set_up(void **state)
{
    static struct bench bench;
    folder_make(&bench.folder);
    write_private(&bench.folder, 'k', rfc8037_key(), bench.key);
    write_text(&bench.folder, 't', "# nobody\n", bench.tokens);
    *state = &bench;
    return 0;
}

static int
tear_down(void **state)
{
    struct bench *bench = *state;
    folder_remove(&bench->folder);
    return 0;
}

static void
open_seal(const struct bench *bench, struct seal *seal)
{
    const struct seal_files files = {.signing_keys = bench->key, .verify_keys = "", .tokens = bench->tokens};
    char fault[SEAL_FAULT_SIZE] = "";
    if (!seal_open(seal, &files, LOG_MODE_OFF, fault)) {
        fail_msg("%s", fault);
    }
}

static void
signs_as_a_notary(void **state)
{
    struct seal seal;
    struct buffer jws;
    char id[ORDER_ID_SIZE];
    open_seal(*state, &seal);
    struct seal_state *held = seal_hold(&seal);
    const struct notary notary = seal_notary(held);
    buffer_init(&jws);
    assert_string_equal(notary.key_id, RFC8037_THUMBPRINT);
    assert_true(notary.digest("", 0, id));
    assert_true(notary.sign(notary.context, "{}", 2, &jws));
    assert_true(jws.length > 100);
    buffer_clear(&jws);
    seal_let_go(held);
    seal_close(&seal);
}

static void
without_a_key_nothing_is_signed(void **state)
{
    struct seal seal;
    const struct seal_files files = {.signing_keys = "", .verify_keys = "", .tokens = ""};
    char fault[SEAL_FAULT_SIZE] = "";
    (void)state;
    assert_true(seal_open(&seal, &files, LOG_MODE_OFF, fault));
    struct seal_state *held = seal_hold(&seal);
    assert_null(seal_notary(held).sign);
    assert_null(seal_notary(held).key_id);
    assert_true(token_admits(&held->tokens, NULL));
    seal_let_go(held);
    seal_close(&seal);
}

static void
what_is_held_outlives_a_reload(void **state)
{
    struct bench *bench = *state;
    struct seal seal;
    char fault[SEAL_FAULT_SIZE] = "";
    open_seal(bench, &seal);
    struct seal_state *old = seal_hold(&seal);
    write_private(&bench->folder, 'k', rfc7515_key(), bench->key);
    assert_true(seal_reload(&seal, fault));
    struct seal_state *fresh = seal_hold(&seal);
    assert_ptr_not_equal(old, fresh);
    assert_string_equal(seal_notary(old).key_id, RFC8037_THUMBPRINT);
    assert_int_equal(keyring_signer(&fresh->ring)->kind, KEY_P256);
    seal_let_go(old);
    seal_let_go(fresh);
    seal_close(&seal);
}

static void
a_broken_file_changes_nothing(void **state)
{
    struct bench *bench = *state;
    struct seal seal;
    char fault[SEAL_FAULT_SIZE] = "";
    open_seal(bench, &seal);
    write_text(&bench->folder, 'k', "half a key", bench->key);
    assert_false(seal_reload(&seal, fault));
    assert_non_null(strstr(fault, bench->key));
    struct seal_state *held = seal_hold(&seal);
    assert_string_equal(seal_notary(held).key_id, RFC8037_THUMBPRINT);
    seal_let_go(held);
    write_private(&bench->folder, 'k', rfc8037_key(), bench->key);
    write_text(&bench->folder, 't', "no hash\n", bench->tokens);
    assert_false(seal_reload(&seal, fault));
    held = seal_hold(&seal);
    assert_true(held->tokens.wanted);
    seal_let_go(held);
    seal_close(&seal);
}

static void *
use(void *data)
{
    struct seal *seal = data;
    for (int i = 0; i < 2000; i++) {
        struct seal_state *held = seal_hold(seal);
        if (keyring_signer(&held->ring) == NULL || token_admits(&held->tokens, "Bearer x")) {
            seal_let_go(held);
            return NULL;
        }
        seal_let_go(held);
    }
    return seal;
}

static void
many_may_hold_it_while_it_is_read_again(void **state)
{
    enum { THREADS = 4 };
    struct seal seal;
    pthread_t thread[THREADS];
    char fault[SEAL_FAULT_SIZE] = "";
    open_seal(*state, &seal);
    for (int i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_create(&thread[i], NULL, use, &seal), 0);
    }
    for (int i = 0; i < 50; i++) {
        assert_true(seal_reload(&seal, fault));
    }
    for (int i = 0; i < THREADS; i++) {
        void *good = NULL;
        assert_int_equal(pthread_join(thread[i], &good), 0);
        assert_ptr_equal(good, &seal);
    }
    seal_close(&seal);
}

static void
does_not_open_on_a_broken_file(void **state)
{
    struct bench *bench = *state;
    struct seal seal;
    char fault[SEAL_FAULT_SIZE] = "";
    const struct seal_files files = {.signing_keys = "/nowhere.pem", .verify_keys = "", .tokens = bench->tokens};
    assert_false(seal_open(&seal, &files, LOG_MODE_OFF, fault));
    assert_non_null(strstr(fault, "/nowhere.pem"));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(signs_as_a_notary, set_up, tear_down),
        cmocka_unit_test_setup_teardown(without_a_key_nothing_is_signed, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_is_held_outlives_a_reload, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_broken_file_changes_nothing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(many_may_hold_it_while_it_is_read_again, set_up, tear_down),
        cmocka_unit_test_setup_teardown(does_not_open_on_a_broken_file, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
