// Demo jobs as a front end would write them, typed by the contract. All of them are invented engines of a museum.

import type { components } from "./api.js";

export type Job = components["schemas"]["Job"];

export const pump: Job = {
  label: "Waterworks museum, pump engine no. 2: new wrist pin",
  engine: {
    cycle: "four_stroke",
    bore: "5 1/4 in",
    stroke: 8,
    rod_length: "19 in",
    speed: 380,
    peak_pressure: "285 psi",
    reciprocating_mass: "21 lb",
  },
  pin: {
    held_in: "rod",
    diameter: { min: "1.3747 in", max: "1.3750 in" },
    length: "4 3/4 in",
    steel: "8620-carb",
    finish: "ground",
  },
  eye: { width: "2 in", metal: "steel", outside: "2 1/4 in" },
  boss: { length: "1 5/16 in", gap: "1/16 in", metal: "grey_iron", bushing: "c93200" },
  slot: { depth: "0.130 in", cutter_diameter: "7/16 in" },
  clamp_bolt: {
    thread: "3/8-16 UNC",
    grade: "SAE 5",
    offset: "0.760 in",
    hinge_offset: "0.90 in",
    torque: "28 lbf.ft",
  },
  running_fit: { hole: { min: 1.3757, max: 1.3762 }, pin_temperature: "200 degF", hole_temperature: "180 degF" },
  held_fit: { hole: { min: "1.3750 in", max: "1.3753 in" } },
};

export const screwed: Job = {
  engine: { bore: "4 in", stroke: "6 in", speed: 425, peak_pressure: "19 bar" },
  pin: { held_in: "piston", diameter: "1.250 in", length: "3 5/8 in", steel: "1045-cd" },
  set_screw: { thread: "3/8-16 UNC", count: 1, torque: "15 lbf.ft", flat_depth: "0.06 in", point: "cup" },
};

export const unsized: Job = { ...pump, find: { what: "slot.depth", aim: "largest" } };

export const measured: Job = {
  pin: { diameter: { min: "1.2490 in", max: "1.2495 in" }, steel: "1045-cd" },
  running_fit: { hole: { min: "1.2503 in", max: "1.2508 in" } },
  inspection: {
    readings: [
      { at: "1/4 in", around: 0, size: "1.2498 in" },
      { at: "1/4 in", around: 90, size: "1.2497 in" },
      { at: "4 in", around: 0, size: "1.2494 in" },
      { at: "4 in", around: 90, size: "1.2493 in" },
    ],
  },
};

export const unturned: Job = {
  pin: { diameter: { min: "1.3747 in", max: "1.3750 in" }, length: "4 3/4 in", steel: "1144-cd", finish: "turned" },
  turning: { stock_diameter: "1 1/2 in", tool: "hss", dial: "radius", spindle_speeds: [45, 72, 115, 190, 320, 520] },
};

// The compiler knows the contract: each of these would be refused by the service as well.
// @ts-expect-error a misspelt member
export const misspelt: Job = { pin: { diamter: 1 } };
// @ts-expect-error a word that is none of the choices
export const misworded: Job = { engine: { cycle: "six_stroke" } };
