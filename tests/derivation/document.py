"""A job document read for the independent derivation: quantities to SI, limits of size, materials, defaults."""

import re

import tables
import units


class Refused(Exception):
    """The document contradicts itself; the service answers 422."""


def iso_limits(nominal_m, name, side):
    rows = tables.ISO_SHAFTS if side == "shaft" else tables.ISO_HOLES
    nominal_mm = nominal_m * 1e3
    for over, to, classes in rows:
        if over + 1e-9 < nominal_mm <= to + 1e-9 and name in classes:
            upper, lower = classes[name]
            return nominal_m + lower * 1e-6, nominal_m + upper * 1e-6
    return None


def b41_limits(nominal_m, name, side):
    nominal_in = nominal_m / units.INCH
    for over, to, hole_upper, hole_lower, shaft_upper, shaft_lower in tables.B41.get(name.upper(), ()):
        if over + 1e-9 < nominal_in <= to + 1e-9:
            upper, lower = (shaft_upper, shaft_lower) if side == "shaft" else (hole_upper, hole_lower)
            thou = units.INCH * 1e-3
            return nominal_m + lower * thou, nominal_m + upper * thou
    return None


def standard_fits(nominal_m):
    """Every fit of the tables at that size that a running fit may be compared with, (name, (least, greatest
    clearance)): ISO 286 holes F to H with shafts f to s, and the ANSI B4.1 classes."""
    holes = [name for name in tables.ISO_HOLES[0][2] if name[0] in "FGH"]
    shafts = [name for name in tables.ISO_SHAFTS[0][2] if name[0] in "fghjkmnprs"]
    for hole in holes:
        bore = iso_limits(nominal_m, hole, "hole")
        for shaft in shafts:
            pin = iso_limits(nominal_m, shaft, "shaft")
            if bore is not None and pin is not None:
                yield "%s/%s" % (hole, shaft), (bore[0] - pin[1], bore[1] - pin[0])
    for name in tables.B41:
        bore, pin = b41_limits(nominal_m, name, "hole"), b41_limits(nominal_m, name, "shaft")
        if bore is not None:
            yield name, (bore[0] - pin[1], bore[1] - pin[0])


def stress_si(figure):
    """('ksi', 64) in Pa, None where there is none."""
    return None if figure is None else units.to_si(figure[1], figure[0])


class Steel:
    """What the derivation needs of the pin's steel."""

    def __init__(self, tensile, strength_yield, modulus, expansion, density, hb, hrc):
        self.tensile, self.strength_yield, self.modulus = tensile, strength_yield, modulus
        self.expansion, self.density, self.hb, self.hrc = expansion, density, hb, hrc


class Metal:
    """What the derivation needs of a bearing or structural metal; `crush` is what a still surface may bear."""

    def __init__(self, kind, crush, modulus, poisson, expansion, pressure_max=None, pv_max=None):
        self.kind, self.crush, self.modulus, self.poisson = kind, crush, modulus, poisson
        self.expansion, self.pressure_max, self.pv_max = expansion, pressure_max, pv_max


def metal_of(name):
    """A bearing or structural metal by id."""
    name = name.lower()
    if name in tables.BEARING_METALS:
        kind, strength, modulus, poisson, expansion, pressure, pv = tables.BEARING_METALS[name]
        pv_max = None if pv is None else units.to_si(pv, "psi.ft/min")
        return Metal(kind, stress_si(strength), modulus and modulus * 1e9, poisson, expansion and expansion * 1e-6,
                     stress_si(pressure), pv_max)
    kind, crush, modulus, poisson, expansion = tables.STRUCTURAL_METALS[name]
    return Metal(kind, stress_si(crush), modulus and modulus * 1e9, poisson, expansion and expansion * 1e-6)


class Job:
    """Members by path, in SI; None where absent."""

    def __init__(self, document):
        self.document = document
        self.system = document.get("units", "inch")

    def raw(self, path):
        place = self.document
        for name in path.split("."):
            if not isinstance(place, dict) or name not in place:
                return None
            place = place[name]
        return place

    def has(self, group):
        return bool(self.document.get(group))

    def word(self, path, default=None):
        value = self.raw(path)
        return default if value is None else value

    def get(self, path, default=None):
        value = self.raw(path)
        if value is None:
            return default
        return units.quantity(value, units.FIELDS[path], self.system)

    def length(self, value):
        return units.quantity(value, "length", self.system)

    def limits(self, path):
        """(least, greatest) or None."""
        value = self.raw(path)
        if value is None:
            return None
        if not isinstance(value, dict):
            size = self.length(value)
            return size, size
        if "min" in value:
            return self.length(value["min"]), self.length(value["max"])
        nominal = self.length(value["nominal"])
        if "class" in value:
            side, name = units.LIMITS[path], value["class"]
            found = b41_limits(nominal, name, side) or iso_limits(nominal, name, side)
            if found is None:
                raise Refused(path)
            return found
        upper, lower = (self.signed_length(value[k]) for k in ("upper", "lower"))
        return nominal + lower, nominal + upper

    def signed_length(self, value):
        if isinstance(value, str) and value.startswith("-"):
            return -self.length(value[1:])
        return self.length(value)

    def steel(self):
        value = self.raw("pin.steel")
        if value is None:
            return None
        if isinstance(value, str):
            basis, tensile, strength_yield, hb, hrc, modulus, expansion, density = tables.STEELS[value.lower()]
            share = 0.85 if basis == "typ" else 1.0
            tensile, strength_yield = self.by_thickness(value.lower(), tensile, strength_yield)
            tensile, strength_yield = (None if s is None else share * stress_si(s) for s in (tensile, strength_yield))
            return Steel(tensile, strength_yield, modulus * 1e9, expansion * 1e-6, density, hb, hrc)
        tensile, strength_yield = (units.quantity(value[k], "pressure", self.system) for k in ("tensile", "yield"))
        hardness, scale = value.get("hardness"), value.get("hardness_scale", "HB")
        return Steel(tensile, strength_yield, 207e9, 11.7e-6, 7850.0, hardness if scale == "HB" else None,
                     hardness if scale == "HRC" else None)

    def by_thickness(self, steel, tensile, strength_yield):
        """Heat-treated bar is weaker the thicker it is: the row of the thickest pin allowed."""
        sizes = self.limits("pin.diameter")
        for over, thicker_tensile, thicker_yield in tables.THICK_BAR.get(steel, ()):
            if sizes is not None and sizes[1] > over * (1.0 + 1e-9):
                tensile, strength_yield = thicker_tensile, thicker_yield
        return tensile, strength_yield

    def metal(self, path, default=None):
        value = self.raw(path)
        if value is None:
            return None if default is None else metal_of(default)
        if isinstance(value, str):
            return metal_of(value)
        return Metal("bronze", units.quantity(value["yield"], "pressure", self.system), None, None, None)

    def thread_diameter(self, path):
        """Nominal diameter of '3/8-16 UNC' or 'M10x1.5', and whether it is metric."""
        text = self.raw(path)
        if text is None:
            return None, None
        match = re.match(r"[Mm]\s*([0-9.]+)", text)
        if match:
            return float(match.group(1)) * 1e-3, True
        return units.number_of(text.split("-")[0]) * units.INCH, False
