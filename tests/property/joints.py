"""Invented joints for the property tests: held in SI, written as a job in either unit system."""

import copy
import random

INCH, POUND, GRAVITY = 0.0254, 0.45359237, 9.80665
LBF = POUND * GRAVITY
RPM = 2 * 3.141592653589793 / 60

# Dimension: unit and size in SI of what a document of each system reads and writes.
INCH_UNITS = {
    "ratio": ("1", 1.0),
    "angle": ("deg", 3.141592653589793 / 180),
    "length": ("in", INCH),
    "force": ("lbf", LBF),
    "pressure": ("psi", LBF / INCH**2),
    "mass": ("lb", POUND),
    "rotation": ("rpm", RPM),
    "torque": ("lbf.ft", LBF * 12 * INCH),
    "temperature": ("degF", 1 / 1.8),
}
METRIC_UNITS = {
    "ratio": ("1", 1.0),
    "angle": ("deg", 3.141592653589793 / 180),
    "length": ("mm", 1e-3),
    "force": ("N", 1.0),
    "pressure": ("MPa", 1e6),
    "mass": ("kg", 1.0),
    "rotation": ("rpm", RPM),
    "torque": ("N.m", 1.0),
    "temperature": ("degC", 1.0),
}
SYSTEMS = {"inch": INCH_UNITS, "metric": METRIC_UNITS}

# What answers come in, and the size of each in SI (temperatures do not come).
ANSWER_UNITS = {
    "1": 1.0,
    "deg": 3.141592653589793 / 180,
    "in": INCH,
    "mm": 1e-3,
    "lbf": LBF,
    "N": 1.0,
    "psi": LBF / INCH**2,
    "MPa": 1e6,
    "lb": POUND,
    "kg": 1.0,
    "rpm": RPM,
    "lbf.ft": LBF * 12 * INCH,
    "N.m": 1.0,
    "uin": 1e-6 * INCH,
    "um": 1e-6,
    "ft/min": 12 * INCH / 60,
    "m/s": 1.0,
    "psi.ft/min": LBF / INCH**2 * 12 * INCH / 60,
    "MPa.m/s": 1e6,
    "in2": INCH**2,
    "mm2": 1e-6,
    "in3": INCH**3,
    "mm3": 1e-9,
    "lb/in3": POUND / INCH**3,
    "kg/m3": 1.0,
    "uin/in/degF": 1.8e-6,
    "um/m/K": 1e-6,
}


class Quantity:
    def __init__(self, si, dimension):
        self.si, self.dimension = si, dimension

    def in_system(self, system):
        unit, size = SYSTEMS[system][self.dimension]
        value = self.si / size + (32.0 if unit == "degF" else 0.0)
        return value, unit


def quantity(dimension):
    return lambda si: Quantity(si, dimension)


length, pressure, mass, rotation, torque, force, angle, ratio, degree = map(
    quantity, ("length", "pressure", "mass", "rotation", "torque", "force", "angle", "ratio", "temperature")
)

STEELS = ["1018-cd", "1045-cd", "1144-cd", "4140-bc", "8620-carb"]
THREADS = [
    ("5/16-18 UNC", 5 / 16 * INCH),
    ("3/8-16 UNC", 3 / 8 * INCH),
    ("7/16-14 UNC", 7 / 16 * INCH),
    ("1/2-13 UNC", INCH / 2),
    ("5/8-11 UNC", 5 / 8 * INCH),
    ("M8x1.25", 0.008),
    ("M10x1.5", 0.010),
    ("M12x1.75", 0.012),
    ("M16x2", 0.016),
]


def own_steel(tensile_Pa, yield_Pa):
    return {"tensile": pressure(tensile_Pa), "yield": pressure(yield_Pa), "basis": "mill certificate"}


def engine_of(rng, bore):
    stroke = bore * rng.uniform(1.0, 1.8)
    engine = {
        "cycle": rng.choice(["four_stroke", "four_stroke", "two_stroke"]),
        "bore": length(bore),
        "stroke": length(stroke),
        "rod_length": length(stroke * rng.uniform(1.9, 2.8)),
        "peak_pressure": pressure(rng.uniform(1.0e6, 3.5e6)),
        "reciprocating_mass": mass(rng.uniform(2000, 3500) * bore**3),
    }
    if rng.random() < 0.8:
        engine["speed"] = rotation(rng.uniform(200, 600) * RPM)
    return engine


