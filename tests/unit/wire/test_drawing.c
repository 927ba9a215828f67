#include "ask.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "wire/drawing.h"

/* A picture of the call, as text owned by *reply. */
static const char *
picture(enum call call, const char *job, struct reply *reply)
{
    answer_call(call, job, strlen(job), ANSWER_SVG, NULL, reply, NULL);
    assert_int_equal(reply->status, 200);
    assert_string_equal(reply->content_type, "image/svg+xml");
    return reply->body;
}

/* Every element that is opened is closed, and nothing is no number. */
static void
assert_well_formed(const char *svg)
{
    int depth = 0;
    for (const char *at = strchr(svg, '<'); at != NULL; at = strchr(at + 1, '<')) {
        const char *end = strchr(at, '>');
        assert_non_null(end);
        depth += at[1] == '/' ? -1 : end[-1] == '/' ? 0 : 1;
        assert_true(depth >= 0);
    }
    assert_int_equal(depth, 0);
    assert_null(strstr(svg, "nan"));
    assert_null(strstr(svg, "inf\""));
    assert_null(strstr(svg, "<script"));
    assert_true(strncmp(svg, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 600 ", 57) == 0);
}

/* The number behind `name` from `at` on. */
static double
number_behind(const char *at, const char *name)
{
    const char *found = strstr(at, name);
    assert_non_null(found);
    return strtod(found + strlen(name), NULL);
}

/* No line and no rectangle leaves the picture. */
static void
assert_within(const char *svg)
{
    static const char *const names[] = {" x1=\"", " x2=\"", " x=\"", " cx=\""};
    static const char *const heights[] = {" y1=\"", " y2=\"", " y=\"", " cy=\""};
    const double high = number_behind(svg, "viewBox=\"0 0 600 ");
    const char *body = strstr(svg, "</defs>");
    assert_non_null(body);
    for (size_t i = 0; i < 4; i++) {
        for (const char *at = strstr(body, names[i]); at != NULL; at = strstr(at + 1, names[i])) {
            const double x = strtod(at + strlen(names[i]), NULL);
            assert_true(x >= -0.01 && x <= 600.01);
        }
        for (const char *at = strstr(body, heights[i]); at != NULL; at = strstr(at + 1, heights[i])) {
            const double y = strtod(at + strlen(heights[i]), NULL);
            assert_true(y >= -0.01 && y <= high + 0.01);
        }
    }
}

static void
every_call_that_has_a_drawing_answers_with_it(void **state)
{
    (void)state;
    int drawn = 0;
    for (int call = 0; call < CALL_COUNT; call++) {
        assert_int_equal((answer_forms((enum call)call) & 1u << ANSWER_SVG) != 0, drawing_of((enum call)call));
        drawn += drawing_of((enum call)call);
    }
    assert_true(drawing_of(CALL_load) && drawing_of(CALL_slot) && drawing_of(CALL_fit) && drawing_of(CALL_check));
    assert_int_equal(drawn, 4);
}

static void
an_ordinary_joint_is_drawn_within_its_picture(void **state)
{
    (void)state;
    static const enum call calls[] = {CALL_check, CALL_slot, CALL_fit, CALL_load};
    for (size_t i = 0; i < sizeof calls / sizeof calls[0]; i++) {
        struct reply reply;
        const char *svg = picture(calls[i], ORDINARY_JOB, &reply);
        assert_well_formed(svg);
        assert_within(svg);
        assert_non_null(strstr(svg, "<title"));
        assert_non_null(strstr(svg, "<desc"));
        reply_clear(&reply);
    }
}

static void
extremes_are_drawn_within_their_pictures(void **state)
{
    (void)state;
    static const char *const jobs[] = {
        "{}",
        "{\"engine\":{\"bore\":5}}",
        "{\"engine\":{\"bore\":5,\"stroke\":8,\"peak_pressure\":285}}",
        "{\"engine\":{\"bore\":\"1900 mm\"},\"pin\":{\"diameter\":\"4 mm\",\"length\":\"1800 mm\"}}",
        "{\"engine\":{\"bore\":\"12 mm\"},\"pin\":{\"diameter\":\"4 mm\",\"length\":\"9 mm\"}}",
        "{\"pin\":{\"diameter\":2,\"inside_diameter\":1.99,\"length\":8}}",
        "{\"pin\":{\"diameter\":2,\"length\":1}}",
        "{\"pin\":{\"diameter\":1.5,\"length\":4},\"slot\":{\"depth\":0.75,\"cutter_diameter\":0.1}}",
        "{\"pin\":{\"diameter\":1.5,\"length\":4},\"slot\":{\"depth\":1.4,\"cutter_diameter\":3}}",
        "{\"pin\":{\"diameter\":1,\"length\":4},\"eye\":{\"width\":3.9,\"outside\":12},\"boss\":{\"gap\":0.01}}",
        "{\"units\":\"metric\",\"pin\":{\"held_in\":\"floating\",\"diameter\":20,\"length\":60}}",
        "{\"set_screw\":{\"thread\":\"M10\",\"count\":2,\"flat_depth\":\"2 mm\"},\"pin\":{\"diameter\":1.5,\"length\":4}}",
        "{\"pin\":{\"diameter\":1.5,\"length\":4},\"clamp_bolt\":{\"diameter\":0.375,\"offset\":9}}",
    };
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        for (int call = CALL_load; call <= CALL_check; call++) {
            struct reply reply;
            if ((answer_forms((enum call)call) & 1u << ANSWER_SVG) == 0) {
                continue;
            }
            const char *svg = picture((enum call)call, jobs[i], &reply);
            assert_well_formed(svg);
            assert_within(svg);
            assert_non_null(strstr(svg, "engine is safe"));
            reply_clear(&reply);
        }
    }
}

static void
a_label_stays_text(void **state)
{
    (void)state;
    struct reply reply;
    const char *svg = picture(CALL_check, "{\"label\":\"<script>alert(1)</script>&\\\"'\",\"pin\":{\"diameter\":1}}",
                              &reply);
    assert_well_formed(svg);
    assert_non_null(strstr(svg, "&lt;script&gt;alert(1)&lt;/script&gt;&amp;&quot;&#39;"));
    reply_clear(&reply);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_call_that_has_a_drawing_answers_with_it),
        cmocka_unit_test(an_ordinary_joint_is_drawn_within_its_picture),
        cmocka_unit_test(extremes_are_drawn_within_their_pictures),
        cmocka_unit_test(a_label_stays_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
