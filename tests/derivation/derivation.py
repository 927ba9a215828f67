"""Second, independent derivation of what the service computes for a joint.

Written from the contract and the engineering notes alone, by other means where there are any: grids and scans for
the cycle, quadrature for sections and beams, a linear solution for pressed rings, bisection for the play of the
bolt. derive(document) takes a contract document and gives {"results": {section: {name: SI value}}, "checks":
{id: {...}}}. Letters follow the notes: F force, M moment, w eye, g gap, b boss, d pin.

Where contract and notes are silent the service's own choice was taken once the two had been compared: the place of a
floating pin's running fit (the boss), one set screw, the housing metal of a press, what is left out when a member is
absent, the limits of press, press_hot, bushing_wall and held_clearance, and which number a hardness without a scale
is. Agreement on those says only that the service does what it publishes.
"""

from document import Job
from fits import Fit
from load import Load
from set_screw import SetScrew
from slot import Slot
from strength import Strength


def derive(document):
    """Every result and numeric check of the sections load, strength, slot, set_screw and fit."""
    job = Job(document)
    load = Load(job)
    strength = Strength(job, load)
    slot = Slot(job, load, strength)
    screw = SetScrew(job, load, strength)
    fit = Fit(job, strength)
    checks = dict(load.checks())
    for section in (strength, slot, screw, fit):
        checks.update(section.checks)
    results = {"load": load.results, "strength": strength.results, "slot": slot.results,
               "set_screw": screw.results, "fit": fit.results}
    return {"results": {name: values for name, values in results.items() if values}, "checks": checks}
