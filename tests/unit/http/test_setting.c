#include "http/setting.h"

#include <stdlib.h>
#include <string.h>

#include "support/close.h"

static char fault[SETTING_FAULT_SIZE];

static enum setting_outcome
take(struct settings *settings, const char *name, const char *value)
{
    fault[0] = '\0';
    return setting_take_option(settings, name, strlen(name), value, fault);
}

static void
assert_refused(const char *name, const char *value)
{
    struct settings settings;
    memset(&settings, 0, sizeof settings);
    if (take(&settings, name, value) != SETTING_REFUSED) {
        fail_msg("--%s %s was not refused", name, value);
    }
    assert_non_null(strstr(fault, name));
}

static void
assert_taken(const char *name, const char *value)
{
    struct settings settings;
    memset(&settings, 0, sizeof settings);
    if (take(&settings, name, value) != SETTING_TAKEN) {
        fail_msg("--%s %s was refused: %s", name, value, fault);
    }
}

/* The values of the published contract, section "Running it". */
static void
has_the_defaults_of_the_contract(void **state)
{
    (void)state;
    struct settings settings;
    assert_true(setting_read_environment(&settings, fault));
    assert_string_equal(settings.listen, "127.0.0.1:8080");
    assert_string_equal(settings.cors_origins, "*");
    assert_int_equal(settings.max_body, 64 * 1024);
    assert_int_equal(settings.max_batch, 4 * 1024 * 1024);
    assert_int_equal(settings.max_batches, 16);
    assert_int_equal(settings.batch_limit_ms, 15000);
    assert_int_equal(settings.drain_delay_ms, 2000);
    assert_int_equal(settings.drain_limit_ms, 20000);
    assert_string_equal(settings.log, "json");
}

static void
reads_the_environment_and_lets_options_win(void **state)
{
    (void)state;
    struct settings settings;
    setenv("SMALLEND_THREADS", "32", 1);
    assert_true(setting_read_environment(&settings, fault));
    unsetenv("SMALLEND_THREADS");
    assert_int_equal(settings.threads, 32);
    assert_int_equal(take(&settings, "threads", "64"), SETTING_TAKEN);
    assert_int_equal(settings.threads, 64);
}

static void
names_the_variable_that_is_wrong(void **state)
{
    (void)state;
    struct settings settings;
    setenv("SMALLEND_MAX_BODY", "64 KiB", 1);
    assert_false(setting_read_environment(&settings, fault));
    unsetenv("SMALLEND_MAX_BODY");
    assert_non_null(strstr(fault, "SMALLEND_MAX_BODY"));
    assert_non_null(strstr(fault, "64 KiB"));
}

static void
refuses_numbers_outside_their_range(void **state)
{
    (void)state;
    assert_taken("threads", "4");
    assert_taken("drain-delay-ms", "0");
    assert_refused("threads", "3");
    assert_refused("threads", "2049");
    assert_refused("threads", "-4");
    assert_refused("threads", "+8");
    assert_refused("threads", " 8");
    assert_refused("threads", "8x");
    assert_refused("threads", "");
    assert_refused("threads", "99999999999999999999");
}

static void
takes_addresses_of_every_kind(void **state)
{
    (void)state;
    assert_taken("listen", "127.0.0.1:8080");
    assert_taken("listen", "0.0.0.0:0,[::1]:0");
    assert_taken("listen", "[::]:8080");
    assert_taken("listen", "localhost:8080");
    assert_taken("listen", "8080");
    assert_taken("listen", "+8080");
    assert_taken("listen", "8443s");
    assert_taken("listen", "127.0.0.1:0s,[::1]:8443s,localhost:8080");
    assert_taken("admin-listen", "");
}

static void
refuses_addresses_that_would_be_read_otherwise(void **state)
{
    (void)state;
    assert_refused("listen", "");
    assert_refused("listen", "127.0.0.1");
    assert_refused("listen", "127.0.0.1:");
    assert_refused("listen", ":8080");
    assert_refused("listen", "127.0.0.1:8080,");
    assert_refused("listen", "127.0.0.1:8080, [::1]:8080");
    assert_refused("listen", "127.0.0.1:8080ss");
    assert_refused("listen", "127.0.0.1:s");
    assert_refused("listen", "localhosts");
    assert_refused("listen", "s");
    assert_refused("listen", "127.0.0.1:8080r");
    assert_refused("listen", "127.0.0.1:808080");
    assert_refused("listen", "[::1:8080");
    assert_refused("listen", "[]:8080");
    assert_refused("listen", "http://127.0.0.1:8080");
}

static void
takes_origins_as_browsers_send_them(void **state)
{
    (void)state;
    assert_taken("cors-origins", "*");
    assert_taken("cors-origins", "");
    assert_taken("cors-origins", "https://example.org,http://localhost:5173");
    assert_refused("cors-origins", "example.org");
    assert_refused("cors-origins", "https://example.org/");
    assert_refused("cors-origins", "https://Example.org");
    assert_refused("cors-origins", "https://");
    assert_refused("cors-origins", "https://a.example, https://b.example");
    assert_refused("cors-origins", "*,https://a.example");
}

static void
takes_two_words_for_client_certificates(void **state)
{
    (void)state;
    assert_taken("tls-client", "require");
    assert_taken("tls-client", "ask");
    assert_refused("tls-client", "");
    assert_refused("tls-client", "optional");
}

static void
knows_the_log_modes_and_no_other_option(void **state)
{
    (void)state;
    struct settings settings;
    memset(&settings, 0, sizeof settings);
    assert_taken("log", "off");
    assert_refused("log", "xml");
    assert_int_equal(take(&settings, "thread", "8"), SETTING_UNKNOWN);
    assert_int_equal(take(&settings, "threadsx", "8"), SETTING_UNKNOWN);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(has_the_defaults_of_the_contract),
        cmocka_unit_test(reads_the_environment_and_lets_options_win),
        cmocka_unit_test(names_the_variable_that_is_wrong),
        cmocka_unit_test(refuses_numbers_outside_their_range),
        cmocka_unit_test(takes_addresses_of_every_kind),
        cmocka_unit_test(refuses_addresses_that_would_be_read_otherwise),
        cmocka_unit_test(takes_origins_as_browsers_send_them),
        cmocka_unit_test(takes_two_words_for_client_certificates),
        cmocka_unit_test(knows_the_log_modes_and_no_other_option),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
