"""Checks the independent derivation against published and separately derived cases before it judges the service.

    python3 tests/derivation/selftest.py

Each case names its source and whether that was read, is from memory of the source named, or was derived; the ids
are those of the collected reference cases. Ends with "N passed, N failed"; exit status 1 if any failed.
"""

import math
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import derivation  # noqa: E402
import document  # noqa: E402
import geometry  # noqa: E402
import tables  # noqa: E402
import units  # noqa: E402
from crank import HALF, STEPS, Crank, Cycle  # noqa: E402
from load import ATMOSPHERE, Load  # noqa: E402
from slot import bolt_yield, flat_bar_notch, notch_sensitivity, published_notch, trough_notch  # noqa: E402
from strength import Strength  # noqa: E402

DEGREE = math.pi / 180.0
INCH = units.INCH
outcome = {"passed": 0, "failed": 0}


def close(case, value, expected, relative, absolute=0.0):
    good = abs(value - expected) <= relative * abs(expected) + absolute
    outcome["passed" if good else "failed"] += 1
    if not good:
        print("FAILED %s: %.10g, wanted %.10g within %g" % (case, value, expected, relative))


def equal(case, value, expected):
    good = value == expected
    outcome["passed" if good else "failed"] += 1
    if not good:
        print("FAILED %s: %r, wanted %r" % (case, value, expected))


# ---------------------------------------------------------------- load


def slider_crank():
    """I01-kin-030, -120, -acc-deadcentres: r 76.2, L 381 mm, 450 rpm. Derived, checked by central differences."""
    crank, w = Crank(0.0762, 0.381), 450 * units.RPM
    for degrees, travel_mm, acceleration, rod_deg in ((30, 12.11865069, 163.8083017, 5.739170477),
                                                      (120, 120.0585178, -101.5226123, 9.974221794)):
        k = degrees * STEPS // 360
        close("I01 travel", crank.travel[k], travel_mm * 1e-3, 1e-9)
        close("I01 acceleration", crank.acceleration[k] * w * w, acceleration, 1e-8)
        close("I01 rod angle", math.atan(crank.tangent[k]) / DEGREE, rod_deg, 1e-9)
    close("I01 acceleration tdc", crank.acceleration[0] * w * w, 203.0572409, 1e-8)
    close("I01 acceleration bdc", crank.acceleration[HALF] * w * w, -135.371494, 1e-8)
    close("I01 greatest rod angle", crank.rod_angle_max() / DEGREE, 11.53695903, 1e-8)


