"""Section set_screw of the independent derivation."""

import geometry
import tables
import units
from document import Refused
from judge import factor_limits, floor
from slot import lock_demand


class SetScrew:
    """Section set_screw: published holding power of cup-point screws, in proportion to the torque up to the
    published one; the axial force acts at the pin's surface against a torque."""

    POINTS = {"cup": 1.0, "cone": 1.07, "flat": 0.92, "dog": 0.92}  # Machinery's Handbook, from memory

    def __init__(self, job, load, strength):
        self.results, self.checks = {}, {}
        if not job.has("set_screw"):
            return
        if strength.held != "piston":
            raise Refused("set screws with held_in " + strength.held)
        demands = dict(zip(("axial_demand", "torque_demand"), lock_demand(job, load, strength)))
        self.results.update({name: value for name, value in demands.items() if value is not None})
        depth = job.get("set_screw.flat_depth")
        if depth is not None and strength.d is not None:
            cut = geometry.CutSection(strength.d, strength.inside, depth)
            self.results.update(flat_width=2.0 * cut.half_chord,
                                net_section_modulus=min(cut.modulus_floor, cut.modulus_far))
        diameter, torque = job.thread_diameter("set_screw.thread")[0], job.get("set_screw.torque")
        if diameter is None or torque is None or strength.d is None:
            return
        rows = [row for row in tables.SET_SCREWS if row[0] * units.INCH <= diameter * (1.0 + 1e-9)]
        if not rows:
            return
        _, seating, holding = rows[-1]
        share = min(1.0, torque / units.to_si(seating, "lbf.in"))
        point = self.POINTS[job.word("set_screw.point", "cup")]
        axial = job.get("set_screw.count", 1.0) * share * units.to_si(holding, "lbf") * point
        self.results.update(hold_axial=axial, hold_torque=axial * strength.d / 2.0)
        limits = factor_limits(job, "bolt_factor", 2.0, 1.25)
        for name in ("axial", "torque"):
            demand = demands[name + "_demand"]
            if demand is not None:
                self.checks["screw_" + name] = floor(self.results["hold_" + name] / demand, *limits)
