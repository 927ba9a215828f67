#include "base/base64url.h"

#include <string.h>

#include "support/close.h"

/* RFC 4648 section 10, its padding left out as RFC 7515 section 2 does. */
static const struct {
    const char *bytes, *text;
} vectors[] = {
    {"", ""},         {"f", "Zg"},         {"fo", "Zm8"},         {"foo", "Zm9v"},
    {"foob", "Zm9vYg"}, {"fooba", "Zm9vYmE"}, {"foobar", "Zm9vYmFy"},
};

static void
agrees_with_the_vectors_of_rfc_4648(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof vectors / sizeof vectors[0]; i++) {
        char text[16];
        unsigned char bytes[16];
        size_t count = 99;
        const size_t length = strlen(vectors[i].bytes);
        assert_int_equal(base64url_length(length), strlen(vectors[i].text));
        base64url_write(text, (const unsigned char *)vectors[i].bytes, length);
        assert_string_equal(text, vectors[i].text);
        assert_true(base64url_read(text, strlen(text), bytes, &count));
        assert_int_equal(count, length);
        assert_memory_equal(bytes, vectors[i].bytes, length);
    }
}

/* RFC 7515 appendix C. */
static void
agrees_with_the_example_of_rfc_7515(void **state)
{
    (void)state;
    static const unsigned char octets[] = {3, 236, 255, 224, 193};
    char text[16];
    base64url_write(text, octets, sizeof octets);
    assert_string_equal(text, "A-z_4ME");
}

static void
passes_over_padding(void **state)
{
    (void)state;
    unsigned char bytes[8];
    size_t count = 0;
    assert_true(base64url_read("Zg==", 4, bytes, &count));
    assert_int_equal(count, 1);
    assert_true(base64url_read("Zm8=", 4, bytes, &count));
    assert_int_equal(count, 2);
}

static void
refuses_what_is_no_base64url(void **state)
{
    (void)state;
    static const char *const wrong[] = {"A", "Zg=", "Z===", "=", "Zm9v=", "Zh", "Zm9", "a+b/", "Zm 9", "Zg==Zg=="};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        unsigned char bytes[8];
        size_t count = 0;
        assert_false(base64url_read(wrong[i], strlen(wrong[i]), bytes, &count));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_the_vectors_of_rfc_4648),
        cmocka_unit_test(agrees_with_the_example_of_rfc_7515),
        cmocka_unit_test(passes_over_padding),
        cmocka_unit_test(refuses_what_is_no_base64url),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
