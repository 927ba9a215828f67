"""Random but plausible joints of old stationary engines, as contract documents.

job(seed) gives the same document for the same seed. The ranges cover what is built and a margin beyond it: most
joints are ordinary, some undersized, some odd. Nothing here computes; sizes are only drawn so that they belong
together (the bolt near the slot, the hole near the pin).
"""

import random

import tables
import units

STRUCTURAL = ("grey_iron", "aluminium", "steel")
BUSHINGS = ("c93200", "c90500", "c54400", "c51000", "c86300", "c95400", "babbitt-tin", "babbitt-lead")
PRESSED = BUSHINGS[:6]
THREADS = (("1/4-20 UNC", 6.35), ("5/16-18 UNC", 7.9375), ("3/8-16 UNC", 9.525), ("7/16-14 UNC", 11.1125),
           ("1/2-13 UNC", 12.7), ("5/8-11 UNC", 15.875), ("3/4-10 UNC", 19.05), ("7/8-9 UNC", 22.225),
           ("1-8 UNC", 25.4), ("M6x1", 6.0), ("M8x1.25", 8.0), ("M10x1.5", 10.0), ("M12x1.75", 12.0), ("M16x2", 16.0),
           ("M20x2.5", 20.0), ("M24x3", 24.0))
OTHER_UNITS = {"length": ("in", "mm"), "force": ("lbf", "N"), "pressure": ("psi", "MPa", "bar"),
               "torque": ("lbf.ft", "N.m"), "temperature": ("degF", "degC"), "mass": ("lb", "kg")}


class Draw:
    """One document in the making."""

    def __init__(self, seed):
        self.random = random.Random(seed)
        self.system = self.random.choice(("inch", "metric"))

    def chance(self, share):
        return self.random.random() < share

    def between(self, low, high):
        return self.random.uniform(low, high)

    def of(self, *choices):
        return self.random.choice(choices)

    def written(self, value, dimension, digits=6):
        """A quantity as a client would write it: mostly a bare number, now and then text with a unit."""
        if self.chance(0.08) and dimension in OTHER_UNITS:
            symbol = self.of(*OTHER_UNITS[dimension])
            number = float("%.*g" % (digits, units.from_si(value, symbol)))
            if number > 0.0 and "e" not in repr(number):
                return "%r %s" % (number, symbol)
        symbol = units.DIMENSIONS[dimension][0 if self.system == "inch" else 1]
        return float("%.*g" % (digits, units.from_si(value, symbol)))

    def length(self, value, digits=6):
        return self.written(value, "length", digits)

    def range(self, low, high):
        """Limits of size in one of their forms; written to a tenth of a ten-thousandth."""
        place = 5 if self.system == "inch" else 4
        symbol = "in" if self.system == "inch" else "mm"

        def fixed(value):
            return round(units.from_si(value, symbol), place)

        if self.chance(0.3):
            nominal = round(units.from_si(low, symbol), 3)
            return {"nominal": nominal, "upper": round(fixed(high) - nominal, place),
                    "lower": round(fixed(low) - nominal, place)}
        return {"min": fixed(low), "max": fixed(high)}


def engine(draw):
    bore = draw.between(0.060, 0.250)
    if draw.chance(0.1):
        bore = draw.of(draw.between(0.020, 0.060), draw.between(0.250, 0.900))
    stroke = bore * draw.between(1.0, 1.7)
    group = {"bore": draw.length(bore), "stroke": draw.length(stroke)}
    if draw.chance(0.5):
        group["rod_length"] = draw.length(stroke * draw.between(1.9, 2.9))
    if draw.chance(0.4):
        group["cycle"] = draw.of("four_stroke", "two_stroke")
    if draw.chance(0.8):
        mean_speed = draw.between(6.0, 14.0) if draw.chance(0.08) else draw.between(1.2, 5.5)
        group["speed"] = float("%.4g" % min(mean_speed / (2.0 * stroke) * 60.0, 9000.0))
    given = draw.of("p", "p", "p", "p", "c", "c", "r", "r", "pc", "pr", "cr", "pcr", "")
    if "p" in given:
        group["peak_pressure"] = draw.written(draw.between(0.9e6, 3.6e6), "pressure")
    if "c" in given:
        group["compression_pressure"] = draw.written(draw.between(0.3e6, 0.9e6), "pressure")
    if "r" in given:
        group["compression_ratio"] = round(draw.between(3.2, 7.0), 2)
    if draw.chance(0.25):
        group["pressure_rise_ratio"] = round(draw.between(2.2, 5.0), 2)
    if draw.chance(0.2):
        group["polytropic_exponent"] = round(draw.between(1.22, 1.38), 3)
    if draw.chance(0.12):
        group["intake_pressure"] = draw.written(draw.between(0.085e6, 0.110e6), "pressure")
    if draw.chance(0.55):
        group["reciprocating_mass"] = draw.written(draw.between(1400.0, 5500.0) * bore**3, "mass")
    return group, bore, stroke


