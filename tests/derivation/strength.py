"""Section strength of the independent derivation: pressures, bending, shear, ovalization, fatigue."""

import geometry
from document import Refused
from judge import ceiling, factor_limits, floor


class Strength:
    """Section strength: the pin as a beam, its pressures, its fatigue."""

    def __init__(self, job, load):
        self.results, self.checks = {}, {}
        self.job, self.load = job, load
        self.steel = job.steel()
        # Set screws sit in the piston; the contract's plain default is the rod.
        self.held = job.word("pin.held_in", "piston" if job.has("set_screw") else "rod")
        self.sizes = job.limits("pin.diameter")
        self.d = self.sizes and self.sizes[0]
        self.inside = job.get("pin.inside_diameter", 0.0)
        self.layout(job)
        # A row that lacks either strength is not designed on at all.
        self.designed = self.steel is not None and None not in (self.steel.tensile, self.steel.strength_yield)
        if self.designed:
            self.results.update(tensile_used=self.steel.tensile, yield_used=self.steel.strength_yield)
        if self.d is None:
            return
        if self.length is not None:
            area = geometry.round_section(self.d, self.inside)[0]
            self.results["pin_mass"] = area * self.length * (self.steel.density if self.steel else 7850.0)
        self.endurance(self.steel, self.d, job.word("pin.finish", "turned"))
        if not load.known or self.eye is None:
            return
        self.pressures()
        self.bending()
        self.ovalization()
        self.fatigue()

    def layout(self, job):
        """Eye w, gap g, bearing length b of one boss, pin length, with their defaults."""
        bore = job.get("engine.bore")
        share = 0.40 if self.held == "rod" else 0.45
        self.eye = job.get("eye.width", bore and share * bore)
        self.gap = job.get("boss.gap", bore and 0.01 * bore)
        boss, length = job.get("boss.length"), job.get("pin.length")
        if length is None and boss is not None and self.eye is not None and self.gap is not None:
            length = self.eye + 2.0 * self.gap + 2.0 * boss
        elif length is None:
            length = bore and 0.90 * bore
        self.length = length
        self.boss = None
        if length is not None and bore is not None and length > bore:
            raise Refused("pin longer than the cylinder is wide")
        if None not in (self.eye, self.gap, length):
            room = (length - self.eye - 2.0 * self.gap) / 2.0
            if room <= 0.0:
                raise Refused("no room for the bosses")
            self.boss = room if boss is None else min(boss, room)

    # ---- pressures

    def hard(self):
        """0 soft, 1 prehard (250 HB), 2 hard (55 HRC or 560 HB): the running surface of the pin."""
        hardness = self.job.get("pin.hardness")
        # A number up to 70 without a scale is Rockwell C.
        scale = self.job.word("pin.hardness_scale", "HRC" if hardness is not None and hardness <= 70.0 else "HB")
        hb = hrc = None
        if hardness is not None:
            hb, hrc = (hardness, None) if scale == "HB" else (None, hardness)
        elif self.steel is not None:
            hb, hrc = self.steel.hb, self.steel.hrc
        if hrc is not None:
            # 24.5 HRC is 250 HB in ASTM E140 (24 HRC 247 HB, 25 HRC 253 HB), from memory.
            return 2 if hrc >= 55.0 else 1 if hrc >= 24.5 else 0
        if hb is not None:
            return 2 if hb >= 560.0 else 1 if hb >= 250.0 else 0
        return 0

    def rubbing_limits(self, metal, bushed):
        """Advised and limit of a surface that rubs."""
        if self.load.reverses:
            advised, limit = 12.6e6, (15.4e6, 17.2e6, 19.7e6)[self.hard()]
        else:
            advised, limit = 8.4e6, 12.6e6
        if metal.kind in ("grey_iron", "steel"):
            advised, limit = 0.5 * advised, 0.9 * limit
        elif metal.kind == "babbitt":
            advised, limit = 0.7 * advised, 0.7 * limit
        if bushed and metal.pressure_max is not None:
            limit = min(limit, metal.pressure_max)
        return min(advised, limit), limit

    def still_limits(self, metal, bushed, backing):
        """Decision 2: the softer of the metal and the pin, over 2.5."""
        crush = metal.crush
        if crush is None:
            crush = backing.crush
        limit = (min(crush, self.steel.strength_yield) if self.designed else crush) / 2.5
        return 0.9 * limit, limit

    def pressures(self):
        force, mean = self.load.force, self.load.mean
        places = (("boss", 2.0 * self.boss, self.held != "piston", "grey_iron"),
                  ("eye", self.eye, self.held != "rod", "steel"))
        for name, length, rubs, metal_default in places:
            area = self.d * length
            pressure = force / area
            self.results[name + "_pressure"] = pressure
            backing = self.job.metal(name + ".metal", metal_default)
            bushing = self.job.metal(name + ".bushing")
            metal = bushing or backing
            limits = self.rubbing_limits(metal, bushing) if rubs else self.still_limits(metal, bushing, backing)
            own = self.job.get("limits.%s_pressure" % name)
            if own is not None:
                limits = 0.9 * own, own
            self.checks[name + "_pressure"] = ceiling(pressure, *limits)
            if rubs and mean is not None and self.load.rubbing is not None:
                pv = mean / area * self.load.rubbing
                limit = metal.pv_max if metal.pv_max is not None else 1.75e6
                self.results[name + "_pv"] = pv
                self.checks[name + "_pv"] = ceiling(pv, 0.9 * limit, limit)

    # ---- bending, shear, ovalization

    def bending(self):
        force, w, g, b = self.load.force, self.eye, self.gap, self.boss
        area, inertia, modulus = geometry.round_section(self.d, self.inside)
        self.moment = geometry.moment_at_middle(force, w, g, b, "uniform")
        self.stress = self.moment / modulus
        shear = geometry.greatest_shear_stress(force / 2.0, self.d, self.inside)
        young = self.steel.modulus if self.steel else 207e9
        nu = 0.29
        m2 = (self.inside / self.d)**2
        # Cowper's coefficient of a hollow round; at m = 0 the solid one, 6(1+nu)/(7+6nu).
        k = 6.0 * (1.0 + nu) * (1.0 + m2)**2 / ((7.0 + 6.0 * nu) * (1.0 + m2)**2 + (20.0 + 12.0 * nu) * m2)
        sag, slope = geometry.beam_bending(force, w, g, b, young * inertia)
        sag += geometry.beam_shear(force, w, g, b, k * young / (2.0 * (1.0 + nu)) * area)
        self.results.update(
            bending_moment=self.moment, bending_stress=self.stress, shear_stress_max=shear, deflection=sag,
            edge_slope=slope, bending_moment_low=geometry.moment_at_middle(force, w, g, b, "triangular"),
            bending_moment_high=geometry.moment_at_middle(force, w, g, b, "concentrated"))
        own = self.job.get("limits.edge_slope")
        limits = (0.001, 0.002) if own is None else (0.9 * own, own)
        self.checks["edge_slope"] = ceiling(slope, *limits)
        if not self.designed:
            return
        strength = self.steel.strength_yield
        advised, limit = factor_limits(self.job, "bending_factor", 2.0, 1.5)
        self.results["yield_factor"] = strength / self.stress
        self.checks["bending"] = ceiling(self.stress, strength / advised, strength / limit)
        self.checks["yield"] = floor(strength / self.stress, advised, limit)
        advised, limit = factor_limits(self.job, "shear_factor", 2.0, 1.5)
        self.checks["shear"] = ceiling(shear, 0.577 * strength / advised, 0.577 * strength / limit)

    def ovalization(self):
        if self.inside <= 0.0:
            return
        a, force, length = self.inside / self.d, self.load.force, self.length
        young = self.steel.modulus if self.steel else 207e9
        k = max(15.0 * (0.1 - (a - 0.4)**3), 1.10)
        growth = 0.09 * k * force / (young * length) * ((1.0 + a) / (1.0 - a))**3
        side, top, thin = 0.19 * (1.0 + a), 0.174 * (1.0 + a), 1.0 / (1.0 - a)
        hoops = (side * (2.0 + a) * thin**2 - thin, -(side * (1.0 + 2.0 * a) * thin**2 / a + thin),
                 -(top * (2.0 + a) * thin**2 + 0.636 * thin), top * (1.0 + 2.0 * a) * thin**2 / a - 0.636 * thin)
        stress = k * force / (length * self.d) * max(map(abs, hoops))
        self.results.update(ovalization=growth, ovalization_stress=stress)
        self.checks["ovalization"] = ceiling(growth, 0.00025 * self.d, 0.0005 * self.d)

    # ---- fatigue

    def endurance_of(self, steel, d, finish):
        """Marin: surface of the 8th to 10th editions, size, half the tensile strength up to 1,400 MPa."""
        tensile = steel.tensile / 1e6
        factor, power = (1.58, -0.085) if finish == "ground" else (4.51, -0.265)
        surface = min(1.0, factor * tensile**power)
        size_mm = (d if self.held == "floating" else 0.37 * d) * 1e3
        size_mm = max(size_mm, 2.79)  # held at the lower end of the formulas' range, carried on beyond the upper
        size = 1.24 * size_mm**-0.107 if size_mm <= 51.0 else 1.51 * size_mm**-0.157
        return surface * size * 0.5 * min(tensile, 1400.0) * 1e6

    def endurance(self, steel, d, finish):
        self.limit_fatigue = None
        if self.designed:
            self.limit_fatigue = self.endurance_of(steel, d, finish)
            self.results["endurance_limit"] = self.limit_fatigue

    def cyclic(self, stress):
        """Mean and amplitude of a stress that is `stress` at the force used."""
        if self.held == "floating":
            return 0.0, stress
        per_newton = stress / self.load.force
        return (per_newton * (self.load.high + self.load.low) / 2.0,
                per_newton * (self.load.high - self.load.low) / 2.0)

    def goodman(self, stress, endurance):
        mean, amplitude = self.cyclic(stress)
        return 1.0 / (amplitude / endurance + max(0.0, mean) / self.steel.tensile)

    def fatigue(self):
        mean, amplitude = self.cyclic(self.stress)
        self.results.update(stress_mean=mean, stress_amplitude=amplitude)
        if self.limit_fatigue is None:
            return
        factor = self.goodman(self.stress, self.limit_fatigue)
        self.results["fatigue_factor"] = factor
        self.checks["fatigue"] = floor(factor, *factor_limits(self.job, "fatigue_factor", 1.5, 1.0))
