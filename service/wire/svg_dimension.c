#include "wire/svg_dimension.h"

#include <math.h>

#include "base/text.h"
#include "wire/svg_measure.h"

/* Arrow heads fit between the witness lines from this distance on. */
static const double arrows_inside = 20.0;
/* Line beyond the witness line where the arrows stand outside. */
static const double tail = 12.0;
/* Free space about a figure. */
static const double clear = 4.0;
/* A witness line starts this far off the part and ends this far beyond the arrows. */
static const double witness_gap = 2.0, witness_over = 3.0;

struct span {
    double low, high;
};

void
svg_stack_init(struct svg_stack *stack, enum svg_side side, double first, double low, double high)
{
    *stack = (struct svg_stack){.side = side, .first = first, .low = low, .high = high};
}

void
svg_stack_add(struct svg_stack *stack, double from, double from_edge, double to, double to_edge, bool dashed,
              const char *text)
{
    const bool turned = from > to;

    if (stack->count >= SVG_DIMENSION_MAX || text[0] == '\0' || !(fabs(to - from) > 0.3)) {
        return;
    }
    struct svg_dimension *item = &stack->item[stack->count++];
    *item = (struct svg_dimension){.from = turned ? to : from,
                                   .to = turned ? from : to,
                                   .from_edge = turned ? to_edge : from_edge,
                                   .to_edge = turned ? from_edge : to_edge,
                                   .dashed = dashed};
    text_copy(item->text, sizeof item->text, text);
}

/* ---- layout ---- */

static double
length_of(const struct svg_dimension *item)
{
    return item->to - item->from;
}

static void
sort_by_length(struct svg_stack *stack)
{
    for (size_t i = 1; i < stack->count; i++) {
        const struct svg_dimension moved = stack->item[i];
        size_t place = i;

        while (place > 0 && length_of(&stack->item[place - 1]) > length_of(&moved)) {
            stack->item[place] = stack->item[place - 1];
            place--;
        }
        stack->item[place] = moved;
    }
}

static struct span
text_span(const struct svg_dimension *item)
{
    const double half = svg_text_width(&svg_plain, item->text) / 2.0;

    return (struct span){item->text_at - half, item->text_at + half};
}

/* The figure and the line, with the tails of arrows that stand outside. */
static struct span
whole_span(const struct svg_dimension *item)
{
    const struct span text = text_span(item);
    const double beyond = length_of(item) < arrows_inside ? tail : 0.0;

    return (struct span){fmin(text.low, item->from - beyond), fmax(text.high, item->to + beyond)};
}

static bool
within(const struct span *span, double place)
{
    return place > span->low - clear && place < span->high + clear;
}

static bool
overlap(const struct span *a, const struct span *b, double apart)
{
    return a->low < b->high + apart && b->low < a->high + apart;
}

/* Two in one row, end to end like the links of a chain: neither figure stands
 * on the other's line. */
static bool
is_chained(const struct svg_dimension *a, const struct svg_dimension *b)
{
    static const double same = 0.2;
    const struct span a_text = text_span(a), b_text = text_span(b);
    const struct span a_line = {a->from, a->to}, b_line = {b->from, b->to};
    const bool touch = fabs(a->from - b->to) < same || fabs(a->to - b->from) < same;

    return touch && length_of(a) >= arrows_inside && length_of(b) >= arrows_inside && !overlap(&a_text, &b_line, 0.0) &&
           !overlap(&b_text, &a_line, 0.0) && !overlap(&a_text, &b_text, clear);
}

/* Does one that has its place stand in the way of the item in its row, or of its
 * witness lines in the rows between it and the part? */
static bool
keeps_clear(const struct svg_dimension *item, const struct svg_dimension *other)
{
    const struct span mine = whole_span(item), theirs = whole_span(other), figure = text_span(other);

    if (other->row == item->row && overlap(&mine, &theirs, clear) && !is_chained(item, other)) {
        return false;
    }
    return other->row >= item->row || (!within(&figure, item->from) && !within(&figure, item->to));
}

/* Is the place of an item free? Items before `index` have theirs; those after it
 * come in this row or beyond, so their witness lines pass. */
static bool
is_free(const struct svg_stack *stack, size_t index)
{
    const struct svg_dimension *item = &stack->item[index];
    const struct span text = text_span(item);

    if (text.low < stack->low || text.high > stack->high) {
        return false;
    }
    for (size_t i = 0; i < stack->count; i++) {
        const struct svg_dimension *other = &stack->item[i];

        if (i < index && !keeps_clear(item, other)) {
            return false;
        }
        if (i > index && (within(&text, other->from) || within(&text, other->to))) {
            return false;
        }
    }
    return true;
}

/* Where the figure may stand: between the arrows, behind the line, before it. */
static bool
place_text(struct svg_dimension *item, int variant)
{
    const double width = svg_text_width(&svg_plain, item->text);
    const double off = tail + clear + width / 2.0;

    if (variant == 0) {
        item->text_at = (item->from + item->to) / 2.0;
        return width + 3.0 * clear <= length_of(item);
    }
    item->text_at = variant == 1 ? item->to + off : item->from - off;
    return true;
}

