"""Sections, rings, beams and slots by numerical means, for the independent derivation.

Nothing here uses the closed forms of the engineering notes where a quadrature, a linear solution, a scan or a
bisection can take their place; agreement with the service then says something about both.
"""

import math

# ---------------------------------------------------------------- quadrature


def simpson(function, low, high, count=600):
    """Composite Simpson rule with `count` (even) intervals."""
    step = (high - low) / count
    total = function(low) + function(high)
    for k in range(1, count):
        total += function(low + k * step) * (4.0 if k % 2 else 2.0)
    return total * step / 3.0


def bisect(function, low, high, rounds=200):
    """Root of a function that changes sign once between low and high."""
    sign = function(low) > 0.0
    for _ in range(rounds):
        middle = 0.5 * (low + high)
        if (function(middle) > 0.0) == sign:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def least_of(function, low, high, count=4000):
    """Least value by a brute-force scan, then a golden search between the neighbours of the best point."""
    step = (high - low) / count
    values = [function(low + k * step) for k in range(count)] + [function(high)]
    best = min(range(count + 1), key=values.__getitem__)
    left, right = low + max(best - 1, 0) * step, min(low + (best + 1) * step, high)
    ratio = (math.sqrt(5.0) - 1.0) / 2.0
    for _ in range(80):
        a, b = right - ratio * (right - left), left + ratio * (right - left)
        if function(a) <= function(b):
            right = b
        else:
            left = a
    return min(values[best], function(0.5 * (left + right)))


# ---------------------------------------------------------------- cut round section


def disc_moments(radius, top):
    """Area, first and second moment about the centre's horizontal axis, and second moment about the vertical axis,
    of the disc below the height `top` (at most `radius`), by quadrature over the height z = R sin t."""
    end = math.asin(max(-1.0, min(1.0, top / radius)))
    start = -math.pi / 2.0

    def strip(power):
        def integrand(t):
            width, z = 2.0 * radius * math.cos(t), radius * math.sin(t)
            return width * z**power * radius * math.cos(t)
        return simpson(integrand, start, end)

    def side(t):
        return (2.0 * radius * math.cos(t))**3 / 12.0 * radius * math.cos(t)

    return strip(0), strip(1), strip(2), simpson(side, start, end)


class CutSection:
    """A round, solid or hollow, less the segment of height `depth` at its top (+z)."""

    def __init__(self, outside, inside, depth):
        self.radius = outside / 2.0
        self.floor = self.radius - depth
        area, first, second, side = disc_moments(self.radius, self.floor)
        if inside > 0.0:
            bore = disc_moments(inside / 2.0, min(self.floor, inside / 2.0))
            area, first, second, side = (a - b for a, b in zip((area, first, second, side), bore))
        self.area = area
        self.centre = first / area
        self.inertia = second - area * self.centre**2
        self.inertia_side = side
        self.modulus_floor = self.inertia / (self.floor - self.centre)
        self.modulus_far = self.inertia / (self.centre + self.radius)
        self.half_chord = bisect(lambda y: y * y + self.floor**2 - self.radius**2, 0.0, self.radius)

    def greatest_stress(self, moment, angle):
        """Greatest nominal stress on the outline under a moment turned by `angle`, by walking round the arc."""
        upright, across = abs(moment * math.cos(angle)), abs(moment * math.sin(angle))
        edge = math.acos(max(-1.0, min(1.0, self.floor / self.radius)))

        def negative(t):
            y, z = self.radius * math.sin(t), self.radius * math.cos(t)
            return -(upright * abs(z - self.centre) / self.inertia + across * abs(y) / self.inertia_side)

        return -least_of(negative, edge, math.pi, 2000)


def segment_area(radius, height):
    """Area of the segment of that height, by quadrature."""
    return math.pi * radius**2 - disc_moments(radius, radius - height)[0]


def round_section(outside, inside):
    """Area, second moment and modulus of a plain round."""
    area, _, second, _ = disc_moments(outside / 2.0, outside / 2.0)
    if inside > 0.0:
        bore = disc_moments(inside / 2.0, inside / 2.0)
        area, second = area - bore[0], second - bore[2]
    return area, second, second / (outside / 2.0)


def greatest_shear_stress(shear, outside, inside):
    """V Q / (I t) on the middle plane, Q by quadrature of the upper half."""
    def half_first_moment(diameter):
        radius = diameter / 2.0
        return simpson(lambda t: 2.0 * (radius * math.cos(t))**2 * radius * math.sin(t), 0.0, math.pi / 2.0)
    moment = half_first_moment(outside) - (half_first_moment(inside) if inside > 0.0 else 0.0)
    return shear * moment / (round_section(outside, inside)[1] * (outside - inside))


# ---------------------------------------------------------------- pin as a beam


def moment_at_middle(force, eye, gap, boss, model):
    """Mid-length moment from the loads on one half of the pin, integrated: arms of the boss load less those of
    the half eye load. model: 'uniform', 'triangular' (boss pressure falls to 0 at the outer edge), 'concentrated'."""
    if model == "concentrated":
        return force / 2.0 * (eye / 2.0 + gap + boss / 2.0)
    inner = eye / 2.0 + gap
    if model == "triangular":
        def boss_load(x):
            return force / boss * (1.0 - (x - inner) / boss)
    else:
        def boss_load(_):
            return force / 2.0 / boss
    outward = simpson(lambda x: boss_load(x) * x, inner, inner + boss)
    inward = simpson(lambda x: force / eye * x, 0.0, eye / 2.0)
    return outward - inward


