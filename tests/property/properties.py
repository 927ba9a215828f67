"""Properties that must hold for any joint: each takes program, joint and a source of chance, and raises Broken."""

import math

import joints
from answers import ROUNDING, Broken, answer_to, checks_of, must_answer_alike, must_be_same, results_of, same


def inch_and_metric_agree(asked, joint, rng):
    must_answer_alike(answer_to(asked, joints.as_job(joint, "metric")), answer_to(asked, joints.as_job(joint, "inch")))


def numbers_and_texts_agree(asked, joint, rng):
    system = rng.choice(["inch", "metric"])
    other = {"inch": "metric", "metric": "inch"}[system]
    numbers = answer_to(asked, joints.as_job(joint, system))
    must_answer_alike(numbers, answer_to(asked, joints.as_job(joint, system, as_text=True)))
    texts = {**joints.as_job(joint, other, as_text=True), "units": system}  # units of one system, document of the other
    must_answer_alike(numbers, answer_to(asked, texts))


def same_request_gives_same_bytes(asked, joint, rng):
    job = joints.as_job(joint, rng.choice(["inch", "metric"]))
    first = asked.ask("check", job).body
    answer_to(asked, joints.as_job(joints.joint(rng.random())))  # another joint in between
    if asked.ask("check", job).body != first:
        raise Broken("the second answer differs")


def order_of_members_does_not_matter(asked, joint, rng):
    def shuffled(value):
        if not isinstance(value, dict):
            return value
        names = list(value)
        rng.shuffle(names)
        return {name: shuffled(value[name]) for name in names}

    job = joints.as_job(joint)
    if asked.ask("check", job).body != asked.ask("check", shuffled(job)).body:
        raise Broken("the answers differ")


def limits_of_equal_ends_are_a_size(asked, joint, rng):
    size = joint["pin"]["diameter"]
    zero = joints.length(0.0)
    bare = answer_to(asked, joints.as_job(joint))
    for written in ({"min": size, "max": size}, {"nominal": size, "upper": zero, "lower": zero}):
        must_answer_alike(bare, answer_to(asked, joints.as_job(joints.changed(joint, "pin.diameter", written))))


# How each result grows when lengths grow by k and forces by k^2; those not named here rest on sizes of their own (the
# size effect and notch sensitivity of fatigue, clearances with tolerances, standard classes).
LIKE_K = {
    0: [
        "load.load_ratio",
        "load.rod_angle_max",
        "load.rubbing_speed_mean",
        "load.peak_pressure",
        "load.load_reverses",
        "strength.boss_pressure",
        "strength.eye_pressure",
        "strength.boss_pv",
        "strength.eye_pv",
        "strength.bending_stress",
        "strength.shear_stress_max",
        "strength.ovalization_stress",
        "strength.edge_slope",
        "strength.stress_mean",
        "strength.stress_amplitude",
        "strength.yield_factor",
        "strength.tensile_used",
        "strength.yield_used",
        "slot.notch_factor",
        "slot.notch_factor_published",
        "slot.notch_stress",
        "slot.rotational_play",
    ],
    1: [
        "strength.ovalization",
        "strength.deflection",
        "slot.intrusion",
        "slot.bottom_clearance",
        "slot.axial_play",
        "slot.slot_mouth",
        "slot.slot_chord",
        "slot.wall_clearance",
    ],
    2: [
        "load.piston_area",
        "load.gas_force_peak",
        "load.inertia_force_tdc",
        "load.inertia_force_bdc",
        "load.pin_load_max",
        "load.pin_load_min",
        "load.side_thrust_max",
        "slot.net_area",
        "slot.bolt_preload",
        "slot.hold_axial",
        "slot.grip_axial",
        "slot.axial_demand",
    ],
    3: [
        "strength.bending_moment",
        "strength.bending_moment_low",
        "strength.bending_moment_high",
        "strength.pin_mass",
        "slot.net_section_modulus",
        "slot.hold_torque",
        "slot.grip_torque",
        "slot.torque_demand",
    ],
}
POWER = {name: power for power, names in LIKE_K.items() for name in names}
SCALE_FREE_CHECKS = [
    "boss_pressure",
    "eye_pressure",
    "boss_pv",
    "eye_pv",
    "bending",
    "yield",
    "shear",
    "edge_slope",
    "ovalization",
    "slot_bending",
    "hold_axial",
    "hold_torque",
    "bolt_shear",
    "flank_pressure",
    "grip_axial",
    "grip_torque",
]


