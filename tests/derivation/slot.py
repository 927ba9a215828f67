"""Section slot of the independent derivation: the trough, the bolt as key, grip."""

import math

import geometry
import tables
import units
from document import Refused
from judge import ceiling, factor_limits, floor

THOU = units.INCH * 1e-3


def flat_bar_notch(x, t):
    """Single U-notch in a flat bar in bending (Roark table 17.1): x = h/D, t = h/r."""
    if t <= 2.0:
        c = (1.795 + 1.481 * t - 0.211 * t * t, -3.544 - 3.677 * t + 0.578 * t * t,
             5.459 + 3.691 * t - 0.565 * t * t, -2.678 - 1.531 * t + 0.205 * t * t)
    else:
        c = (2.966 + 0.502 * t - 0.009 * t * t, -6.475 - 1.126 * t + 0.019 * t * t,
             8.023 + 1.253 * t - 0.020 * t * t, -3.572 - 0.634 * t + 0.010 * t * t)
    return sum(ci * x**i for i, ci in enumerate(c))


def published_notch(x, t):
    """The published value: the flat bar, below h/r 0.5 no more than the half-plane limit."""
    value = flat_bar_notch(x, t)
    return value if t >= 0.5 else min(value, 1.0 + 2.0 * math.sqrt(t))


def trough_notch(x, t):
    """Finite-element fit of a trough in a round."""
    return 1.0 + 2.70 * t**0.70 / (1.0 + 3.46 * x)**2


def trough_notch_side(x, t):
    """The same for a trough at the neutral axis, its edge."""
    return 1.0 + 0.763 * t**0.74 * math.exp(-1.45 * x)


def notch_sensitivity(tensile, radius):
    """Neuber, Shigley's polynomial in kpsi and inches, valid 50 to 250 kpsi."""
    s = min(250.0, max(50.0, tensile / units.PSI / 1e3))
    root_a = 0.246 - 3.08e-3 * s + 1.51e-5 * s**2 - 2.67e-8 * s**3
    return 1.0 / (1.0 + root_a / math.sqrt(radius / units.INCH))


def bolt_yield(grade, diameter):
    for largest, unit, stress_unit, strength in tables.BOLTS[grade]:
        if diameter <= units.to_si(largest, unit) * (1.0 + 1e-12):
            return units.to_si(strength, stress_unit)
    raise KeyError(grade)


def lock_demand(job, load, strength):
    """What the lock must hold: 0.05 of the peak pin load along the pin, rubbing drag mu F d/2 with mu 0.15 about it."""
    axial, torque = job.get("demand.axial"), job.get("demand.torque")
    if axial is None and load.force is not None:
        axial = 0.05 * load.force
    if torque is None and load.force is not None and strength.d is not None:
        torque = 0.15 * load.force * strength.d / 2.0
    return axial, torque