def steel(draw):
    if draw.chance(0.8):
        return draw.of(*tables.STEELS)
    tensile = draw.between(280e6, 2200e6) if draw.chance(0.2) else draw.between(350e6, 1500e6)
    own = {"tensile": draw.written(tensile, "pressure"),
           "yield": draw.written(tensile * draw.between(0.5, 0.9), "pressure"), "basis": "mill certificate"}
    if draw.chance(0.6):
        own.update(draw.of({"hardness": 180, "hardness_scale": "HB"}, {"hardness": 302, "hardness_scale": "HB"},
                           {"hardness": 30, "hardness_scale": "HRC"}, {"hardness": 60, "hardness_scale": "HRC"}))
    return own


def pin(draw, held, bore):
    size = bore * draw.between(0.17, 0.34)
    group = {}
    if held != "rod" or draw.chance(0.6):
        group["held_in"] = held
    if draw.chance(0.55):
        group["diameter"] = draw.length(size, 5)
    elif draw.chance(0.75):
        group["diameter"] = draw.range(size - draw.between(0.0, 60e-6), size)
    else:
        name = draw.of("g6", "h6", "f7", "h7", "RC2", "RC3", "LC2")
        group["diameter"] = {"nominal": draw.length(size, 4), "class": name}
    if draw.chance(0.5):
        group["length"] = draw.length(bore * draw.between(0.80, 0.93))
    if draw.chance(0.22):
        group["inside_diameter"] = draw.length(size * draw.between(0.30, 0.75))
    if draw.chance(0.9):
        group["steel"] = steel(draw)
    if draw.chance(0.4):
        group["finish"] = draw.of("turned", "ground", "drawn")
    if draw.chance(0.25):
        number, scale = draw.of((160, "HB"), (240, "HB"), (280, "HB"), (600, "HB"), (22, "HRC"), (30, "HRC"),
                                (50, "HRC"), (58, "HRC"))
        group.update(hardness=number, hardness_scale=scale)
    return group, size


def metals(draw, document):
    eye, boss = document.setdefault("eye", {}), document.setdefault("boss", {})
    if draw.chance(0.5):
        eye["metal"] = draw.of("steel", "grey_iron", "malleable_iron", "bronze")
    if draw.chance(0.5):
        eye["bushing"] = draw.of(*BUSHINGS)
    if draw.chance(0.5):
        boss["metal"] = draw.of(*STRUCTURAL)
    if draw.chance(0.35):
        boss["bushing"] = draw.of(*BUSHINGS)


def layout(draw, document, bore):
    eye, boss = document.setdefault("eye", {}), document.setdefault("boss", {})
    if draw.chance(0.6):
        eye["width"] = draw.length(bore * draw.between(0.30, 0.46))
    if draw.chance(0.45):
        boss["length"] = draw.length(bore * draw.between(0.15, 0.26))
    if draw.chance(0.4):
        boss["gap"] = draw.length(bore * draw.between(0.004, 0.03))


