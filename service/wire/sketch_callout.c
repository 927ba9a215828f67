#include "wire/sketch_callout.h"

#include <math.h>

#include "wire/svg_measure.h"

/* Free space between words, and about a leader. */
static const double apart = 10.0, beside = 4.0;

void
sketch_band_add(struct sketch_band *band, double x, double off, const struct svg_letter *letter, const char *text)
{
    if (band->count >= SKETCH_CALLOUT_MAX) {
        return;
    }
    struct sketch_callout *item = &band->item[band->count++];

    *item = (struct sketch_callout){.at = {x, off}, .letter = letter};
    svg_text_cut(item->text, sizeof item->text, letter, text, band->right - band->left);
    item->width = fmin(svg_text_width(letter, item->text), band->right - band->left);
}

/* Would words and leader of `a` and `b` keep clear of each other? */
static bool
is_clear(const struct sketch_callout *a, const struct sketch_callout *b)
{
    const struct sketch_callout *upper = a->row > b->row ? a : b, *lower = a->row > b->row ? b : a;

    if (a->row == b->row) {
        return a->left + a->width + apart <= b->left || b->left + b->width + apart <= a->left;
    }
    return upper->at.x < lower->left - beside || upper->at.x > lower->left + lower->width + beside;
}

static bool
is_free(const struct sketch_band *band, size_t index)
{
    for (size_t i = 0; i < index; i++) {
        if (!is_clear(&band->item[index], &band->item[i])) {
            return false;
        }
    }
    return true;
}

/* Words may stand so that the leader leaves them here, as a share of their length. */
static const double leader_share[] = {0.5, 0.1, 0.9, 0.3, 0.7, 0.02, 0.98};

static void
place(struct sketch_band *band, size_t index)
{
    struct sketch_callout *item = &band->item[index];

    for (item->row = 0; item->row <= index; item->row++) {
        for (size_t i = 0; i < sizeof leader_share / sizeof leader_share[0]; i++) {
            const double left = item->at.x - leader_share[i] * item->width;

            item->left = fmax(band->left, fmin(left, band->right - item->width));
            if (is_free(band, index)) {
                return;
            }
        }
    }
    item->row = index; /* a row of its own; a leader may then pass behind words */
    item->left = fmax(band->left, fmin(item->at.x - item->width / 2.0, band->right - item->width));
}

void
sketch_band_layout(struct sketch_band *band)
{
    band->rows = 0;
    for (size_t i = 0; i < band->count; i++) {
        place(band, i);
        band->rows = band->item[i].row + 1 > band->rows ? band->item[i].row + 1 : band->rows;
    }
}

void
sketch_band_draw(struct buffer *out, const struct sketch_band *band, double bottom, double axis_y)
{
    for (size_t i = 0; i < band->count; i++) {
        const struct sketch_callout *item = &band->item[i];
        const double base = bottom - SKETCH_CALLOUT_ROW * (double)item->row;
        const double from_x = fmax(item->left + 3.0, fmin(item->at.x, item->left + item->width - 3.0));

        svg_line(out, from_x, base - 2.0, item->at.x, axis_y + item->at.y,
                 item->letter->marked ? SVG_INK_MARK : SVG_INK_THIN);
        if (!item->letter->marked) {
            svg_ellipse(out, item->at.x, axis_y + item->at.y, 1.8, 1.8, SVG_INK_NONE, SVG_FILL_INK);
        }
    }
    for (size_t i = 0; i < band->count; i++) {
        const struct sketch_callout *item = &band->item[i];
        const double base = bottom - 5.0 - SKETCH_CALLOUT_ROW * (double)item->row;

        svg_rect(out, item->left - 1.0, base - 10.0, item->left + item->width + 1.0, base + 3.0, SVG_INK_NONE,
                 SVG_FILL_PAPER);
        svg_text(out, item->left, base, SVG_START, item->letter, item->text);
    }
}
