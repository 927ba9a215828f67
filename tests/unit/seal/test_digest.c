#include "seal/digest.h"

#include "support/close.h"

/* FIPS 180-4 example values, as in the NIST file SHA256.pdf: "abc" and 448 bits. */
static void
gives_the_published_digests(void **state)
{
    (void)state;
    char id[ORDER_ID_SIZE];
    assert_true(digest_id("abc", 3, id));
    assert_string_equal(id, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assert_true(digest_id("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 56, id));
    assert_string_equal(id, "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    assert_true(digest_id("", 0, id));
    assert_string_equal(id, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_the_published_digests),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
