"""Properties of release records; as those of properties.py."""

import copy
import json

import joints
from answers import Broken, answer_to


def to_order(joint, rng):
    """The joint with everything that a release needs: limits to make the pin to, and what the others leave to defaults."""
    made = copy.deepcopy(joint)
    pin = joint["pin"]["diameter"].si
    made["pin"]["diameter"] = {"min": joints.length(pin - rng.uniform(5e-6, 2e-5)), "max": joints.length(pin)}
    del made["running_fit"]["pin"]
    if "clamp_bolt" in made:
        made["clamp_bolt"].setdefault("hinge_offset", made["clamp_bolt"]["offset"])
    if rng.random() < 0.8:  # or next to nothing would be released
        made["pin"].update(steel="8620-carb", finish="ground")
        made["engine"]["peak_pressure"] = joints.Quantity(rng.uniform(8e5, 1.4e6), "pressure")
    if rng.random() < 0.7:
        made["order"] = {"accept_marginal": rng.random() < 0.8}
    return made


def record_of(document):
    return document["results"]["order"]


def job_of_a_record_gives_the_record_again(asked, joint, rng):
    job = joints.as_job(to_order(joint, rng), rng.choice(["inch", "metric"]), as_text=rng.random() < 0.5)
    if job["units"] == "inch" and rng.random() < 0.5:
        del job["units"]
    first = asked.ask("order", job)
    second = asked.ask("order", record_of(first.document)["job"])
    if second.body != first.body:
        raise Broken(f"{json.dumps(job)}\nanother record than before\n{first.body.decode()}\n{second.body.decode()}")


def part_is_the_same_in_any_units_and_any_engine(asked, joint, rng):
    made = to_order(joint, rng)
    wanted = record_of(answer_to(asked, joints.as_job(made, "metric"), "order"))["part_id"]
    other = joints.changed(made, "engine.speed", None)
    for job in (joints.as_job(made, "inch"), joints.as_job(made, "inch", as_text=True), joints.as_job(other, "metric")):
        if record_of(answer_to(asked, job, "order"))["part_id"] != wanted:
            raise Broken(f"another part than before: {json.dumps(job)}")
    longer = joints.changed(made, "pin.length", joints.length(made["pin"]["length"].si + 1e-8))
    if record_of(answer_to(asked, joints.as_job(longer), "order"))["part_id"] == wanted:
        raise Broken("the same part, ten nanometers longer")


def nothing_is_released_that_check_holds_back(asked, joint, rng):
    made = to_order(joint, rng)
    if rng.random() < 0.4:
        group = rng.choice([name for name in made if name not in ("order",)])
        member = rng.choice(list(made[group]))
        if (group, member) not in (("pin", "held_in"), ("running_fit", "at")):
            made = joints.changed(made, f"{group}.{member}", None)
    job = joints.as_job(made)
    record = record_of(answer_to(asked, job, "order"))
    check = answer_to(asked, job)
    if not record["reasons"]:
        raise Broken("no reason given")
    if record["release"] == "hold":
        return
    accepted = job.get("order", {}).get("accept_marginal", False)
    if check["verdict"] not in (("ok", "marginal") if accepted else ("ok",)):
        raise Broken(f"released, and check says {check['verdict']}: {json.dumps(job)}")
    assumed = [item["at"] for item in check["assumptions"] if "value" in item and isinstance(item["value"], dict)
               and item["value"].get("unit") in ("in", "mm") and item["at"] != "/pin/inside_diameter"]
    if assumed:
        raise Broken(f"released on assumed {assumed}: {json.dumps(job)}")
    judged = {item["id"] for item in check["checks"]}
    wanted = {"load_reverses", "boss_pressure", "bending", "shear", "edge_slope", "fatigue", "clearance_cold", "clearance_hot",
              "steel_strength", "steel_suits"}
    wanted |= {"rod": {"hold_axial", "hold_torque", "slot_fatigue", "wall_clearance"},
               "piston": {"screw_axial", "screw_torque"}}[job["pin"]["held_in"]]
    if not wanted <= judged:
        raise Broken(f"released without {wanted - judged}: {json.dumps(job)}")


def tolerances_make_no_verdict_worse(asked, joint, rng):
    """At the ends of each tolerance that the record gives, check says nothing worse than at the size ordered."""
    order = {"fails": 3, "incomplete": 2, "marginal": 1, "ok": 0}
    job = joints.as_job(to_order(joint, rng))
    record = record_of(answer_to(asked, job, "order"))
    before = {item["id"]: order[item["verdict"]] for item in answer_to(asked, job)["checks"]}
    for group, name, part in (("pin", "length", record["part"].get("length")),
                              ("slot", "depth", record["part"].get("slot", {}).get("depth"))):
        for end in ("min", "max"):
            if part is None:
                continue
            changed = copy.deepcopy(job)
            changed[group][name] = part[end]["value"]
            for item in answer_to(asked, changed)["checks"]:
                # the seventh digit of the answer may lie on the other side of a limit
                if order[item["verdict"]] > before[item["id"]] and abs(item.get("utilization", 0) - 1) > 1e-4:
                    near = item.get("advised", item.get("limit", {})).get("value", 0)
                    if abs(item.get("value", {}).get("value", 0) - near) > 1e-4 * abs(near):
                        raise Broken(f"{item['id']} gets worse at {group}.{name} {end}: {json.dumps(job)}")


PROPERTIES = [
    job_of_a_record_gives_the_record_again,
    part_is_the_same_in_any_units_and_any_engine,
    nothing_is_released_that_check_holds_back,
    tolerances_make_no_verdict_worse,
]
