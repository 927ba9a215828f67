"""The table of shares as a picture: a bar for each call; as strokes the goal, and what a plain parse alone leaves."""

from xml.sax.saxutils import escape

WIDTH, LEFT, ROW, TOP = 720, 190, 34, 64
SCALE = (WIDTH - LEFT - 60) / 1.0
PARSING, GOAL, PARSED = "bare that parses", "#b00", "#2a7d2a"
NAMES = [("bare", "of the bare handler", "#3a6ea5"), ("Fastify, 2 processes", "of Fastify, 2 processes", "#9a6a1f")]


def bar(x, y, share, colour):
    """A median with its spread; what is longer than the picture is cut and said."""
    median, low, high = share
    length = min(median, 1.0) * SCALE
    return (f'<rect x="{x}" y="{y}" width="{length:.1f}" height="11" fill="{colour}"/>'
            f'<line x1="{x + min(low, 1.0) * SCALE:.1f}" x2="{x + min(high, 1.0) * SCALE:.1f}" y1="{y + 5.5}" y2="{y + 5.5}" '
            f'stroke="currentColor"/><text x="{x + min(max(high, median), 1.0) * SCALE + 5:.1f}" y="{y + 10}">{median:.2f}</text>')


def draw(figures, machine):
    height = TOP + ROW * len(figures) + 20
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" font-family="sans-serif" font-size="11" '
           'fill="currentColor" color="#222"><title>Throughput of smallend beside others</title>'
           f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>'
           '<text x="10" y="20" font-size="14">Throughput at 8 connections, as a share of</text>']
    for i, (_, words, colour) in enumerate(NAMES):
        out.append(f'<rect x="{10 + i * 190}" y="30" width="12" height="11" fill="{colour}"/>'
                   f'<text x="{28 + i * 190}" y="40">{words}</text>')
    out.append(f'<text x="{10 + 2 * 190}" y="40"><tspan fill="{GOAL}">|</tspan> the goal  '
               f'<tspan fill="{PARSED}">|</tspan> bare that parses</text><text x="10" y="56">{escape(machine)}</text>')
    for i, one in enumerate(figures):
        y = TOP + i * ROW
        out.append(f'<text x="10" y="{y + 16}">{escape(one.case.name)}</text>')
        for k, (name, _, colour) in enumerate(NAMES):
            share = one.ratio(name)
            if share is not None:
                out.append(bar(LEFT, y + 12 * k, share, colour))
        parsing = one.ratio("bare", of=PARSING)
        for share, colour in ((one.case.goal, GOAL), (parsing and parsing[0], PARSED)):
            if share:
                x = LEFT + share * SCALE
                out.append(f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{y - 2}" y2="{y + 13}" stroke="{colour}" stroke-width="2"/>')
    return "\n".join(out + ["</svg>"]) + "\n"
