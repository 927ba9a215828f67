#include "wire/reference_write.h"

#include <string.h>

#include "joint/job.h"
#include "support/close.h"

static void
the_reference_names_every_member(void **state)
{
    (void)state;
    struct buffer out;
    buffer_init(&out);
    reference_write_markdown(&out);
    assert_false(out.failed);
    for (int field = 0; field < FIELD_COUNT; field++) {
        assert_non_null(strstr(out.at, job_field_row((enum job_field)field)->path));
    }
    buffer_clear(&out);
}

/* Every element that is opened is closed, and nothing is fetched or run. */
static void
the_page_is_whole_and_asks_for_nothing(void **state)
{
    (void)state;
    static const char *const elements[] = {"table", "tr", "td", "th", "ul", "li", "p", "code", "strong", "a", "main"};
    struct buffer out;
    buffer_init(&out);
    reference_write_page(&out);
    assert_false(out.failed);
    for (size_t i = 0; i < sizeof elements / sizeof elements[0]; i++) {
        int open = 0;
        const size_t length = strlen(elements[i]);
        for (const char *at = strchr(out.at, '<'); at != NULL; at = strchr(at + 1, '<')) {
            const bool closes = at[1] == '/';
            const char *name = at + 1 + closes;
            if (strncmp(name, elements[i], length) == 0 && (name[length] == '>' || name[length] == ' ')) {
                open += closes ? -1 : 1;
                assert_true(open >= 0);
            }
        }
        assert_int_equal(open, 0);
    }
    assert_null(strstr(out.at, "<script"));
    assert_null(strstr(out.at, "src="));
    assert_null(strstr(out.at, "http://www"));
    buffer_clear(&out);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_reference_names_every_member),
        cmocka_unit_test(the_page_is_whole_and_asks_for_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