# Heat-treated bar is designed on the strength of its thickness, which does not scale.
WEAKER_WHEN_THICK = ("4140-bb", "4140-bc", "4140-bd", "8620-carb")


def scaling_leaves_stresses_alone(asked, joint, rng):
    k = rng.uniform(0.6, 1.7)
    if "clamp_bolt" in joint:  # a shank that scales, of a grade without steps of size
        diameter = dict(joints.THREADS)[joint["clamp_bolt"]["thread"]]
        joint = joints.changed(
            joints.changed(joint, "clamp_bolt.thread", None), "clamp_bolt.diameter", joints.length(diameter)
        )
        joint = joints.changed(joint, "clamp_bolt.grade", "10.9")
    if str(joint["pin"].get("steel", "")).lower() in WEAKER_WHEN_THICK:
        joint = joints.changed(joint, "pin.steel", "1045-cd")
    first = answer_to(asked, joints.as_job(joint))
    second = answer_to(asked, joints.as_job(joints.scaled(joint, k)))
    before, after = results_of(first), results_of(second)
    must_be_same(
        before, after, [name for name in POWER if name in before or name in after], lambda name: k ** POWER[name]
    )
    must_be_same(
        {name: check.get("utilization") for name, check in checks_of(first).items() if name in SCALE_FREE_CHECKS},
        {name: check.get("utilization") for name, check in checks_of(second).items() if name in SCALE_FREE_CHECKS},
    )


# The mean of the magnitude of the load can fall as pressure rises where inertia rules a stroke: PV is not monotone.
NOT_MONOTONE = {"boss_pv", "eye_pv"}


def firing_rules(document):
    """Whether the greatest load is the one at the firing dead centre: at high speed inertia rules, and then a higher
    compression pressure, which comes with the higher peak, eases the joint."""
    load = results_of(document)
    firing = load["load.gas_force_peak"] + load.get("load.inertia_force_tdc", 0.0)
    return (
        same(load.get("load.pin_load_max", firing), firing, 1e-5) and abs(load.get("load.pin_load_min", 0.0)) < firing
    )


def more_pressure_never_eases_a_check(asked, joint, rng):
    peak = joint["engine"]["peak_pressure"].si
    last = {}
    for factor in (1.0, 1.02, 1.3, 2.2):
        document = answer_to(
            asked, joints.as_job(joints.changed(joint, "engine.peak_pressure", joints.pressure(peak * factor)))
        )
        if not firing_rules(document):
            continue
        for name, check in checks_of(document).items():
            if check["section"] not in ("strength", "slot") or name in NOT_MONOTONE or "utilization" not in check:
                continue
            if check["utilization"] < last.get(name, 0.0) * (1 - ROUNDING):
                raise Broken(
                    f"{name}: utilization fell from {last[name]} to {check['utilization']} at {factor} of the pressure"
                )
            last[name] = check["utilization"]


def modulus_ratio(x):
    """Z to the floor over Z of the whole round, circle less segment of depth x diameters, by quadrature."""
    steps = 4000
    floor, area, first, second = 0.5 - x, 0.0, 0.0, 0.0
    for i in range(steps):
        # y = sin(t)/2 spreads the points where the width changes fastest
        low, high = -math.pi / 2, math.asin(min(1.0, 2 * floor))
        t = low + (high - low) * (i + 0.5) / steps
        y, strip = math.sin(t) / 2, math.cos(t) ** 2 / 2 * (high - low) / steps
        area, first, second = area + strip, first + y * strip, second + y * y * strip
    centre = first / area
    return (second - area * centre**2) / (floor - centre) / (math.pi / 32)