class Slot:
    """Section slot: the trough, the bolt as key, grip."""

    def __init__(self, job, load, strength):
        self.results, self.checks = {}, {}
        self.job, self.load, self.strength = job, load, strength
        self.depth, cutter = job.get("slot.depth"), job.get("slot.cutter_diameter")
        self.cutter = cutter and cutter / 2.0
        self.bolt, metric = job.thread_diameter("clamp_bolt.thread")
        if self.bolt is None:
            self.bolt, metric = job.get("clamp_bolt.diameter"), job.system == "metric"
        self.grade = job.word("clamp_bolt.grade", "4.6" if metric else "SAE 2")
        self.offset = job.get("clamp_bolt.offset")
        if job.has("slot") and strength.held != "rod":
            raise Refused("slot with held_in " + strength.held)
        self.radius = strength.d and strength.d / 2.0
        self.fits = None not in (self.radius, self.depth, self.cutter, self.bolt, self.offset)
        self.intrusion = self.axial = None
        if self.bolt is not None and self.cutter is not None and strength.held == "rod":
            self.checks["cutter_clears_bolt"] = floor(self.cutter - self.bolt / 2.0, 5.0 * THOU, 2.0 * THOU)
        if None not in (self.radius, self.bolt, self.offset):
            self.intrusion = self.radius - (self.offset - self.bolt / 2.0)
            self.results["intrusion"] = self.intrusion
        self.demand()
        if None not in (self.radius, self.depth, self.cutter):
            self.section()
        if self.fits:
            self.play()
            self.key()
            self.wall()
        self.grip()
        self.held_clearance()

    def held_clearance(self):
        held = self.job.limits("held_fit.hole")
        if held is None or self.radius is None:
            return
        d = self.strength.d
        self.results["held_clearance_max"] = held[1] - d
        # Rule as published by the service (GET /v1/checks); there is no published one.
        if self.strength.held == "rod":
            self.checks["held_clearance"] = ceiling(held[1] - d, max(0.0005 * d, 0.3 * THOU), max(0.0015 * d, THOU))

    def section(self):
        s, h, rc = self.strength, self.depth, self.cutter
        cut = geometry.CutSection(s.d, s.inside, h)
        self.cut = cut
        x, t = h / s.d, h / rc
        published = published_notch(x, t)
        inside = 0.10 <= rc / s.d <= 0.60 and 0.03 <= x <= 0.30
        kt = trough_notch(x, t) if inside else max(trough_notch(x, t), published)
        if s.inside > 0.0:
            kt *= 1.17
        self.results.update(slot_mouth=geometry.trough_mouth(h, rc), slot_chord=2.0 * cut.half_chord,
                            net_area=cut.area, net_section_modulus=cut.modulus_floor, notch_factor=kt,
                            notch_factor_published=published)
        q = notch_sensitivity(s.steel.tensile, rc) if s.designed else None
        if q is not None:
            self.results["fatigue_notch_factor"] = 1.0 + q * (kt - 1.0)
        if self.load.known and s.boss is not None:
            self.stresses(cut, x, t, kt, q)

    def stresses(self, cut, x, t, kt, q):
        s, job = self.strength, self.job
        angle = job.get("slot.angle", 0.0)
        upright, across = abs(s.moment * math.cos(angle)), abs(s.moment * math.sin(angle))
        turned = 1e-9 < angle < math.pi - 1e-9
        edge = math.sqrt(self.depth * (s.d - self.depth))
        nominal_floor, nominal_edge = upright / cut.modulus_floor, across * edge / cut.inertia_side
        rim = across * self.radius / cut.inertia_side
        ks = trough_notch_side(x, t)

        def worst(k_floor, k_edge):
            stress = k_floor * nominal_floor
            return max(stress, nominal_floor + k_edge * nominal_edge, rim) if turned else stress

        self.results["notch_stress"] = worst(kt, ks)
        wall = s.d / 2.0 - self.depth - s.inside / 2.0
        thin = s.inside > 0.0 and wall < 0.1 * s.d
        if s.designed:
            advised, limit = (s.steel.strength_yield / f for f in factor_limits(job, "bending_factor", 2.0, 1.5))
            check = ceiling(cut.greatest_stress(s.moment, angle), advised, limit)
            if thin:
                check["verdict"] = "fails"
                del check["utilization"]
            self.checks["slot_bending"] = check
        if q is not None:
            stress = worst(1.0 + q * (kt - 1.0), 1.0 + q * (ks - 1.0))
            factor = s.goodman(stress, s.endurance_of(s.steel, s.d, "turned"))
            self.results["notch_fatigue_factor"] = factor
            check = floor(factor, *factor_limits(job, "fatigue_factor", 1.5, 1.0))
            if self.cutter < 0.05 * s.d:
                check["verdict"] = "fails"
                del check["utilization"]
            self.checks["slot_fatigue"] = check

    def play(self):
        rb, e = self.bolt / 2.0, self.offset
        under = self.depth - (self.strength.sizes[1] / 2.0 - (e - rb))
        self.results["bottom_clearance"] = under
        self.checks["slot_clears_bolt"] = floor(under, 5.0 * THOU, 2.0 * THOU)
        # Play has a meaning only where the bolt goes into the trough and reaches into the pin.
        if 0.0 < self.intrusion <= self.depth and rb < self.cutter:
            self.axial = geometry.axial_play(self.radius, self.depth, self.cutter, rb, e)
            if self.axial is not None:
                self.results["axial_play"] = self.axial
            turn = geometry.rotational_play(self.radius, self.depth, e - rb)
            if turn is not None:
                self.results["rotational_play"] = turn

    def demand(self):
        self.axial_demand, self.torque_demand = lock_demand(self.job, self.load, self.strength)
        gripped = None not in (self.radius, self.bolt, self.offset, self.job.get("clamp_bolt.torque"))
        if self.fits or gripped:
            self.results.update({name: value for name, value in (("axial_demand", self.axial_demand),
                                                                 ("torque_demand", self.torque_demand))
                                 if value is not None})

    def key(self):
        s = self.strength
        strength_bolt = bolt_yield(self.grade, self.bolt)
        planes = self.job.get("clamp_bolt.shear_planes", 2.0)
        shank = math.pi / 4.0 * self.bolt**2
        segment = half = 0.0
        if self.intrusion > 0.0:
            segment = geometry.segment_area(self.radius, self.intrusion)
            half = geometry.bisect(lambda y: y * y + (self.radius - self.intrusion)**2 - self.radius**2,
                                   0.0, self.radius)
        torque = shank * 0.577 * strength_bolt * half
        self.results.update(hold_torque=torque)
        limits = factor_limits(self.job, "bolt_factor", 2.0, 1.25)
        if s.designed:
            softer = min(strength_bolt, s.steel.strength_yield)
            axial = min(planes * shank * 0.577 * strength_bolt, segment * softer)
            self.results.update(hold_axial=axial)
        if s.designed and self.axial_demand is not None:
            self.checks["hold_axial"] = floor(axial / self.axial_demand, *limits)
            self.checks["flank_pressure"] = floor(softer * segment / self.axial_demand, *limits)
        if self.torque_demand is not None:
            self.checks["hold_torque"] = floor(torque / self.torque_demand, *limits)
        if self.axial_demand is not None and self.torque_demand is not None:
            # The larger of the two shear stresses, as the smaller of the two factors.
            self.checks["bolt_shear"] = floor(min(0.577 * strength_bolt * planes * shank / self.axial_demand,
                                                  torque / self.torque_demand), *limits)

    def grip(self):
        torque, job = self.job.get("clamp_bolt.torque"), self.job
        if torque is None or self.bolt is None:
            return
        preload = torque / (job.get("clamp_bolt.nut_factor", 0.2) * self.bolt)
        self.results["bolt_preload"] = preload
        if self.offset is None or self.radius is None:
            return
        hinge = job.get("clamp_bolt.hinge_offset", self.offset)
        normal = preload * (self.offset + hinge) / hinge
        friction = job.get("clamp_bolt.friction", 0.12)
        axial = 2.0 * friction * normal
        self.results.update(grip_axial=axial, grip_torque=axial * self.radius)
        for name, hold, demand in (("grip_axial", axial, self.axial_demand),
                                   ("grip_torque", axial * self.radius, self.torque_demand)):
            if demand is not None:
                check = floor(hold / demand, 1.5, 1.0)
                key = [self.checks[name]["verdict"] for name in ("hold_axial", "hold_torque") if name in self.checks]
                if check["verdict"] == "fails" and len(key) == 2 and "fails" not in key:
                    check["verdict"] = "marginal"
                self.checks[name] = check

    def wall(self):
        bore, s = self.job.get("engine.bore"), self.strength
        if bore is None or self.axial is None or s.length is None:
            return
        left = (math.sqrt(bore**2 - s.d**2) - s.length) / 2.0 - self.axial - s.gap
        self.results["wall_clearance"] = left
        own = self.job.get("limits.wall_clearance")
        limits = (0.010 * bore, 0.005 * bore) if own is None else (own / 0.9, own)
        self.checks["wall_clearance"] = floor(left, *limits)