static void
place(struct svg_stack *stack, size_t index)
{
    struct svg_dimension *item = &stack->item[index];

    for (item->row = 0; item->row <= index; item->row++) {
        for (int variant = 0; variant < 3; variant++) {
            if (place_text(item, variant) && is_free(stack, index)) {
                return;
            }
        }
    }
    /* Nowhere free: a row of its own, the figure over the line. */
    const double half = svg_text_width(&svg_plain, item->text) / 2.0;

    item->row = stack->rows;
    item->text_at = fmin(fmax((item->from + item->to) / 2.0, stack->low + half), stack->high - half);
}

void
svg_stack_layout(struct svg_stack *stack)
{
    sort_by_length(stack);
    stack->rows = 0;
    for (size_t i = 0; i < stack->count; i++) {
        place(stack, i);
        stack->rows = stack->item[i].row + 1 > stack->rows ? stack->item[i].row + 1 : stack->rows;
    }
}

void
svg_stack_move(struct svg_stack *stack, double down)
{
    const double along = stack->side == SVG_BELOW ? 0.0 : down, across = stack->side == SVG_BELOW ? down : 0.0;

    stack->first += across;
    stack->low += along;
    stack->high += along;
    for (size_t i = 0; i < stack->count; i++) {
        struct svg_dimension *item = &stack->item[i];

        item->from += along;
        item->to += along;
        item->text_at += along;
        item->from_edge += across;
        item->to_edge += across;
    }
}

/* ---- drawing ---- */

static struct svg_point
point_of(const struct svg_stack *stack, double along, double across)
{
    return stack->side == SVG_BELOW ? (struct svg_point){along, across} : (struct svg_point){across, along};
}

/* Which way `across` grows away from the view. */
static double
away(const struct svg_stack *stack)
{
    return stack->side == SVG_LEFT ? -1.0 : 1.0;
}

static void
draw_straight(struct buffer *out, const struct svg_stack *stack, double along1, double across1, double along2,
              double across2, bool dashed)
{
    const struct svg_point a = point_of(stack, along1, across1), b = point_of(stack, along2, across2);

    svg_line(out, a.x, a.y, b.x, b.y, dashed ? SVG_INK_DASHED : SVG_INK_THIN);
}

static void
draw_head(struct buffer *out, const struct svg_stack *stack, double along, double across, double direction)
{
    const struct svg_point tip = point_of(stack, along, across);
    const struct svg_point flight = point_of(stack, direction, 0.0);

    svg_arrow_head(out, tip.x, tip.y, flight.x, flight.y, SVG_FILL_INK);
}

static void
draw_witness(struct buffer *out, const struct svg_stack *stack, double along, double edge, double row)
{
    const double start = edge + away(stack) * witness_gap;

    if ((row - start) * away(stack) > 0.0) {
        draw_straight(out, stack, along, start, along, row + away(stack) * witness_over, false);
    }
}

/* The figure on a piece of paper of its own, so that no line runs through it. */
static void
draw_figure(struct buffer *out, const struct svg_stack *stack, const struct svg_dimension *item, double row)
{
    const struct span text = text_span(item);
    const double base = row - 3.0;
    const struct svg_point a = point_of(stack, text.low, base + 2.0), b = point_of(stack, text.high, base - 9.0);

    svg_rect(out, a.x, a.y, b.x, b.y, SVG_INK_NONE, SVG_FILL_PAPER);
    if (stack->side == SVG_BELOW) {
        svg_text(out, item->text_at, base, SVG_MIDDLE, &svg_plain, item->text);
    } else {
        svg_text_turned(out, base, item->text_at, &svg_plain, item->text);
    }
}

static void
draw_item(struct buffer *out, const struct svg_stack *stack, const struct svg_dimension *item)
{
    const double row = stack->first + away(stack) * SVG_ROW * (double)item->row;
    const bool inside = length_of(item) >= arrows_inside;
    const struct span whole = whole_span(item), text = text_span(item);
    double low = inside ? item->from : item->from - tail, high = inside ? item->to : item->to + tail;

    /* A figure outside stands on the line, drawn out under it. */
    if (text.low >= item->to || text.high <= item->from) {
        low = fmin(low, whole.low);
        high = fmax(high, whole.high);
    }
    draw_straight(out, stack, low, row, high, row, item->dashed);
    draw_head(out, stack, item->from, row, inside ? -1.0 : 1.0);
    draw_head(out, stack, item->to, row, inside ? 1.0 : -1.0);
    draw_figure(out, stack, item, row);
}

void
svg_stack_draw(struct buffer *out, const struct svg_stack *stack)
{
    for (size_t i = 0; i < stack->count; i++) {
        const struct svg_dimension *item = &stack->item[i];
        const double row = stack->first + away(stack) * SVG_ROW * (double)item->row;

        draw_witness(out, stack, item->from, item->from_edge, row);
        draw_witness(out, stack, item->to, item->to_edge, row);
    }
    for (size_t i = 0; i < stack->count; i++) {
        draw_item(out, stack, &stack->item[i]);
    }
}
