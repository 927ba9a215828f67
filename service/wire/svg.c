#include "wire/svg.h"

#include <math.h>
#include <stdlib.h>

const struct svg_letter svg_plain = {.size = 11.0};
const struct svg_letter svg_bold = {.size = 11.0, .bold = true};
const struct svg_letter svg_title = {.size = 14.0, .bold = true};
const struct svg_letter svg_marked = {.size = 11.0, .bold = true, .marked = true};

/*
 * Ink and paper. The classes are the handle of the style sheet: l line, f
 * letters and full shapes, p paper, m marked line, g marked full shape, s shade.
 */
static const char *const ink_attributes[SVG_INK_COUNT] = {
    [SVG_INK_NONE] = "",
    [SVG_INK_OUTLINE] = " stroke=\"#000\" stroke-width=\"1.3\"",
    [SVG_INK_THIN] = " stroke=\"#000\" stroke-width=\"0.7\"",
    [SVG_INK_FINE] = " stroke=\"#000\" stroke-width=\"0.5\" stroke-opacity=\"0.6\"",
    [SVG_INK_CENTRE] = " stroke=\"#000\" stroke-width=\"0.6\" stroke-dasharray=\"12 3 2 3\"",
    [SVG_INK_DASHED] = " stroke=\"#000\" stroke-width=\"0.9\" stroke-dasharray=\"5 3\"",
    [SVG_INK_MARK] = " stroke=\"#b3261e\" stroke-width=\"1.8\"",
    [SVG_INK_HEAVY] = " stroke=\"#000\" stroke-width=\"2\"",
    [SVG_INK_LONG] = " stroke=\"#000\" stroke-width=\"1.3\" stroke-dasharray=\"9 4\"",
    [SVG_INK_DOTTED] = " stroke=\"#000\" stroke-width=\"1.5\" stroke-dasharray=\"1.5 3\"",
    [SVG_INK_DASH_DOT] = " stroke=\"#000\" stroke-width=\"1.3\" stroke-dasharray=\"9 3 2 3\"",
};

static const char *const fill_attributes[SVG_FILL_COUNT] = {
    [SVG_FILL_NONE] = " fill=\"none\"",
    [SVG_FILL_PAPER] = " fill=\"#fff\"",
    [SVG_FILL_INK] = " fill=\"#000\"",
    [SVG_FILL_MARK] = " fill=\"#b3261e\"",
    [SVG_FILL_BOSS] = " fill=\"url(#smallend-boss)\"",
    [SVG_FILL_EYE] = " fill=\"url(#smallend-eye)\"",
    [SVG_FILL_BUSHING] = " fill=\"url(#smallend-bushing)\"",
    [SVG_FILL_PIN] = " fill=\"url(#smallend-pin)\"",
    [SVG_FILL_BOLT] = " fill=\"url(#smallend-bolt)\"",
    [SVG_FILL_SHADE] = " fill=\"#e4e4e4\"",
};

static const char *const fill_class[SVG_FILL_COUNT] = {
    [SVG_FILL_NONE] = "", [SVG_FILL_PAPER] = " p", [SVG_FILL_INK] = " f",   [SVG_FILL_MARK] = " g",
    [SVG_FILL_BOSS] = "", [SVG_FILL_EYE] = "",     [SVG_FILL_BUSHING] = "", [SVG_FILL_PIN] = "",
    [SVG_FILL_BOLT] = "", [SVG_FILL_SHADE] = " s",
};

/* Constant, so that a content security policy can name its hash. */
static const char style_sheet[] = "<style>@media (prefers-color-scheme:dark){"
                                  ".l{stroke:#e8e8e8}.f{fill:#e8e8e8}.p{fill:#121417}.m{stroke:#ff9387}"
                                  ".g{fill:#ff9387}.s{fill:#33373d}}</style>\n";

static void
add_look(struct buffer *out, enum svg_ink ink, enum svg_fill fill)
{
    const char *stroke_class = ink == SVG_INK_NONE ? "" : ink == SVG_INK_MARK ? "m" : "l";
    const char *class_of_fill = fill_class[fill];

    if (stroke_class[0] == '\0' && class_of_fill[0] == ' ') {
        class_of_fill++;
    }
    if (stroke_class[0] != '\0' || class_of_fill[0] != '\0') {
        buffer_add(out, " class=\"");
        buffer_add(out, stroke_class);
        buffer_add(out, class_of_fill);
        buffer_add(out, "\"");
    }
    buffer_add(out, fill_attributes[fill]);
    buffer_add(out, ink_attributes[ink]);
}

/* ---- numbers ---- */

/* A picture has thousands of numbers, and printf took half of its time: they are
 * spelled here, from their end. */
