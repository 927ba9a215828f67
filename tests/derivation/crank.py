"""The slider-crank and the ideal cycle on a fine grid, for the independent derivation.

The piston's place comes from Pythagoras on a grid of 0.05 deg; its acceleration from that grid by differences, not
from a formula; extremes by looking at every point, means by the trapezium rule, the rubbing speed by adding up how
far the rod swings.
"""

import math

STEPS = 7200  # in one revolution: 0.05 deg
HALF = STEPS // 2


class Crank:
    """One revolution from the dead centre at which the engine fires."""

    def __init__(self, radius, rod):
        self.radius, self.rod = radius, rod
        step = 2.0 * math.pi / STEPS
        angles = [k * step for k in range(STEPS)]
        sines = [radius * math.sin(t) for t in angles]
        reach = [math.sqrt(rod * rod - s * s) for s in sines]
        self.travel = [radius + rod - radius * math.cos(t) - y for t, y in zip(angles, reach)]
        self.tangent = [s / y for s, y in zip(sines, reach)]  # of the rod's angle
        x = self.travel
        n = STEPS
        # Second difference of fourth order: the error is below 1e-10 of the greatest acceleration.
        self.acceleration = [(-x[k - 2] + 16.0 * x[k - 1] - 30.0 * x[k] + 16.0 * x[(k + 1) % n] - x[(k + 2) % n])
                             / (12.0 * step * step) for k in range(n)]  # per (rad/s)2

    def rod_angle_max(self):
        return max(math.atan(abs(t)) for t in self.tangent)

    def rod_swing(self):
        """Total of the rod's turning in one revolution, both ways counted, rad."""
        angles = [math.atan(t) for t in self.tangent]
        return sum(abs(angles[k] - angles[k - 1]) for k in range(STEPS))


class Cycle:
    """Loads over one working cycle. Pressures absolute; `speed` in rad/s, 0 leaves inertia out."""

    def __init__(self, crank, two_stroke, area, peak_gauge, ambient, intake, exponent, ratio, mass, speed):
        stroke = 2.0 * crank.radius
        clearance = stroke / (ratio - 1.0)
        expansion = [(peak_gauge + ambient) * (clearance / (clearance + crank.travel[k]))**exponent - ambient
                     for k in range(HALF + 1)]
        compression = [intake * ((clearance + stroke) / (clearance + crank.travel[k % STEPS]))**exponent - ambient
                       for k in range(HALF, STEPS + 1)]
        rest = [0.0] * (HALF + 1)
        down, up = list(range(HALF + 1)), [k % STEPS for k in range(HALF, STEPS + 1)]
        if two_stroke:
            strokes = ((down, expansion), (up, compression))
        else:
            strokes = ((down, expansion), (up, rest), (down, rest), (up, compression))
        inertia = [-mass * speed * speed * a for a in crank.acceleration]
        self.loads = []   # one list per stroke, both ends in it: pressure jumps at the dead centres
        self.thrusts = []
        for places, gauge in strokes:
            load = [area * p + inertia[k] for k, p in zip(places, gauge)]
            self.loads.append(load)
            self.thrusts.append([f * crank.tangent[k] for f, k in zip(load, places)])

    def load_max(self):
        return max(max(load) for load in self.loads)

    def load_min(self):
        return min(min(load) for load in self.loads)

    def load_mean(self):
        """Mean of the magnitude over the cycle."""
        total = sum(0.5 * (abs(a) + abs(b)) for load in self.loads for a, b in zip(load, load[1:]))
        return total / (len(self.loads) * HALF)

    def thrust_max(self):
        return max(max(map(abs, thrust)) for thrust in self.thrusts)