def lock(draw, document, size, force):
    """Slot and clamp bolt: the trough under the bolt with a little room, now and then too little."""
    depth, cutter = size * draw.between(0.035, 0.22), size * draw.between(0.10, 0.28)
    if draw.chance(0.06):
        depth, cutter = size * draw.between(0.01, 0.32), size * draw.between(0.04, 0.65)
    room = draw.between(-0.05e-3, 0.5e-3) if draw.chance(0.3) else draw.between(0.06e-3, 0.6e-3)
    bolt = {}
    if draw.chance(0.4):
        name, width_mm = draw.of(*THREADS)
        bolt["thread"], radius = name, width_mm * 0.5e-3
        cutter = radius + room
    else:
        radius = min(max(cutter - room, 0.3 * cutter, 0.6e-3), 0.099)
        bolt["diameter"] = draw.length(2.0 * radius)
    below = draw.between(-0.1e-3, 0.8e-3) if draw.chance(0.3) else draw.between(0.06e-3, 0.6e-3)
    bolt["offset"] = draw.length(size / 2.0 - depth + radius + below)
    document["slot"] = {"depth": draw.length(depth), "cutter_diameter": draw.length(2.0 * cutter)}
    if draw.chance(0.5):
        degrees = draw.of(0.0, 30.0, 90.0, 135.0, 180.0, round(draw.between(1.0, 179.0), 1))
        document["slot"]["angle"] = degrees
    if draw.chance(0.6):
        bolt["grade"] = draw.of(*tables.BOLTS)
    if draw.chance(0.7):
        bolt["torque"] = draw.written(0.2 * 2.0 * radius * draw.between(0.2, 1.2) * force, "torque")
        if draw.chance(0.3):
            bolt["nut_factor"] = draw.of(0.12, 0.18, 0.2, 0.3)
        if draw.chance(0.3):
            bolt["friction"] = draw.of(0.10, 0.12, 0.15)
    if draw.chance(0.3):
        bolt["hinge_offset"] = draw.length(size * draw.between(0.55, 1.2))
    if draw.chance(0.3):
        bolt["shear_planes"] = draw.of(1, 2)
    document["clamp_bolt"] = bolt
    if draw.chance(0.3):
        document["held_fit"] = {"hole": draw.range(size, size + draw.between(5e-6, 60e-6))}


def screws(draw, document, size, force):
    name, width_mm = draw.of(*([t for t in THREADS if t[1] < 1e3 * size * 0.6] or THREADS[:1]))
    seating = 1.65e5 * (width_mm * 1e-3)**2  # N.m, about what makers print
    document["set_screw"] = {"thread": name, "torque": draw.written(draw.between(0.3, 1.2) * seating, "torque")}
    if draw.chance(0.8):
        document["set_screw"]["flat_depth"] = draw.length(size * draw.between(0.02, 0.12))
    if draw.chance(0.5):
        document["set_screw"]["count"] = draw.of(1, 2, 3, 4)
    if draw.chance(0.5):
        document["set_screw"]["point"] = draw.of("cup", "cone", "flat", "dog")


def running_fit(draw, document, size):
    clearance = draw.between(-0.2, 3.5) * 0.001 * size
    group = {"hole": draw.range(size + clearance, size + clearance + draw.between(5e-6, 45e-6))}
    if draw.chance(0.1):
        group["hole"] = {"nominal": draw.length(size, 4), "class": draw.of("H6", "H7", "H8", "F7", "G7", "RC3", "RC4")}
    if draw.chance(0.25):
        group["at"] = draw.of("boss", "eye")
    # a class may put the pin beside what is drawn here, and two sizes of one pin contradict
    diameter = document["pin"].get("diameter", {"class": None})
    if draw.chance(0.12) and "class" not in (diameter if isinstance(diameter, dict) else {}):
        group["pin"] = draw.range(size - draw.between(10e-6, 40e-6), size)
    if draw.chance(0.5):
        group["pin_temperature"] = draw.written(draw.between(50.0, 160.0), "temperature")
    if draw.chance(0.5):
        group["hole_temperature"] = draw.written(draw.between(50.0, 180.0), "temperature")
    if draw.chance(0.15):
        group["hole_metal"] = draw.of(*STRUCTURAL, "c93200", "c95400")
    if draw.chance(0.12):
        least = size * draw.between(0.0003, 0.001)
        group["wanted"] = {"min": draw.length(least), "max": draw.length(least + size * draw.between(0.0005, 0.0015))}
    document["running_fit"] = group


