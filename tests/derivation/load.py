"""Section load of the independent derivation, and what later sections need of it."""

import math

from crank import HALF, Crank, Cycle

ATMOSPHERE = 101325.0


class Load:
    """Section load, and what later sections need of it."""

    def __init__(self, job):
        self.results = {}
        self.known = False
        self.force = None
        self.reverses = job.word("engine.cycle", "four_stroke") == "four_stroke"
        self.mean = None
        self.rubbing = None
        bore, stroke = job.get("engine.bore"), job.get("engine.stroke")
        if bore is None or stroke is None:
            return
        self.crank = Crank(stroke / 2.0, job.get("engine.rod_length", 2.25 * stroke))
        self.results["rod_angle_max"] = self.crank.rod_angle_max()
        area = math.pi / 4.0 * bore * bore
        self.results["piston_area"] = area
        peak, curve_ratio = self.pressures(job)
        speed = self.speed = job.get("engine.speed", 0.0)
        mass = job.get("engine.reciprocating_mass", 3000.0 * bore**3)
        if speed > 0.0:
            pull = -mass * speed * speed
            self.results.update(inertia_force_tdc=pull * self.crank.acceleration[0],
                                inertia_force_bdc=pull * self.crank.acceleration[HALF])
        pin = job.limits("pin.diameter")
        if speed > 0.0 and pin is not None:
            self.rubbing = self.crank.rod_swing() * speed / (2.0 * math.pi) * pin[0] / 2.0
            self.results["rubbing_speed_mean"] = self.rubbing
        if peak is None:
            return
        self.known = True
        cycle = Cycle(self.crank, not self.reverses, area, peak, ATMOSPHERE,
                      job.get("engine.intake_pressure", ATMOSPHERE), job.get("engine.polytropic_exponent", 1.30),
                      curve_ratio, mass, speed)
        gas = area * peak
        self.results.update(peak_pressure=peak, gas_force_peak=gas, side_thrust_max=cycle.thrust_max())
        if speed > 0.0:
            high, low = cycle.load_max(), cycle.load_min()
            self.mean = cycle.load_mean()
            self.reverses = low < 0.0 < high
            self.results.update(pin_load_min=low, load_ratio=low / high, load_reverses=self.reverses)
        else:
            high, low = gas, 0.0
        self.high, self.low = high, low
        self.force = max(abs(high), abs(low))
        self.results["pin_load_max"] = high

    @staticmethod
    def pressures(job):
        """Peak gauge pressure and the compression ratio of the curve."""
        rise = job.get("engine.pressure_rise_ratio", 4.0)
        n = job.get("engine.polytropic_exponent", 1.30)
        intake = job.get("engine.intake_pressure", ATMOSPHERE)
        peak, ratio = job.get("engine.peak_pressure"), job.get("engine.compression_ratio")
        compression = job.get("engine.compression_pressure")
        if compression is None and ratio is not None:
            compression = intake * ratio**n - ATMOSPHERE
        if compression is None and peak is None:
            return None, None
        if peak is None:
            peak = rise * compression
        if ratio is None:
            if compression is None:
                compression = peak / rise
            ratio = ((compression + ATMOSPHERE) / intake)**(1.0 / n)
        return peak, ratio

    def checks(self):
        if not self.known or self.speed == 0.0:
            return {}
        return {"load_reverses": {"value": self.low, "verdict": "ok" if self.low < 0.0 else "marginal"}}
