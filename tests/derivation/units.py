"""Quantities of a job document to SI and answers back to SI, for the independent derivation.

Factors are the exact ones: inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2.
"""

import math
import re
from fractions import Fraction

INCH = 0.0254
POUND = 0.45359237
LBF = POUND * 9.80665
PSI = LBF / INCH**2
RPM = 2.0 * math.pi / 60.0
FT_MIN = 0.3048 / 60.0

# symbol: (factor, offset) to SI
UNITS = {
    "1": (1.0, 0.0), "deg": (math.pi / 180.0, 0.0),
    "in": (INCH, 0.0), "mm": (1e-3, 0.0), "thou": (INCH * 1e-3, 0.0), "um": (1e-6, 0.0), "uin": (INCH * 1e-6, 0.0),
    "m": (1.0, 0.0), "cm": (1e-2, 0.0),
    "lbf": (LBF, 0.0), "N": (1.0, 0.0), "kN": (1e3, 0.0),
    "psi": (PSI, 0.0), "ksi": (1e3 * PSI, 0.0), "MPa": (1e6, 0.0), "bar": (1e5, 0.0), "GPa": (1e9, 0.0),
    "kPa": (1e3, 0.0), "Pa": (1.0, 0.0),
    "lb": (POUND, 0.0), "kg": (1.0, 0.0), "rpm": (RPM, 0.0),
    "degF": (1.0 / 1.8, -32.0 / 1.8), "degC": (1.0, 0.0),
    "lbf.ft": (LBF * 0.3048, 0.0), "lbf.in": (LBF * INCH, 0.0), "N.m": (1.0, 0.0),
    "ft/min": (FT_MIN, 0.0), "m/s": (1.0, 0.0), "m/min": (1.0 / 60.0, 0.0),
    "psi.ft/min": (PSI * FT_MIN, 0.0), "MPa.m/s": (1e6, 0.0),
    "in2": (INCH**2, 0.0), "mm2": (1e-6, 0.0), "in3": (INCH**3, 0.0), "mm3": (1e-9, 0.0),
}

# dimension: (inch unit, metric unit)
DIMENSIONS = {
    "ratio": ("1", "1"), "angle": ("deg", "deg"), "length": ("in", "mm"), "force": ("lbf", "N"),
    "pressure": ("psi", "MPa"), "mass": ("lb", "kg"), "rotation": ("rpm", "rpm"),
    "temperature": ("degF", "degC"), "torque": ("lbf.ft", "N.m"), "roughness": ("uin", "um"),
}

# Members that are quantities, by their dimension. Members that may be limits of size are in LIMITS.
FIELDS = {}
for _dimension, _names in {
    "length": "engine.bore engine.stroke engine.rod_length pin.length pin.inside_diameter eye.width eye.outside "
              "boss.length boss.gap slot.depth slot.cutter_diameter clamp_bolt.diameter clamp_bolt.offset "
              "clamp_bolt.hinge_offset set_screw.flat_depth press_fit.bushing_bore press_fit.housing_outside "
              "press_fit.length limits.wall_clearance",
    "rotation": "engine.speed",
    "pressure": "engine.peak_pressure engine.compression_pressure engine.intake_pressure limits.boss_pressure "
                "limits.eye_pressure",
    "ratio": "engine.compression_ratio engine.pressure_rise_ratio engine.polytropic_exponent pin.hardness "
             "clamp_bolt.nut_factor clamp_bolt.friction clamp_bolt.shear_planes set_screw.count press_fit.friction "
             "limits.bending_factor limits.fatigue_factor limits.shear_factor limits.bolt_factor limits.edge_slope",
    "mass": "engine.reciprocating_mass",
    "angle": "slot.angle",
    "torque": "clamp_bolt.torque set_screw.torque demand.torque",
    "force": "demand.axial",
    "temperature": "running_fit.pin_temperature running_fit.hole_temperature press_fit.temperature",
    "roughness": "pin.roughness",
}.items():
    for _name in _names.split():
        FIELDS[_name] = _dimension
LIMITS = {
    "pin.diameter": "shaft", "running_fit.pin": "shaft", "running_fit.hole": "hole", "running_fit.wanted": None,
    "held_fit.hole": "hole", "press_fit.bushing_outside": "shaft", "press_fit.housing_bore": "hole",
}


def to_si(value, symbol):
    """A number in the unit of that symbol, in SI."""
    factor, offset = UNITS[symbol]
    return value * factor + offset


def from_si(value, symbol):
    """The reverse of to_si."""
    factor, offset = UNITS[symbol]
    return (value - offset) / factor


def number_of(text):
    """'5', '1.25', '5/8', '1 3/8' or '1-3/8' as a float."""
    return float(sum(Fraction(part) for part in re.split(r"[ -]", text.strip()) if part))


def quantity(value, dimension, system):
    """A quantity of a document, number or text with its own unit, in SI."""
    default = DIMENSIONS[dimension][0 if system == "inch" else 1]
    if isinstance(value, (int, float)):
        return to_si(float(value), default)
    match = re.fullmatch(r"\s*([0-9][0-9./ -]*?)\s*([A-Za-z][A-Za-z./0-9]*)?\s*", value)
    return to_si(number_of(match.group(1)), match.group(2) or default)
