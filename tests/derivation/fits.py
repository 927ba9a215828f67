"""Section fit of the independent derivation: running clearance cold and hot, and the press."""

import math

import geometry
import units
from judge import ceiling, floor

THOU = units.INCH * 1e-3


def metal_around(job, place):
    """Id of the metal of the part in which the running surface is."""
    return job.word("boss.metal", "grey_iron") if place == "boss" else job.word("eye.metal", "steel")


class Press:
    """A bushing pressed into its housing, by the boundary conditions of two rings."""

    def __init__(self, job, place):
        self.results, self.checks = {}, {}
        self.known = False
        housing, outside = job.limits("press_fit.housing_bore"), job.limits("press_fit.bushing_outside")
        bore, self.around = job.get("press_fit.bushing_bore"), job.get("press_fit.housing_outside")
        self.bushing = job.metal("press_fit.bushing_metal") or job.metal(place + ".bushing")
        self.housing = job.metal("press_fit.housing_metal", metal_around(job, place))
        if housing is None or outside is None:
            return
        self.interface = (housing[0] + housing[1]) / 2.0
        self.low, self.high = outside[0] - housing[1], outside[1] - housing[0]
        self.results.update(press_interference_min=self.low, press_interference_max=self.high)
        # Rules of press, press_hot and bushing_wall as published by the service (GET /v1/checks).
        self.checks["press"] = floor(self.low, 0.0005 * self.interface, 0.00025 * self.interface)
        if bore is not None:
            wall = (outside[0] - bore) / 2.0
            self.results["bushing_wall"] = wall
            self.checks["bushing_wall"] = floor(wall, 0.08 * bore, 0.05 * bore)
        warm = job.get("press_fit.temperature")
        if warm is not None and self.bushing is not None:
            hot = self.low + self.swelling(warm - 20.0)
            self.results["press_interference_hot_min"] = hot
            self.checks["press_hot"] = floor(hot, 0.00025 * self.interface, 0.0001 * self.interface)
        if None not in (bore, self.around, self.bushing):
            self.known = True
            self.contact(job, bore)

    def contact(self, job, bore):
        """Pressure, stress, closure of the bore and force at the greatest and the least interference."""
        tight, loose = (self.rings(max(0.0, i), bore) for i in (self.high, self.low))
        strength, stress = self.bushing.crush, abs(tight.hoop_bushing_bore)
        self.results.update(press_pressure_max=tight.pressure, bore_after_press_min=bore - tight.closure,
                            bore_after_press_max=bore - loose.closure, bushing_stress_max=stress)
        length, friction = job.get("press_fit.length"), job.get("press_fit.friction", 0.1)
        if length is not None:
            grip = math.pi * self.interface * length * friction
            self.results.update(press_force_max=grip * tight.pressure, press_hold_min=grip * loose.pressure)
        if strength is not None:
            self.checks["bushing_stress"] = ceiling(stress, 0.9 * strength, strength)

    def rings(self, interference, bore):
        return geometry.PressedRings(bore, self.interface, self.around, interference,
                                     (self.bushing.modulus, self.bushing.poisson),
                                     (self.housing.modulus, self.housing.poisson))

    def swelling(self, warmer):
        """How much the interference grows with temperature."""
        return self.interface * (self.bushing.expansion - self.housing.expansion) * warmer

    def hot_closure(self, finished, warmer, interference):
        """By how much a bushing finished to that bore closes when warm, beyond what it has closed cold; negative
        where the housing lets go of it."""
        cold, hot = (max(0.0, i) for i in (interference, interference + self.swelling(warmer)))
        return self.rings(hot, finished).closure - self.rings(cold, finished).closure


class Fit:
    """Section fit: the running clearance cold and hot, and the press."""

    def __init__(self, job, strength):
        self.place = job.word("running_fit.at", "eye" if strength.held == "piston" else "boss")
        self.press = Press(job, self.place)
        self.results, self.checks = dict(self.press.results), dict(self.press.checks)
        self.job, self.steel = job, strength.steel
        pin = job.limits("running_fit.pin") or job.limits("pin.diameter")
        hole = job.limits("running_fit.hole")
        if pin is not None:
            self.wants(job, pin)
        if self.press.known and (hole is not None or pin is not None):
            # What is asked for is the finished bore; with no hole given, what the wanted clearance makes of it, or the
            # middle where the pin varies more than the clearance may.
            low, high = hole or (pin[1] + self.wanted[0], pin[0] + self.wanted[1])
            if low > high:
                low = high = (low + high) / 2.0
            self.results.update(hone_to_min=low, hone_to_max=high)
        if pin is not None and hole is not None:
            self.results.update(pin_min=pin[0], pin_max=pin[1], hole_min=hole[0], hole_max=hole[1])
            self.cold(pin, hole)
            self.hot(pin, hole)

    def wants(self, job, pin):
        """The trade's window or the client's own."""
        size = (pin[0] + pin[1]) / 2.0
        self.wanted = (max(0.0005 * size, 0.4 * THOU), max(0.0015 * size, 1.0 * THOU))
        self.worn = max(0.003 * size, 3.0 * THOU)
        own = job.limits("running_fit.wanted")
        if own is not None:
            self.wanted, self.worn = own, max(self.worn, own[1])

    def cold(self, pin, hole):
        low, high = hole[0] - pin[1], hole[1] - pin[0]
        self.results.update(clearance_min=low, clearance_max=high)
        if low < 0.0 or high > self.worn:
            verdict = "fails"
        else:
            verdict = "ok" if low >= self.wanted[0] and high <= self.wanted[1] else "marginal"
        middle = self.worn / 2.0
        self.checks["clearance_cold"] = {
            "value": (low, high), "verdict": verdict, "advised_low": self.wanted[0], "advised_high": self.wanted[1],
            "limit_low": 0.0, "limit_high": self.worn,
            "utilization": max(abs(low - middle), abs(high - middle)) / middle}

    def hot(self, pin, hole):
        job = self.job
        pin_warm, hole_warm = job.get("running_fit.pin_temperature"), job.get("running_fit.hole_temperature")
        if pin_warm is None and hole_warm is None:
            return
        pin_warm = hole_warm if pin_warm is None else pin_warm
        hole_warm = pin_warm if hole_warm is None else hole_warm
        growth_pin = 1.0 + (self.steel.expansion if self.steel else 11.7e-6) * (pin_warm - 20.0)
        metal = job.metal("running_fit.hole_metal", metal_around(job, self.place))
        warmer = hole_warm - 20.0
        if self.press.known:
            # A pressed bushing is never free (decision 11), whatever metal is named for the hole.
            closures = [self.press.hot_closure(sum(hole) / 2.0, warmer, i) for i in (self.press.low, self.press.high)]
            growth = 1.0 + self.press.bushing.expansion * warmer
            low, high = hole[0] * growth - max(closures), hole[1] * growth - min(closures)
        else:
            low, high = (size * (1.0 + metal.expansion * warmer) for size in hole)
        low, high = low - pin[1] * growth_pin, high - pin[0] * growth_pin
        self.results.update(hot_clearance_min=low, hot_clearance_max=high)
        half = 0.5 * self.wanted[0]
        verdict = "ok" if low >= half else "marginal" if low >= 0.0 else "fails"
        self.checks["clearance_hot"] = {"value": low, "advised": half, "limit": 0.0, "verdict": verdict}