void
svg_number(struct buffer *out, double value)
{
    static const double most = 1e6;
    const double held = !isfinite(value) ? 0.0 : value > most ? most : value < -most ? -most : value;
    const long hundredths = lround(held * 100.0);
    unsigned rest = (unsigned)labs(hundredths);
    char number[16];
    char *const end = number + sizeof number;
    char *at = end;

    for (int decimals = 2; decimals > 0; decimals--, rest /= 10) {
        if (at < end || rest % 10 != 0) {
            *--at = (char)('0' + rest % 10);
        }
    }
    if (at < end) {
        *--at = '.';
    }
    do {
        *--at = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest > 0);
    if (hundredths < 0) {
        *--at = '-';
    }
    buffer_add_bytes(out, at, (size_t)(end - at));
}

/* `begin` is the attribute up to its value: " x1=\"". */
static void
add_attribute(struct buffer *out, const char *begin, double value)
{
    buffer_add(out, begin);
    svg_number(out, value);
    buffer_add(out, "\"");
}

/* ---- the picture ---- */

/* Hatching of a cut part: lines `apart` along `angle`; crossed: both ways. */
static void
add_pattern(struct buffer *out, const char *id, int angle, int apart, bool crossed)
{
    buffer_format(out,
                  "<pattern id=\"smallend-%s\" patternUnits=\"userSpaceOnUse\" width=\"%d\" height=\"%d\" "
                  "patternTransform=\"rotate(%d)\">",
                  id, apart, apart, angle);
    svg_rect(out, 0.0, 0.0, apart, apart, SVG_INK_NONE, SVG_FILL_PAPER);
    svg_line(out, 0.0, apart / 2.0, apart, apart / 2.0, SVG_INK_THIN);
    if (crossed) {
        svg_line(out, apart / 2.0, 0.0, apart / 2.0, apart, SVG_INK_THIN);
    }
    buffer_add(out, "</pattern>\n");
}

