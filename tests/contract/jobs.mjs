// Jobs that are posted to every call: the demo joints, the examples, and jobs at the edges of what is read.

import fs from "node:fs";
import path from "node:path";

const JOINT = {
  engine: { bore: "5 1/4 in", stroke: 8, speed: 380, peak_pressure: "285 psi" },
  pin: { diameter: { nominal: "1 1/4 in", upper: 0, lower: "-0.5 thou" }, steel: "1045-cd" },
};

function readings(sizes, more = {}) {
  return {
    units: "metric",
    pin: { diameter: { min: 31.98, max: 32.0 } },
    inspection: { readings: sizes.map((size, index) => ({ at: 10 + 30 * index, size })), ...more },
  };
}

// Each is answered 200 by every call.
export const EDGE_JOBS = {
  "nothing": {},
  "a label alone": { label: "Ä pin \"for\" <the> museum\\ ½" },
  "metric": { ...JOINT, units: "metric", engine: { bore: 133, stroke: 203, speed: "7.1 Hz", compression_ratio: 4.5 } },
  "a two-stroke that never lifts": { ...JOINT, engine: { ...JOINT.engine, cycle: "two_stroke", speed: 200 } },
  "a floating hollow pin": { ...JOINT, pin: { ...JOINT.pin, held_in: "floating", inside_diameter: "1/2 in" },
    eye: { bushing: "c54400" }, boss: { metal: "aluminium" } },
  "own steel and own bushing": {
    ...JOINT,
    pin: { diameter: 1.25,
      steel: { tensile: "120 ksi", yield: "100 ksi", hardness: 28, hardness_scale: "HRC", basis: "heat 7" } },
    boss: { bushing: { yield: "20 ksi", hardness: 60, pressure_max: "4000 psi", kind: "bronze", basis: "foundry" } },
  },
  "a case hardened pin": { ...JOINT, pin: { diameter: 1.25, steel: "8620-carb", hardness: 60 } },
  "set screws of every kind": { ...JOINT, pin: { ...JOINT.pin, held_in: "piston" },
    set_screw: { thread: "M10", count: 1, torque: "25 N.m", flat_depth: "1 mm", point: "dog" } },
  "a slot cut through": { ...JOINT, slot: { depth: "1.2 in", cutter_diameter: "3/8 in" },
    clamp_bolt: { diameter: "3/8-16 UNC", grade: "SAE 5", offset: "0.7 in", torque: "20 lbf.ft" } },
  "a press fit without limits": { ...JOINT, press_fit: { housing_bore: { nominal: 1.5, class: "H7" }, length: 2 } },
  "limits of the user's own": { ...JOINT,
    limits: { boss_pressure: "500 psi", bending_factor: 4, wall_clearance: "1/8 in" } },
  "a straight pin": readings([31.995, 31.995, 31.995]),
  "a tapered pin": readings([31.990, 31.994, 31.998]),
  "a barrel": readings([31.985, 31.999, 31.985]),
  "a waist": readings([31.999, 31.985, 31.999]),
  "a pin too thin": readings([31.5, 31.5]),
  "a pin too thick": readings([32.3, 32.3]),
  "a pin at its limit": readings([31.9999, 31.9999], { resolution: 0.001 }),
  "a hole": { running_fit: { hole: { min: 1.251, max: 1.252 }, pin: 1.2495 },
    inspection: { part: "hole", readings: [{ size: 1.2515, around: "0 deg" }, { size: 1.2512, around: "90 deg" }] } },
  "turning with a taper": { ...JOINT, turning: { tool: "carbide", dial: "radius", spindle_speeds: [60, 120, "500 rpm"],
    machine_taper: { amount: "1 thou", over: 6 }, between_centres: 20 }, slot: { depth: 0.2, cutter_diameter: 0.375 } },
  "a search among steels": { ...JOINT, find: { what: "pin.steel", among: ["1045-cd", "12l14-cd", "4140-bc"] } },
};

// Further searches, for `size` alone; "find" is added to the others by sizeJob.
export const SEARCHES = [
  { what: "pin.diameter" },
  { what: "pin.diameter", aim: "largest", keep: "not_fails", from: "1 in", to: 3 },
  { what: "engine.peak_pressure" },
  { what: "pin.steel" },
  { what: "boss.length" },
  { what: "running_fit.hole.max" },
  { what: "engine.bore" },
];

export function sizeJob(job, search = SEARCHES[0]) {
  return job.find ? job : { ...job, find: search };
}

export function fixtureJobs(root) {
  const folder = path.join(root, "fixtures/jobs");
  return Object.fromEntries(fs.readdirSync(folder).filter((name) => name.endsWith(".json"))
    .map((name) => [name, JSON.parse(fs.readFileSync(path.join(folder, name), "utf8"))]));
}

export { JOINT };
