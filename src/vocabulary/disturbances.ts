import { idsOf, type Term } from "./term.js";

/** What an operation or a finding does to a sensor. */
export const DISTURBANCES = {
  "sensor-replaced": {
    label: "sensor replaced",
    meaning: "The new sensor knows nothing of this vehicle, neither its direction nor its zero point.",
  },
  "sensor-removed": {
    label: "sensor removed and installed",
    meaning: "The same sensor went back, yet within the play of its fastening it may sit differently.",
  },
  "mount-replaced": {
    label: "mount replaced",
    meaning:
      "What carries the sensor is a different part, whose own tolerances now set the sensor's direction.",
  },
  "mount-removed": {
    label: "mount removed and installed",
    meaning: "What carries the sensor came off and went back, and the sensor moved with it.",
  },
  "mount-repaired": {
    label: "mount repaired",
    meaning:
      "What carries the sensor was reshaped or straightened, so that the seat of the sensor may have turned.",
  },
  "structure-reworked": {
    label: "structure reworked",
    meaning:
      "Cutting, pulling or welding of the body moved the points from which sensors and axles are located.",
  },
  "optical-path-replaced": {
    label: "glass in front of the sensor disturbed",
    meaning: "Glass of a different shape, seat or clarity bends the light on its way to the sensor.",
  },
  "cover-replaced": {
    label: "cover in front of the sensor replaced",
    meaning: "A different cover or emblem bends and weakens the radar beam in its own way.",
  },
  "cover-removed": {
    label: "cover in front of the sensor removed and installed",
    meaning: "The cover came off and went back, so its gap and seat in front of the sensor may differ.",
  },
  "cover-refinished": {
    label: "cover in front of the sensor painted",
    meaning: "Additional paint film weakens and bends the radar beam, or coats a lens.",
  },
  "cover-repaired": {
    label: "cover in front of the sensor repaired",
    meaning: "Filler or weld in the sensor's window lets the beam through unevenly.",
  },
  "thrust-line-moved": {
    label: "thrust line moved",
    meaning:
      "The rear axle now steers the vehicle along another line than the one the sensors were referred to.",
  },
  "steering-reference-lost": {
    label: "steering reference lost",
    meaning:
      "The straight-ahead position no longer agrees with the zero that the steering sensors have stored.",
  },
  "attitude-changed": {
    label: "attitude changed",
    meaning:
      "The body stands higher, lower or at another pitch, and everything fastened to it points elsewhere.",
  },
  "rolling-circumference-changed": {
    label: "rolling circumference changed",
    meaning:
      "The wheels cover another distance per turn, which shifts speed, height and learned reference values.",
  },
  "power-lost": {
    label: "power lost",
    meaning: "Without supply, modules forget values that they hold only while powered.",
  },
  "software-changed": {
    label: "software changed",
    meaning: "Writing software or configuration can erase stored calibration values or make them invalid.",
  },
  "module-replaced": {
    label: "module replaced",
    meaning: "The calibration values went away with the old module, and the new one holds none.",
  },
  "fault-stored": {
    label: "fault code stored",
    meaning: "The vehicle itself reports that the sensor is unfit, unaimed or unreadable.",
  },
  "impact-load": {
    label: "impact load",
    meaning:
      "The force of the collision passed near the sensor and can have shifted it without visible damage.",
  },
  "view-obstructed": {
    label: "view obstructed",
    meaning: "Something now stands, sticks or hangs in the sensor's field of view.",
  },
  "seat-load-path-disturbed": {
    label: "seat load path disturbed",
    meaning:
      "The seat passes weight to its sensor by another way, so the stored empty-seat value no longer holds.",
  },
} as const satisfies Record<string, Term>;

export type DisturbanceId = keyof typeof DISTURBANCES;
export const DISTURBANCE_IDS: readonly DisturbanceId[] = idsOf(DISTURBANCES);