def deeper_slot_weakens_the_pin(asked, joint, rng):
    """Net area falls always. The modulus to the floor does not: taking off a thin slice brings the floor nearer to the
    axis and at first raises it, by up to 2 % near h/D = 0.03; it is back at the whole round's near h/D = 0.076 and
    falls from there on."""
    joint = joints.changed(joints.changed(joint, "pin.inside_diameter", None), "pin.held_in", "rod")
    for group in ("clamp_bolt", "held_fit", "running_fit"):
        joint.pop(group, None)
    pin = joint["pin"]["diameter"].si
    whole = math.pi / 32 * pin**3
    last_area, last_modulus = math.pi / 4 * pin**2, math.inf
    for x in sorted(rng.uniform(0.002, 0.4) for _ in range(8)):
        joint["slot"] = {
            "depth": joints.length(x * pin),
            "cutter_diameter": joints.length(max(0.3, 2.02 * x) * pin),
            "angle": joints.angle(0.0),
        }
        found = results_of(answer_to(asked, joints.as_job(joint), "slot"))
        area, modulus = found["slot.net_area"], found["slot.net_section_modulus"]
        if area >= last_area:
            raise Broken(f"h/D {x}: net area rose from {last_area} to {area}")
        if not same(modulus / whole, modulus_ratio(x), 1e-4):
            raise Broken(
                f"h/D {x}: modulus over the whole round's is {modulus / whole}, quadrature gives {modulus_ratio(x)}"
            )
        if modulus > 1.0201 * whole or (x > 0.0761 and modulus >= whole) or (x > 0.04 and modulus >= last_modulus):
            raise Broken(f"h/D {x}: modulus is {modulus / whole} of the whole round's, {last_modulus / whole} before")
        last_area, last_modulus = area, modulus if x > 0.04 else math.inf


def shallow_slot_tends_to_no_slot(asked, joint, rng):
    joint = joints.changed(joints.changed(joint, "pin.inside_diameter", None), "pin.held_in", "rod")
    for group in ("clamp_bolt", "held_fit", "running_fit"):
        joint.pop(group, None)
    pin = joint["pin"]["diameter"].si
    depth = 1e-7 * pin
    joint["slot"] = {
        "depth": joints.length(depth),
        "cutter_diameter": joints.length(0.4 * pin),
        "angle": joints.angle(0.0),
    }
    found = results_of(answer_to(asked, joints.as_job(joint)))
    wanted = {
        "slot.net_area": math.pi / 4 * pin**2,
        "slot.net_section_modulus": math.pi / 32 * pin**3,
        "slot.notch_factor": 1.0,
        "slot.notch_stress": found["strength.bending_stress"],
    }
    # the factor of a scratch falls with the root of its depth: 1 + 2 sqrt(h/r) is 1.0014 here
    must_be_same(wanted, found, wanted, relative=2e-3)


def narrow_bore_tends_to_solid(asked, joint, rng):
    """But for hoop stress (a pin with a bore is one that flattens) and the notch factor, which has a step there."""
    pin = joint["pin"]["diameter"].si
    solid = results_of(answer_to(asked, joints.as_job(joints.changed(joint, "pin.inside_diameter", None))))
    bored = results_of(
        answer_to(asked, joints.as_job(joints.changed(joint, "pin.inside_diameter", joints.length(2e-4 * pin))))
    )
    apart = ("ovalization", "notch")
    names = [
        name
        for name in set(solid) | set(bored)
        if name.split(".")[0] in ("strength", "slot") and not any(word in name for word in apart)
    ]
    # areas differ by (d/D)^2, 4e-8; the greatest shear stress by d/D: a hole in the middle stops the shear there
    must_be_same(solid, bored, names, relative=3e-4)


def angle_mirrors_at_the_side(asked, joint, rng):
    if "slot" not in joint:
        return
    turn = rng.uniform(0.0, 90.0)
    both = [
        results_of(answer_to(asked, joints.as_job(joints.changed(joint, "slot.angle", joints.angle(math.radians(a))))))
        for a in (turn, 180.0 - turn)
    ]
    must_be_same(
        *both, ["slot.notch_stress", "slot.notch_fatigue_factor", "slot.net_section_modulus", "slot.notch_factor"]
    )


def hot_at_20_degC_is_cold(asked, joint, rng):
    for name in ("pin_temperature", "hole_temperature"):
        joint = joints.changed(joint, "running_fit." + name, joints.degree(20.0))
    found = results_of(answer_to(asked, joints.as_job(joint, rng.choice(["inch", "metric"]))))
    for end in ("min", "max"):
        if not same(found[f"fit.clearance_{end}"], found[f"fit.hot_clearance_{end}"], absolute=1e-11):
            raise Broken(f"{end}: cold {found[f'fit.clearance_{end}']}, hot {found[f'fit.hot_clearance_{end}']}")