def beam_bending(force, eye, gap, boss, stiffness):
    """Deflection and end slope of the pin on supports at the boss centres, load uniform over the eye, by
    integrating the moment curve twice (E I = stiffness)."""
    half, start = eye / 2.0 + gap + boss / 2.0, gap + boss / 2.0

    def moment(x):
        over = max(0.0, x - start)
        return force / 2.0 * x - force / eye * over * over / 2.0

    # Slope at the support is the whole area of M/EI up to the middle, where the slope is zero.
    pieces = ((0.0, start, 200), (start, half, 200))
    slope = sum(simpson(moment, low, high, count) for low, high, count in pieces) / stiffness
    # Second integration: fine trapezia of the slope, corrected by Richardson's rule.

    def sag(count):
        total, turned = 0.0, slope
        for low, high, _ in pieces:
            step = (high - low) / count
            for k in range(count):
                x = low + k * step
                bend = (moment(x) + 4.0 * moment(x + step / 2.0) + moment(x + step)) * step / 6.0 / stiffness
                total += step * (turned + (turned - bend)) / 2.0
                turned -= bend
        return total

    coarse, fine = sag(100), sag(200)
    return fine + (fine - coarse) / 3.0, slope


def beam_shear(force, eye, gap, boss, stiffness):
    """Deflection by shear, the integral of V over k G A = stiffness from the boss centre to the middle."""
    start, half = gap + boss / 2.0, eye / 2.0 + gap + boss / 2.0
    gaps = simpson(lambda x: force / 2.0, 0.0, start, 2)
    over_eye = simpson(lambda x: force / 2.0 - force / eye * (x - start), start, half, 2)
    return (gaps + over_eye) / stiffness


# ---------------------------------------------------------------- rings pressed together


def solve(matrix, right):
    """Gauss elimination with partial pivoting."""
    size = len(right)
    rows = [list(row) + [value] for row, value in zip(matrix, right)]
    for column in range(size):
        pivot = max(range(column, size), key=lambda r: abs(rows[r][column]))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for r in range(column + 1, size):
            factor = rows[r][column] / rows[column][column]
            rows[r] = [x - factor * y for x, y in zip(rows[r], rows[column])]
    result = [0.0] * size
    for r in reversed(range(size)):
        known = sum(rows[r][c] * result[c] for c in range(r + 1, size))
        result[r] = (rows[r][size] - known) / rows[r][r]
    return result


class PressedRings:
    """Two rings in plane stress, one pressed into the other: radial stress A - B/r2 in each, hoop A + B/r2,
    displacement ((1-nu) A r + (1+nu) B/r)/E. The four constants follow from a free bore, a free outside, equal
    radial stress where they touch, and the interference."""

    def __init__(self, bore, interface, outside, interference, bushing, housing):
        a, b, c = (1.0, interface / bore, outside / bore)
        (e_bush, nu_bush), (e_house, nu_house) = bushing, housing
        scale = e_bush
        matrix = [
            [1.0, -1.0 / a**2, 0.0, 0.0],
            [0.0, 0.0, 1.0, -1.0 / c**2],
            [1.0, -1.0 / b**2, -1.0, 1.0 / b**2],
            [-(1.0 - nu_bush) * b, -(1.0 + nu_bush) / b,
             (1.0 - nu_house) * b * scale / e_house, (1.0 + nu_house) / b * scale / e_house],
        ]
        jump = interference / bore * scale
        a1, b1, a2, b2 = solve(matrix, [0.0, 0.0, 0.0, jump])
        self.pressure = -(a1 - b1 / b**2)
        self.hoop_bushing_bore = a1 + b1 / a**2
        self.hoop_bushing_outside = a1 + b1 / b**2
        self.hoop_housing_bore = a2 + b2 / b**2
        self.closure = -bore * ((1.0 - nu_bush) * a1 * a + (1.0 + nu_bush) * b1 / a) / e_bush
        self.housing_growth = bore * ((1.0 - nu_house) * a2 * b + (1.0 + nu_house) * b2 / b) / e_house


# ---------------------------------------------------------------- slot and bolt


def axial_play(radius, depth, cutter_radius, bolt_radius, offset):
    """Travel of the pin each way before the trough's flank meets the bolt: the least, over all heights at which
    both are in the pin's metal, of half trough width less half bolt width. None where they never meet, or where
    the bolt is larger than the trough somewhere (negative play)."""
    trough = radius - depth + cutter_radius
    low, high = offset - bolt_radius, min(radius, offset + bolt_radius)
    if low >= high:
        return None

    def room(z):
        below = trough - z
        if below >= cutter_radius:
            half_trough = 0.0
        else:
            half_trough = math.sqrt(cutter_radius**2 - below**2) if below > 0.0 else cutter_radius
        return half_trough - math.sqrt(max(0.0, bolt_radius**2 - (z - offset)**2))

    return least_of(room, low, high)


def rotational_play(radius, depth, bolt_low):
    """Turn each way until the edge of the slot's floor rises to the lowest line of the bolt, by bisection on the
    height of that edge."""
    floor = radius - depth
    edge = bisect(lambda t: radius * math.cos(t) - floor, 0.0, math.pi)
    if radius * math.cos(edge) > bolt_low:
        return None
    return bisect(lambda turn: radius * math.cos(edge - turn) - bolt_low, 0.0, edge)


def trough_mouth(depth, cutter_radius):
    """Width of the trough at the pin's surface, from the circle of the cutter by bisection."""
    if depth >= cutter_radius:
        return 2.0 * cutter_radius
    up = cutter_radius - depth
    return 2.0 * bisect(lambda y: y * y + up * up - cutter_radius**2, 0.0, cutter_radius)