void
svg_open(struct buffer *out, const char *name, double height, const char *title, const char *description)
{
    buffer_add(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ");
    svg_number(out, SVG_WIDTH);
    buffer_add(out, " ");
    svg_number(out, height);
    buffer_add(out, "\"");
    add_attribute(out, " width=\"", SVG_WIDTH);
    add_attribute(out, " height=\"", height);
    buffer_join(out, " role=\"img\" aria-labelledby=\"smallend-", name, "-title smallend-", name,
                "-desc\" font-family=\"sans-serif\" fill=\"none\" stroke-linejoin=\"round\">\n<title id=\"smallend-",
                name, "-title\">");
    svg_escape(out, title);
    buffer_join(out, "</title>\n<desc id=\"smallend-", name, "-desc\">");
    svg_escape(out, description);
    buffer_add(out, "</desc>\n");
    buffer_add(out, style_sheet);
    buffer_add(out, "<defs>\n");
    add_pattern(out, "boss", 45, 7, false);
    add_pattern(out, "eye", -45, 5, false);
    add_pattern(out, "bushing", 45, 3, false);
    add_pattern(out, "pin", 30, 9, false);
    add_pattern(out, "bolt", 45, 4, true);
    buffer_add(out, "</defs>\n");
    svg_rect(out, 0.0, 0.0, SVG_WIDTH, height, SVG_INK_NONE, SVG_FILL_PAPER);
}

void
svg_close(struct buffer *out)
{
    buffer_add(out, "</svg>\n");
}

/* ---- shapes ---- */

void
svg_line(struct buffer *out, double x1, double y1, double x2, double y2, enum svg_ink ink)
{
    buffer_add(out, "<line");
    add_attribute(out, " x1=\"", x1);
    add_attribute(out, " y1=\"", y1);
    add_attribute(out, " x2=\"", x2);
    add_attribute(out, " y2=\"", y2);
    add_look(out, ink, SVG_FILL_NONE);
    buffer_add(out, "/>\n");
}

void
svg_rect(struct buffer *out, double x1, double y1, double x2, double y2, enum svg_ink ink, enum svg_fill fill)
{
    buffer_add(out, "<rect");
    add_attribute(out, " x=\"", fmin(x1, x2));
    add_attribute(out, " y=\"", fmin(y1, y2));
    add_attribute(out, " width=\"", fabs(x2 - x1));
    add_attribute(out, " height=\"", fabs(y2 - y1));
    add_look(out, ink, fill);
    buffer_add(out, "/>\n");
}

void
svg_ellipse(struct buffer *out, double x, double y, double rx, double ry, enum svg_ink ink, enum svg_fill fill)
{
    buffer_add(out, "<ellipse");
    add_attribute(out, " cx=\"", x);
    add_attribute(out, " cy=\"", y);
    add_attribute(out, " rx=\"", fabs(rx));
    add_attribute(out, " ry=\"", fabs(ry));
    add_look(out, ink, fill);
    buffer_add(out, "/>\n");
}

void
svg_path_begin(struct buffer *out, enum svg_ink ink, enum svg_fill fill)
{
    buffer_add(out, "<path");
    add_look(out, ink, fill);
    buffer_add(out, " d=\"");
}

static void
add_step(struct buffer *out, const char *letter, double x, double y)
{
    buffer_add(out, letter);
    svg_number(out, x);
    buffer_add(out, " ");
    svg_number(out, y);
}

void
svg_path_move(struct buffer *out, double x, double y)
{
    add_step(out, "M", x, y);
}

void
svg_path_line(struct buffer *out, double x, double y)
{
    add_step(out, "L", x, y);
}

void
svg_path_parabola(struct buffer *out, double mx, double my, double x, double y)
{
    add_step(out, "Q", mx, my);
    add_step(out, " ", x, y);
}

void
svg_path_arc(struct buffer *out, double radius, bool longer, bool clockwise, double x, double y)
{
    add_step(out, "A", radius, radius);
    buffer_format(out, " 0 %d %d", longer, clockwise);
    add_step(out, " ", x, y);
}

void
svg_path_end(struct buffer *out, bool closed)
{
    buffer_add(out, closed ? "Z\"/>\n" : "\"/>\n");
}

void
svg_polyline(struct buffer *out, const struct svg_point *point, size_t count, bool closed, enum svg_ink ink,
             enum svg_fill fill)
{
    svg_path_begin(out, ink, fill);
    for (size_t i = 0; i < count; i++) {
        add_step(out, i == 0 ? "M" : "L", point[i].x, point[i].y);
    }
    svg_path_end(out, closed);
}

void
svg_arrow_head(struct buffer *out, double x, double y, double dx, double dy, enum svg_fill fill)
{
    static const double reach = 7.0, half = 2.2;
    const double length = hypot(dx, dy);

    if (!(length > 0.0)) {
        return;
    }
    const double ux = dx / length, uy = dy / length;
    const struct svg_point head[] = {{x, y},
                                     {x - reach * ux - half * uy, y - reach * uy + half * ux},
                                     {x - reach * ux + half * uy, y - reach * uy - half * ux}};
    svg_polyline(out, head, 3, true, SVG_INK_NONE, fill);
}

void
svg_break_line(struct buffer *out, double x1, double y1, double x2, double y2)
{
    /* Out to one side and back to the other, as a draughtsman's hand does it. */
    static const double sway[] = {0.0, 1.6, -0.8, -1.8, 0.6, 1.5, -1.2, 0.0};
    enum { STEPS = sizeof sway / sizeof sway[0] };
    struct svg_point point[STEPS];
    const double length = hypot(x2 - x1, y2 - y1), most = fmin(1.0, length / 25.0);
    const double ux = length > 0.0 ? most * (x2 - x1) / length : 0.0;
    const double uy = length > 0.0 ? most * (y2 - y1) / length : 0.0;

    for (size_t i = 0; i < STEPS; i++) {
        const double share = (double)i / (STEPS - 1);
        point[i].x = x1 + share * (x2 - x1) - sway[i] * uy;
        point[i].y = y1 + share * (y2 - y1) + sway[i] * ux;
    }
    svg_polyline(out, point, STEPS, false, SVG_INK_THIN, SVG_FILL_NONE);
}

/* ---- letters ---- */

static void
add_lettering(struct buffer *out, const struct svg_letter *letter, const char *text)
{
    add_attribute(out, " font-size=\"", letter->size);
    if (letter->bold) {
        buffer_add(out, " font-weight=\"bold\"");
    }
    add_look(out, SVG_INK_NONE, letter->marked ? SVG_FILL_MARK : SVG_FILL_INK);
    buffer_add(out, ">");
    svg_escape(out, text);
    buffer_add(out, "</text>\n");
}

void
svg_text(struct buffer *out, double x, double y, enum svg_anchor anchor, const struct svg_letter *letter,
         const char *text)
{
    buffer_add(out, "<text");
    add_attribute(out, " x=\"", x);
    add_attribute(out, " y=\"", y);
    if (anchor != SVG_START) {
        buffer_add(out, anchor == SVG_MIDDLE ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
    }
    add_lettering(out, letter, text);
}

void
svg_text_turned(struct buffer *out, double x, double y, const struct svg_letter *letter, const char *text)
{
    buffer_add(out, "<text text-anchor=\"middle\" transform=\"translate(");
    svg_number(out, x);
    buffer_add(out, " ");
    svg_number(out, y);
    buffer_add(out, ") rotate(-90)\"");
    add_lettering(out, letter, text);
}