def press_fit(draw, document, size):
    wall = size * draw.between(0.06, 0.16)
    housing = size + 2.0 * wall
    tight = housing * draw.between(-0.1, 1.6) * 0.001
    group = {"housing_bore": draw.range(housing, housing + draw.between(5e-6, 30e-6)),
             "bushing_bore": draw.length(size + draw.between(-50e-6, 100e-6)),
             "housing_outside": draw.length(housing * draw.between(1.25, 2.0)), "bushing_metal": draw.of(*PRESSED)}
    if draw.chance(0.85):
        group["bushing_outside"] = draw.range(housing + tight, housing + tight + draw.between(5e-6, 30e-6))
    if draw.chance(0.85):
        group["length"] = draw.length(size * draw.between(0.8, 2.2))
    if draw.chance(0.6):
        group["housing_metal"] = draw.of(*STRUCTURAL)
    if draw.chance(0.3):
        group["friction"] = draw.of(0.05, 0.1, 0.15)
    if draw.chance(0.5):
        group["temperature"] = draw.written(draw.between(50.0, 180.0), "temperature")
    document["press_fit"] = group


def limits(draw, document, bore):
    choices = {"boss_pressure": lambda: draw.written(draw.between(5e6, 40e6), "pressure"),
               "eye_pressure": lambda: draw.written(draw.between(5e6, 40e6), "pressure"),
               "bending_factor": lambda: round(draw.between(1.1, 3.0), 2),
               "fatigue_factor": lambda: round(draw.between(0.8, 2.0), 2),
               "shear_factor": lambda: round(draw.between(1.1, 3.0), 2),
               "bolt_factor": lambda: round(draw.between(1.0, 3.0), 2),
               "edge_slope": lambda: round(draw.between(0.0008, 0.004), 5),
               "wall_clearance": lambda: draw.length(bore * draw.between(0.003, 0.02))}
    document["limits"] = {name: choices[name]() for name in draw.random.sample(sorted(choices), draw.of(1, 2, 3))}


def thin_out(draw, document):
    """Leaves members out at random: absence is never an error, only something that cannot be judged."""
    share = draw.of(0.05, 0.15, 0.35)
    for group in [name for name in document if name != "units"]:
        for member in list(document[group]):
            if draw.chance(share):
                del document[group][member]
    pin = document["pin"]
    if "hardness" not in pin:
        pin.pop("hardness_scale", None)


def job(seed):
    """The document of that seed."""
    draw = Draw(seed)
    document = {}
    if draw.system == "metric" or draw.chance(0.5):
        document["units"] = draw.system
    document["engine"], bore, _ = engine(draw)
    held = draw.of("rod", "rod", "rod", "piston", "floating")
    document["pin"], size = pin(draw, held, bore)
    force = 2.0e6 * bore * bore * 0.785
    metals(draw, document)
    layout(draw, document, bore)
    if held == "rod" and draw.chance(0.8):
        lock(draw, document, size, force)
        if "inside_diameter" in document["pin"] and draw.chance(0.5):
            del document["pin"]["inside_diameter"]
    if held == "piston" and draw.chance(0.6):
        screws(draw, document, size, force)
    if draw.chance(0.6):
        running_fit(draw, document, size)
    if draw.chance(0.35):
        press_fit(draw, document, size)
    if draw.chance(0.25):
        demand = document["demand"] = {}
        if draw.chance(0.7):
            demand["axial"] = draw.written(force * draw.between(0.01, 0.1), "force")
        if draw.chance(0.7):
            demand["torque"] = draw.written(force * size * draw.between(0.02, 0.1), "torque")
    if draw.chance(0.3):
        limits(draw, document, bore)
    if draw.chance(0.3):
        thin_out(draw, document)
    return {name: group for name, group in document.items() if group != {}}