def band_of_moments_holds_the_default(asked, joint, rng):
    found = results_of(answer_to(asked, joints.as_job(joint), "strength"))
    low, used, high = (found["strength.bending_moment" + end] for end in ("_low", "", "_high"))
    if not 0 < low < used < high:
        raise Broken(f"{low}, {used}, {high}")


def thicker_pin_is_stronger(asked, joint, rng):
    joint = joints.changed(joints.changed(joint, "pin.inside_diameter", None), "pin.held_in", "floating")
    for group in ("slot", "clamp_bolt", "held_fit", "running_fit"):
        joint.pop(group, None)
    size = joint["pin"]["diameter"].si
    last = {}
    for factor in (1.0, 1.1, 1.3):
        document = answer_to(
            asked, joints.as_job(joints.changed(joint, "pin.diameter", joints.length(size * factor))), "strength"
        )
        for name, check in checks_of(document).items():
            if (
                name in ("boss_pressure", "eye_pressure", "bending", "yield", "shear", "edge_slope", "fatigue")
                and "utilization" in check
            ):
                if check["utilization"] >= last.get(name, math.inf):
                    raise Broken(
                        f"{name}: utilization {last[name]}, then {check['utilization']} at {factor} times the size"
                    )
                last[name] = check["utilization"]
    if len(last) < 6:
        raise Broken(f"only {sorted(last)} were judged")


SOUGHT = ("pin.diameter", "pin.inside_diameter", "boss.length", "eye.width", "engine.peak_pressure", "slot.depth",
          "slot.cutter_diameter", "clamp_bolt.torque", "clamp_bolt.offset", "running_fit.hole")


def with_value(job, path, value, unit):
    """The job with the member of this path set to a size of its own."""
    group, name = path.split(".")
    changed = {key: dict(part) if isinstance(part, dict) else part for key, part in job.items()}
    changed.setdefault(group, {})[name] = f"{value:.12g} {unit}"
    changed.pop("find", None)
    return changed


def failing(asked, job):
    """Ids of the checks that fail, or None where the job contradicts itself."""
    answer = asked.ask("check", job)
    if answer.status == 422:
        return None
    return {check["id"] for check in answer.document["checks"] if check["verdict"] == "fails"}


def size_agrees_with_check(asked, joint, rng):
    """At the value found no check fails; just beyond it some check does, or the document contradicts itself."""
    job = joints.as_job(joint, rng.choice(["inch", "metric"]))
    what = rng.choice(SOUGHT)
    if what.split(".")[0] not in job:
        return
    answer = asked.ask("size", {**job, "find": {"what": what, "keep": "not_fails"}})
    if answer.status == 422:
        return
    size = answer.document["results"]["size"]
    if size["outcome"] not in ("limit", "window"):
        return
    found, unit = size["found"]["value"], size["found"]["unit"]
    if failing(asked, with_value(job, what, found, unit)):
        raise Broken(f"{what} {found} {unit}: {failing(asked, with_value(job, what, found, unit))} fail at the value found")
    low = found == size["found_low"]["value"]
    beyond = found * ((1 - 1e-4) if low else (1 + 1e-4))
    if failing(asked, with_value(job, what, beyond, unit)) == set():
        raise Broken(f"{what} {found} {unit}: nothing fails at {beyond}")


PROPERTIES = [
    size_agrees_with_check,
    inch_and_metric_agree,
    numbers_and_texts_agree,
    same_request_gives_same_bytes,
    order_of_members_does_not_matter,
    limits_of_equal_ends_are_a_size,
    scaling_leaves_stresses_alone,
    more_pressure_never_eases_a_check,
    deeper_slot_weakens_the_pin,
    shallow_slot_tends_to_no_slot,
    narrow_bore_tends_to_solid,
    angle_mirrors_at_the_side,
    hot_at_20_degC_is_cold,
    band_of_moments_holds_the_default,
    thicker_pin_is_stronger,
]