def slot_and_bolt(rng, pin, thread):
    """A bolt that crosses the edge of the pin, and a trough that clears it."""
    bolt = thread[1]
    intrusion = rng.uniform(0.05, 0.12) * pin
    clearance = rng.uniform(0.004, 0.02) * pin
    depth = intrusion + clearance
    offset = pin / 2 + bolt / 2 - intrusion
    cutter = bolt + 2 * clearance * rng.uniform(0.8, 1.0)
    return (
        {
            "depth": length(depth),
            "cutter_diameter": length(cutter),
            "angle": angle(rng.choice([0.0, 0.0, rng.uniform(0, 3.1)])),
        },
        {
            "thread": thread[0],
            "grade": rng.choice(["SAE 5", "SAE 8", "8.8", "10.9"]),
            "offset": length(offset),
            "hinge_offset": length(offset * rng.uniform(0.9, 1.5)),
            "torque": torque(rng.uniform(20, 80)),
            "nut_factor": ratio(0.2),
            "friction": ratio(rng.uniform(0.1, 0.15)),
            "shear_planes": rng.choice([1, 2]),
        },
    )


def joint(seed):
    """A joint that an old engine could have; every member that matters to the answer is given."""
    rng = random.Random(seed)
    bore = rng.uniform(0.08, 0.25)
    pin = bore * rng.uniform(0.2, 0.3)
    eye, gap, boss = bore * rng.uniform(0.35, 0.42), bore * rng.uniform(0.005, 0.02), bore * rng.uniform(0.15, 0.2)
    thread = min(THREADS, key=lambda row: abs(row[1] - pin * rng.uniform(0.3, 0.45)))
    slot, bolt = slot_and_bolt(rng, pin, thread)
    clearance = rng.uniform(0.0004, 0.0016) * pin
    made = {
        "engine": engine_of(rng, bore),
        "pin": {
            "held_in": "rod",
            "diameter": length(pin),
            "length": length(eye + 2 * gap + 2 * boss),
            "finish": rng.choice(["turned", "ground"]),
            "steel": rng.choice(STEELS)
            if rng.random() < 0.6
            else own_steel(rng.uniform(5e8, 9e8), rng.uniform(3e8, 4.5e8)),
        },
        "eye": {"width": length(eye), "metal": "steel"},
        "boss": {"length": length(boss), "gap": length(gap), "metal": "grey_iron", "bushing": "c93200"},
        "slot": slot,
        "clamp_bolt": bolt,
        "held_fit": {"hole": length(pin + rng.uniform(0.0, 0.0005) * pin)},
        "running_fit": {
            "at": "boss",
            "pin": length(pin),
            "hole": {"min": length(pin + clearance), "max": length(pin + clearance + 1.5e-5)},
            "pin_temperature": degree(rng.uniform(20, 120)),
            "hole_temperature": degree(rng.uniform(20, 150)),
        },
    }
    if rng.random() < 0.3:
        made["pin"]["inside_diameter"] = length(pin * rng.uniform(0.4, 0.6))
    if rng.random() < 0.3:
        made["pin"]["held_in"] = rng.choice(["piston", "floating"])
        del made["slot"], made["clamp_bolt"], made["held_fit"]
        made["running_fit"]["at"] = "eye"
    return made


def changed(joint_, path, value):
    """A copy with one member set, or taken out where value is None."""
    copied = copy.deepcopy(joint_)
    place = copied
    *groups, name = path.split(".")
    for group in groups:
        place = place.setdefault(group, {})
    if value is None:
        place.pop(name, None)
    else:
        place[name] = value
    return copied


def scaled(joint_, k):
    """Lengths by k, forces by k^2 (pressures stay), torques and masses by k^3, speed by 1/k."""
    powers = {"length": 1, "force": 2, "torque": 3, "mass": 3, "rotation": -1}
    return walk(joint_, lambda q: Quantity(q.si * k ** powers.get(q.dimension, 0), q.dimension))


def walk(value, change):
    if isinstance(value, Quantity):
        return change(value)
    if isinstance(value, dict):
        return {name: walk(member, change) for name, member in value.items()}
    return value


def as_job(joint_, system="metric", as_text=False):
    """The job document; with as_text every quantity is a string with its unit."""

    def write(q):
        value, unit = q.in_system(system)
        return f"{value!r} {unit}" if as_text and unit != "1" else value

    return {"units": system, **walk(joint_, write)}