def side_thrust():
    """I01-sidethrust: 10 kN at 60 deg, lambda 0.2. Derived."""
    crank = Crank(0.2, 1.0)
    close("I01-sidethrust", 10000.0 * crank.tangent[60 * STEPS // 360], 1758.631145, 1e-8)


def gas_and_inertia():
    """I02-gas-4p5in, I03-inertia, I03-net-reversal: 4.5 in, 300 psi, 6.5 kg, 450 rpm, r 76.2 mm, lambda 0.2.
    Derived. I02-comp-r4: polytropic compression, 14.7 psi, r 4, n 1.3. Derived."""
    job = {"units": "metric", "engine": {"bore": "4.5 in", "stroke": 152.4, "rod_length": 381, "speed": 450,
                                         "peak_pressure": "300 psi", "reciprocating_mass": 6.5}}
    load = derivation.derive(job)["results"]["load"]
    close("I02-gas-4p5in", load["gas_force_peak"], 21223.7724, 1e-8)
    close("I02-gas-4p5in lbf", load["gas_force_peak"] / units.LBF, 4771.293843, 1e-8)
    close("I03-inertia tdc", load["inertia_force_tdc"], -1319.872066, 1e-8)
    close("I03-inertia bdc", load["inertia_force_bdc"], 879.9147108, 1e-8)
    close("I03-net-reversal max", load["pin_load_max"], 19903.90034, 1e-8)
    close("I03-net-reversal min", load["pin_load_min"], -1319.872066, 1e-8)
    close("I03-net-reversal ratio", load["load_ratio"], -0.06631223247, 1e-8)
    bare = Load.pressures(document.Job({"units": "metric", "engine": {
        "compression_ratio": 4, "intake_pressure": "14.7 psi", "pressure_rise_ratio": 1}}))
    close("I02-comp-r4", (bare[0] + ATMOSPHERE) / units.PSI, 89.12413411, 1e-9)


def expansion_stroke():
    """I02-ptheta-030: 114.3 x 152.4, r 4, n 1.3, p3 2.1 MPa abs, gas force at 30 deg 15.27622955 kN. Derived.
    I02-imep: 0.5805153826 MPa with p1 0.0931; mean of gauge pressure times travel. Derived, quadrature agrees."""
    crank, area = Crank(0.0762, 0.381), math.pi / 4.0 * 0.1143**2
    cycle = Cycle(crank, True, area, 2.1e6 - 101325.0, 101325.0, 101325.0, 1.3, 4.0, 0.0, 0.0)
    close("I02-ptheta-030", cycle.loads[0][30 * STEPS // 360], 15276.22955, 1e-9)
    cycle = Cycle(crank, True, 1.0, 2.1e6 - 101325.0, 101325.0, 93100.0, 1.3, 4.0, 0.0, 0.0)
    work = 0.0
    for stroke, load in enumerate(cycle.loads):
        places = [crank.travel[(stroke * HALF + k) % STEPS] for k in range(HALF + 1)]
        work += sum(0.5 * (a + b) * (y - x) for a, b, x, y in zip(load, load[1:], places, places[1:]))
    close("I02-imep", work / 0.1524, 0.5805153826e6, 1e-6)


def rubbing():
    """I03-rubbing: 25.4 mm, lambda 0.2, 450 rpm: mean 0.07671736782 m/s. Derived, quadrature agrees."""
    swing = Crank(0.2, 1.0).rod_swing()
    close("I03-rubbing", swing * 450 / 60.0 * 0.0254 / 2.0, 0.07671736782, 1e-9)


# ---------------------------------------------------------------- strength


def bending_models():
    """I05-models-A and -hollow: statics, derived. I05-kolchin: the triangular model is the remembered textbook
    one. I05-bhandari-knuckle: Bhandari Ex. 4.5, read. I05-khurmi-bending: M = P D/8, read."""
    for force, w, g, b, high, plain, low in ((20e3, 45, 2.5, 22, 360.0, 247.5, 210.8333333),
                                             (27.4e3, 28, 2.0, 18, 342.5, 246.6, 205.5)):
        sizes = (w * 1e-3, g * 1e-3, b * 1e-3)
        close("I05 concentrated", geometry.moment_at_middle(force, *sizes, "concentrated"), high, 1e-9)
        close("I05 uniform", geometry.moment_at_middle(force, *sizes, "uniform"), plain, 1e-9)
        close("I05 triangular", geometry.moment_at_middle(force, *sizes, "triangular"), low, 1e-9)
    close("I05-bhandari-knuckle", geometry.moment_at_middle(50e3, 0.040, 0.0, 0.025, "triangular"), 458.3333333, 1e-9)
    close("I05-khurmi", geometry.moment_at_middle(39275, 0.045, 0.005, 0.0175, "uniform"), 490.9375, 1e-9)
    close("I05 stress", 247.5 / geometry.round_section(0.0254, 0.0)[2], 153.8417314e6, 1e-9)
    close("I05 hollow stress", 246.6 / geometry.round_section(0.022, 0.015)[2], 300.9330311e6, 1e-9)
    close("I05-khurmi Z", geometry.round_section(0.035, 0.021)[2], 3663.725353e-9, 1e-9)


def shear():
    """I06-solid and I06-hollow-06: VQ/It, derived."""
    close("I06-solid", geometry.greatest_shear_stress(10e3, 0.0254, 0.0), 26.31366989e6, 1e-9)
    close("I06-hollow-06", geometry.greatest_shear_stress(10e3, 0.025, 0.015), 61.16542911e6, 1e-9)


def deflection():
    """Beam theory: F/(384 E I)(8 s3 - 4 s w2 + w3), and slope F(3 s2 - w2)/(48 E I); the
    shear part F(2s - w)/(8 k G A). Derived."""
    force, w, g, b, ei = 20e3, 0.045, 0.0025, 0.022, 4.0e3
    s = w + 2 * g + b
    sag, slope = geometry.beam_bending(force, w, g, b, ei)
    close("deflection", sag, force / (384 * ei) * (8 * s**3 - 4 * s * w * w + w**3), 1e-8)
    close("slope", slope, force * (3 * s * s - w * w) / (48 * ei), 1e-10)
    close("shear deflection", geometry.beam_shear(force, w, g, b, 1e7), force * (2 * s - w) / (8 * 1e7), 1e-12)


def ovalization():
    """I07-kolchin-oval: 22/15 x 68 mm, 27.4 kN, E 200 GPa: K 1.164264, 31.17573 um, 300.3452 MPa at the inner side.
    Kolchin & Demidov, from memory."""
    job = {"units": "metric", "engine": {"bore": 100, "stroke": 100, "peak_pressure": 27400.0 / (math.pi * 2500.0)},
           "pin": {"held_in": "floating", "diameter": 22, "inside_diameter": 15, "length": 68},
           "eye": {"width": 28}, "boss": {"gap": 2, "length": 18}}
    strength = derivation.derive(job)["results"]["strength"]
    close("I07 growth", strength["ovalization"], 31.17572611e-6 * 200 / 207, 1e-8)
    close("I07 stress", strength["ovalization_stress"], 300.3451889e6, 1e-8)
    # I05-kolchin bending: 205.5 N m by the triangular model (memory; identity proved there).
    close("I05-kolchin", strength["bending_moment_low"], 205.5, 1e-8)


def marin():
    """I10-marin-690: 690 MPa, machined, 32 mm: Se 236.0580212 MPa rotating; Shigley 8th to 10th ed., from memory,
    size factor (d/7.62)^-0.107 there against 1.24 d^-0.107 here: 0.2 % apart."""
    for held, kb in (("floating", 0.8576658822), ("rod", 0.9539388799)):
        strength = Strength(document.Job({"pin": {"held_in": held}}), Load(document.Job({})))
        steel = document.Steel(690e6, 500e6, 207e9, 11.7e-6, 7850.0, None, None)
        close("I10-marin-690 " + held, strength.endurance_of(steel, 0.032, "turned"),
              0.7977770394 * kb * 345e6, 0.003)


# ---------------------------------------------------------------- slot


def cut_sections():
    """I08-sec-*: circle less segment, D = 1. Derived, adaptive quadrature agrees to 1e-7. Columns: depth, area,
    shift, I, Z floor, Z far, I side, chord. I08-semicircle: half disc, any handbook."""
    for h, area, shift, inertia, z_floor, z_far, side, chord in (
            (0.02, 0.7816496361, 0.002340349498, 0.04819026098, 0.09990924671, 0.09683377169, 0.04907262226, 0.28),
            (0.05, 0.7707166867, 0.00895476913, 0.04577870415, 0.09974556804, 0.09322706193, 0.04894622179,
             0.4358898944),
            (0.10, 0.7445228862, 0.02417655701, 0.04069750236, 0.09594472323, 0.08553067942, 0.04833268039, 0.6),
            (0.15, 0.7115234534, 0.04265645873, 0.03520839054, 0.08966716263, 0.07698455836, 0.04712593453,
             0.7141428429),
            (0.30, 0.5872298071, 0.1092520491, 0.020069273, 0.0648961682, 0.05136117272, 0.03990966593, 0.916515139)):
        cut = geometry.CutSection(1.0, 0.0, h)
        for name, value, expected in (("area", cut.area, area), ("shift", -cut.centre, shift),
                                      ("I", cut.inertia, inertia), ("Z floor", cut.modulus_floor, z_floor),
                                      ("Z far", cut.modulus_far, z_far), ("I side", cut.inertia_side, side),
                                      ("chord", 2.0 * cut.half_chord, chord)):
            close("I08-sec-%g %s" % (h, name), value, expected, 2e-8)
    half = geometry.CutSection(2.0, 0.0, 1.0)
    close("I08-semicircle centroid", -half.centre, 0.4244131816, 1e-9)
    close("I08-semicircle I", half.inertia, 0.1097569606, 1e-8)


def hollow_cut_sections():
    """No reference case covers a hollow slotted section, so: a bore of no size changes nothing; a slot of no depth
    leaves the plain ring; and the closed forms of two nested discs by the parallel axis rule agree."""
    solid, pinhole = geometry.CutSection(1.0, 0.0, 0.1), geometry.CutSection(1.0, 1e-4, 0.1)
    close("tiny bore", pinhole.inertia, solid.inertia, 1e-7)
    ring = geometry.CutSection(1.0, 0.6, 1e-9)
    close("ring", ring.inertia, math.pi / 64.0 * (1.0 - 0.6**4), 1e-7)
    cut, bore_area = geometry.CutSection(1.0, 0.5, 0.1), math.pi / 4.0 * 0.25
    area = 0.7445228862 - bore_area
    centre = -0.02417655701 * 0.7445228862 / area
    about_centre = 0.04069750236 + 0.7445228862 * 0.02417655701**2 - math.pi / 64.0 * 0.5**4
    close("hollow area", cut.area, area, 1e-8)
    close("hollow I", cut.inertia, about_centre - area * centre**2, 1e-7)
    close("hollow I side", cut.inertia_side, 0.04833268039 - math.pi / 64.0 * 0.5**4, 1e-7)


def notch_factors():
    """I08-kt-rect-a, -c: Roark 17.1 case 3b, coefficients from memory. I08-fe3d-*: 3-D finite elements of the slot
    itself (derived): the fit states 1.4 % worst inside rc/D 0.15 to 0.45, h/D 0.05 to 0.25, and 2.8 % wider."""
    close("I08-kt-rect-a", flat_bar_notch(0.1, 1.0), 2.482546, 1e-7)
    close("I08-kt-rect-c", flat_bar_notch(0.1, 0.5), 2.02719025, 1e-7)
    for r, h, fe in ((0.10, 0.100, 2.421155229), (0.10, 0.150, 2.526077982), (0.10, 0.250, 2.501210035),
                     (0.15, 0.050, 1.888718845), (0.15, 0.150, 2.169357746), (0.15, 0.250, 2.13834846),
                     (0.20, 0.050, 1.742144752), (0.20, 0.100, 1.908900381), (0.20, 0.200, 1.959432719),
                     (0.25, 0.100, 1.782327089), (0.25, 0.200, 1.817160589), (0.25, 0.250, 1.784603595),
                     (0.30, 0.050, 1.572618291), (0.30, 0.100, 1.690527002), (0.30, 0.150, 1.720632824),
                     (0.30, 0.250, 1.681590763)):
        tight = r >= 0.15 and 0.05 <= h <= 0.25
        close("I08-fe3d r %g h %g" % (r, h), trough_notch(h, h / r), fe, 0.02 if tight else 0.03)
    close("I08-ktfit-a", trough_notch(0.08, 0.08 / 0.1875), 1.8992, 0.014)
    # Published value over finite elements as printed with the cases: 1.062 at r/D 0.2, h/D 0.1; below h/r 0.5 the
    # half-plane bound takes over: 1.7071 at r/D 0.2, h/D 0.025.
    close("published", published_notch(0.1, 0.5), 2.0272, 1e-4)
    close("published shallow", published_notch(0.025, 0.125), 1.7071, 1e-4)


def orientation():
    """I08-orient-30: 25.4 mm, slot 2.94 mm, 269.80718 N m at 30 deg: 151.4162 floor, 206.2631 MPa corner. Derived."""
    cut, moment, angle = geometry.CutSection(0.0254, 0.0, 0.00294), 269.80718, 30.0 * DEGREE
    floor = moment * math.cos(angle) / cut.modulus_floor
    close("I08-orient-30 floor", floor, 151.4161911e6, 1e-7)
    close("I08-orient-30 Iy", cut.inertia_side, 19987.09319e-12, 1e-8)
    corner = floor + moment * math.sin(angle) * cut.half_chord / cut.inertia_side
    close("I08-orient-30 corner", corner, 206.2631321e6, 1e-7)
    # The greatest nominal stress on the whole outline is at least that of the corner.
    equal("outline holds the corner", cut.greatest_stress(moment, angle) >= corner * (1.0 - 1e-9), True)


def bolt_geometry():
    """I09-bolt-inch, -inch-b, -offset: exact geometry and brute-force overlap of sampled solids, derived.
    I09-bolt-shear's segment area likewise."""
    for r, rb, rc, e, et, h, play, turn in ((0.5, 0.1875, 0.203125, 0.5875, 0.5875, 0.115625, 0.01748137768,
                                             2.888330091),
                                            (0.625, 0.25, 0.27, 0.7, 0.7, 0.195, 0.02088944663, 2.582481126),
                                            (0.5, 0.1875, 0.22, 0.56, 0.575, 0.145, 0.02883140649, 2.9241836)):
        close("I09 depth", r - (et - rc), h, 1e-9)
        close("I09 axial play", geometry.axial_play(r, h, rc, rb, e), play, 1e-8)
        close("I09 rotational play", geometry.rotational_play(r, h, e - rb) / DEGREE, turn, 1e-8)
    close("I09 mouth", geometry.trough_mouth(0.115625, 0.203125), 0.3666252344, 1e-9)
    close("I09 mouth b", geometry.trough_mouth(0.195, 0.27), 0.518748494, 1e-9)
    close("I09 segment", geometry.segment_area(0.5, 0.1), 0.0408752772, 1e-8)
    close("I09 segment b", geometry.segment_area(0.625, 0.175), 0.1044268291, 1e-8)
    close("I09-bolt-shear area", geometry.segment_area(12.7, 2.54), 26.37109384, 1e-8)
    # Bolt axis between the trough's and the pin's surface: contact on the straight wall, rc - rb.
    close("straight wall", geometry.axial_play(12.7, 6.0, 4.0, 3.5, 11.0), 0.5, 1e-9)


def clamp():
    """I09-clamp-friction: 12 kN, mu 0.12, R 12.7, lb 15.5, lh 20 mm: 5,112 N, 64.9224 N m; derived.
    I09-torque-half13: T = K F d, 5,853 lbf and 48.8 lbf ft on 1/2 in, read."""
    torque = 12000.0 * 0.2 * 0.0127
    job = {"units": "metric", "pin": {"diameter": 25.4},
           "clamp_bolt": {"diameter": 12.7, "offset": 15.5, "hinge_offset": 20, "torque": torque}}
    slot = derivation.derive(job)["results"]["slot"]
    close("I09-clamp preload", slot["bolt_preload"], 12000.0, 1e-9)
    close("I09-clamp axial", slot["grip_axial"], 5112.0, 1e-9)
    close("I09-clamp torque", slot["grip_torque"], 64.9224, 1e-9)
    job["clamp_bolt"]["torque"] = "48.8 lbf.ft"
    slot = derivation.derive(job)["results"]["slot"]
    close("I09-torque-half13", slot["bolt_preload"] / units.LBF, 5853.0, 0.0011)


def bolt_grades():
    """I09-j429: SAE J429 yields 57, 92, 130 ksi; larger sizes 36 and 81. Read. I09-iso898: yield 8.8 640 MPa."""
    for grade, size, ksi in (("SAE 2", 0.5, 57), ("SAE 2", 0.875, 36), ("SAE 5", 1.0, 92), ("SAE 5", 1.125, 81),
                             ("SAE 8", 0.5, 130)):
        close("I09-j429 " + grade, bolt_yield(grade, size * INCH), ksi * 1e3 * units.PSI, 1e-12)
    close("I09-iso898", bolt_yield("8.8", 0.010), 640e6, 1e-12)


def neuber():
    """I10-neuber: 690 MPa, r 3 mm, Kt 1.65: q 0.8467, Kf 1.5503. Polynomial read, 1.55 is Shigley's (memory)."""
    q = notch_sensitivity(690e6, 0.003)
    close("I10-neuber q", q, 0.8466774819, 0.002)
    close("I10-neuber Kf", 1.0 + q * 0.65, 1.550340363, 0.002)


def goodman():
    """I10-bhandari-517: 40 to 100 MPa, Se 270, Sut 600: Goodman 4.390244. Bhandari Ex. 5.17, read."""
    strength = Strength(document.Job({"pin": {"held_in": "rod"}}), Load(document.Job({})))
    strength.steel = document.Steel(600e6, 450e6, 207e9, 11.7e-6, 7850.0, None, None)
    strength.load.force = strength.load.high = 100.0
    strength.load.low = 40.0
    close("I10-bhandari-517", strength.goodman(100e6, 270e6), 4.390244, 1e-6)


def chain():
    """I10-chain-A, end to end: derived by composition, 0.9956 with the published notch factor. With the
    finite-element one 1.052 was first noted, which the adopted fit does not give: Kt 1.9285,
    Kf 1.787, factor 1.0448; 1.052 would want Kt 1.914, so it holds to 1 % only."""
    job = {"units": "metric",
           "engine": {"bore": 114.3, "stroke": 152.4, "peak_pressure": 2.068427},
           "pin": {"diameter": 25.4, "length": 95.3, "steel": {"tensile": 560, "yield": 310, "basis": "case"}},
           "eye": {"width": 50.8}, "boss": {"gap": 3.2, "length": 19.05},
           "slot": {"depth": 2.94, "cutter_diameter": 10.32}}
    derived = derivation.derive(job)["results"]
    load, strength, slot = derived["load"], derived["strength"], derived["slot"]
    close("chain force", load["pin_load_max"], 21223.77048, 1e-8)
    close("chain eye pressure", strength["eye_pressure"], 16.44845502e6, 1e-8)
    close("chain moment", strength["bending_moment"], 269.8071822, 1e-8)
    close("chain stress", strength["bending_stress"], 167.7074911e6, 1e-8)
    close("chain net stress", strength["bending_moment"] / slot["net_section_modulus"], 174.8403587e6, 1e-7)
    close("chain shear", strength["shear_stress_max"], 27.9237645e6, 1e-8)
    close("chain published Kt", slot["notch_factor_published"], 2.032792318, 1e-8)
    close("chain q", notch_sensitivity(560e6, 0.00516), 0.8474323543, 0.001)
    close("chain Se", strength["endurance_limit"], 230.3412074e6, 0.001)
    close("chain fatigue", slot["notch_fatigue_factor"], 1.052, 0.01)
    half = strength["bending_moment"] / slot["net_section_modulus"] / 2.0
    kf = 1.0 + notch_sensitivity(560e6, 0.00516) * (slot["notch_factor_published"] - 1.0)
    close("chain fatigue published", 1.0 / (kf * half / strength["endurance_limit"] + kf * half / 560e6),
          0.9955905002, 0.001)


# ---------------------------------------------------------------- fits


def press_fits():
    """press-bronze-steel-FN3: Mott's force-fit example (statement read, printed answers from memory, recomputed);
    press-bush-in-iron-eye, press-bush-in-steel-rod: Lame, derived."""
    psi = units.PSI
    for case, a, b, c, jump, bushing, housing, pressure, house, bush, hole, closure in (
            ("FN3", 2.0, 2.5, 3.5, 0.0032, (17e6, 0.27), (30e6, 0.27), 3517.7468027, 10846.385975, -16025.2909901,
             -19543.0377928, 0.00229918091680),
            ("iron eye", 38.0, 46.0, 75.0, 0.04, (1e5, 0.34), (1e5, 0.26), 11.7134289647, 25.8403116602,
             -62.0532843961, -73.7667133608, 0.0280313510771),
            ("steel rod", 1.25, 1.5, 2.5, 0.002, (14.5e6, 0.34), (30e6, 0.29), 3033.77211283, 6446.76573977,
             -16823.645353, -19857.4174658, 0.00171184633326)):
        rings = geometry.PressedRings(a, b, c, jump, bushing, housing)
        for name, value, expected in (("pressure", rings.pressure, pressure), ("closure", rings.closure, closure),
                                      ("housing hoop", rings.hoop_housing_bore, house),
                                      ("bushing outside hoop", rings.hoop_bushing_outside, bush),
                                      ("bushing bore hoop", rings.hoop_bushing_bore, hole)):
            close("press %s %s" % (case, name), value, expected, 1e-9)
    equal("psi", abs(psi - 6894.757293168361) < 1e-9, True)


def hot_clearance():
    """Part B 5: 38 mm, 0.030 mm cold, +80 K in iron: free 0.0492, bore follows the eye 0.0291, Lame 0.0321 mm.
    hot-clearance-bronze-free and the restrained figure; derived."""
    job = {"units": "metric", "pin": {"held_in": "piston", "diameter": 38},
           "eye": {"metal": "grey_iron"},
           "running_fit": {"hole": 38.03, "pin_temperature": 100},
           "press_fit": {"bushing_outside": 46.04, "housing_bore": 46, "bushing_bore": 38, "housing_outside": 75,
                         "bushing_metal": "c93200", "housing_metal": "grey_iron"}}
    fit = derivation.derive(job)["results"]["fit"]
    close("hot restrained", fit["hot_clearance_min"], 0.0321e-3, 0.003)
    del job["press_fit"]
    fit = derivation.derive(job)["results"]["fit"]
    close("hot follows the eye", fit["hot_clearance_min"], 0.0291e-3, 0.003)
    job["running_fit"]["hole_metal"] = "c93200"
    fit = derivation.derive(job)["results"]["fit"]
    close("hot free", fit["hot_clearance_min"], 0.0492e-3, 0.003)


def standard_fits():
    """iso-*: JIS B 0401 / ISO 286-2, read. b41-*: Machinery's Handbook 31 ed. Tables 8a, 8b, 12 and 27 ed. p. 663,
    read (LC3 from memory). Boundary sizes belong to the lower step: 30 mm is in 18 to 30."""
    for nominal, hole, shaft, low, high in ((38, "H7", "g6", 0.009, 0.050), (38, "F7", "h6", 0.025, 0.066),
                                            (38, "H7", "p6", -0.042, -0.001), (38, "K7", "h6", -0.018, 0.023),
                                            (38, "N7", "h6", -0.033, 0.008), (25, "H7", "r6", -0.041, -0.007),
                                            (60, "H7", "s6", -0.072, -0.023), (46, "H7", "r6", -0.050, -0.009)):
        bore = document.iso_limits(nominal * 1e-3, hole, "hole")
        pin = document.iso_limits(nominal * 1e-3, shaft, "shaft")
        close("iso %d %s%s" % (nominal, hole, shaft), bore[0] - pin[1], low * 1e-3, 0.0, 1e-10)
        close("iso %d %s%s" % (nominal, hole, shaft), bore[1] - pin[0], high * 1e-3, 0.0, 1e-10)
    for nominal, tolerance in ((0.030, 21e-6), (0.030001, 25e-6)):
        close("iso 30 mm", document.iso_limits(nominal, "H7", "hole")[1] - nominal, tolerance, 0.0, 1e-10)
    for nominal, name, low, high in ((2.0, "RC1", 0.0004, 0.0012), (1.25, "RC2", 0.0004, 0.0014),
                                     (1.25, "RC3", 0.0010, 0.0026), (2.25, "RC6", 0.0025, 0.0073),
                                     (1.75, "LC3", 0.0, 0.0026), (1.0, "LN1", -0.0010, 0.0),
                                     (1.75, "LN2", -0.0016, 0.0), (1.5, "FN1", -0.0013, -0.0003),
                                     (2.5, "FN3", -0.0032, -0.0013)):
        bore = document.b41_limits(nominal * INCH, name, "hole")
        pin = document.b41_limits(nominal * INCH, name, "shaft")
        close("b41 " + name, (bore[0] - pin[1]) / INCH, low, 0.0, 1e-8)
        close("b41 " + name, (bore[1] - pin[0]) / INCH, high, 0.0, 1e-8)


def small_cases():
    """mass-pin: 38 x 120 mm, 7,850 kg/m3: 1.06833628 kg, derived. geom-chord-segment: 1.25 in, 0.1875 in deep.
    steel-a434: BC 130/110 ksi to 1.5 in, read. unit-*: exact definitions, read."""
    job = {"units": "metric", "pin": {"diameter": 38, "length": 120}}
    close("mass-pin", derivation.derive(job)["results"]["strength"]["pin_mass"], 1.0683362809650523, 1e-9)
    cut = geometry.CutSection(1.25, 0.0, 0.1875)
    close("geom-chord", 2.0 * cut.half_chord, 0.8926785535678563, 1e-9)
    close("geom-area", cut.area / (math.pi / 4.0 * 1.25**2), 0.9059397978129063, 1e-8)
    equal("steel-a434", (tables.STEELS["4140-bc"][1][1], tables.STEELS["4140-bc"][2][1]), (130, 110))
    close("unit-temp", units.to_si(68.0, "degF"), 20.0, 1e-12)
    close("unit-lbf", units.LBF, 4.4482216152605, 1e-13)
    close("unit-pv", units.to_si(1.0, "psi.ft/min"), 35.0253670493, 1e-11)
    close("unit-fraction", units.quantity("1-17/64", "length", "inch"), 32.146875e-3, 1e-12)


def main():
    for case in (slider_crank, side_thrust, gas_and_inertia, expansion_stroke, rubbing, bending_models, shear,
                 deflection, ovalization, marin, cut_sections, hollow_cut_sections, notch_factors, orientation,
                 bolt_geometry, clamp, bolt_grades, neuber, goodman, chain, press_fits, hot_clearance,
                 standard_fits, small_cases):
        case()
    print("%d passed, %d failed" % (outcome["passed"], outcome["failed"]))
    return 1 if outcome["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())
