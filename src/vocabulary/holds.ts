import { idsOf, type Term } from "./term.js";

/** A stated fact because of which a calibration must not be attempted yet, and what clears it. */
export interface HoldTerm extends Term {
  readonly clearedBy: string;
}

/** The holds. A fact that nobody stated is never a hold. Common practice, no source. */
export const HOLDS = {
  "filler-in-radar-window": {
    label: "filler or weld in the radar's window",
    meaning: "Filler or plastic weld in the window bends the beam by an amount that nobody can predict.",
    clearedBy: "Replace the cover, or produce the maker's written permission.",
  },
  "reconditioned-cover-over-radar": {
    label: "reconditioned or repeatedly painted cover over a radar",
    meaning: "What earlier repairs and paint left in the radar's window is unknown or too much.",
    clearedBy: "Fit a new cover, or produce the maker's written permission.",
  },
  "unapproved-part": {
    label: "unapproved or wrong-variant part",
    meaning:
      "The glass, cover, emblem, bracket or sensor is not the variant that the maker approves for this vehicle.",
    clearedBy: "Fit the part that belongs to this vehicle's options.",
  },
  "recycled-sensor-not-configured": {
    label: "recycled sensor not cleared and configured",
    meaning: "The sensor still carries the identity and values of the vehicle that it came from.",
    clearedBy: "Clear and configure it to this vehicle where the maker allows that, or fit a new one.",
  },
  "camera-bracket-rebonded": {
    label: "camera bracket re-bonded",
    meaning:
      "The camera's bracket was glued to the glass outside the glass factory, so its place is uncertain.",
    clearedBy: "Replace the glass with one that has its bracket, unless the maker allows the bonding.",
  },
  "film-too-thick": {
    label: "paint film too thick",
    meaning: "The measured paint in the radar's window is over the limit.",
    clearedBy: "Replace or strip and repaint the cover as the maker allows, and measure again.",
  },
  "ride-height-out": {
    label: "ride height out",
    meaning: "The measured ride height is outside its limits, so the sensors would learn a wrong attitude.",
    clearedBy: "Correct the ride height and measure again.",
  },
  "wheel-alignment-out": {
    label: "wheel alignment out",
    meaning:
      "The measured thrust angle or another angle is out, so the reference line of the sensors is wrong.",
    clearedBy: "Correct the wheel alignment and measure again.",
  },
  "structural-measurement-out": {
    label: "structural measurement out",
    meaning: "The body is not at its dimensions, so the sensors' mounting points are not either.",
    clearedBy: "Correct the structure and measure again.",
  },
  "unrelated-fault-codes": {
    label: "unrelated fault codes active",
    meaning: "An active code that a calibration does not clear shows that something is still broken.",
    clearedBy: "Diagnose and repair the fault, clear the code and read again.",
  },
  "sensor-bracket-bent": {
    label: "sensor bracket bent, straightened or welded",
    meaning:
      "A bracket that was bent no longer holds the sensor where it belongs, not even after straightening.",
    clearedBy: "Replace the bracket.",
  },
  "tyres-mixed": {
    label: "tyres mixed",
    meaning:
      "Tyre sizes differ, or tread depths differ by more than the limit, so that the vehicle stands askew.",
    clearedBy: "Fit matching tyres.",
  },
  "battery-voltage-low": {
    label: "battery voltage low",
    meaning: "The battery is below the procedure's voltage, and modules can fail while they store values.",
    clearedBy: "Charge or replace the battery and support it.",
  },
  "sensor-damaged": {
    label: "sensor damaged",
    meaning: "The sensor is cracked, was dropped, is wet inside, or its tabs are broken or glued.",
    clearedBy: "Replace the sensor.",
  },
  "adhesive-not-cured": {
    label: "adhesive not cured",
    meaning: "The bonded glass can still move, and the vehicle must not be driven.",
    clearedBy:
      "Wait for the adhesive maker's safe-drive-away time, and for the full cure where the maker asks.",
  },
  "windshield-damage-in-view": {
    label: "windshield damage in the camera's view",
    meaning: "A crack, chip or chip repair in the view distorts what the camera sees.",
    clearedBy: "Replace the windshield.",
  },
  "mount-inspection-first": {
    label: "mount inspection first",
    meaning: "A code says that the sensor sits or points wrongly, which a calibration would only cover up.",
    clearedBy: "Inspect the mount, correct what is found, and record the sensor's angle.",
  },
  "configure-first": {
    label: "configure first",
    meaning:
      "A code says that the module is not programmed or configured, so that it cannot keep a calibration.",
    clearedBy: "Program and configure the module to this vehicle.",
  },
  "ride-height-modified": {
    label: "ride height modified",
    meaning: "A lift or lowering can lie outside what the maker lets be calibrated.",
    clearedBy: "Restore the ride height, or produce the maker's written statement that covers the change.",
  },
  "tyre-size-not-approved": {
    label: "tyre size not approved",
    meaning: "The tyre size is not among those that the maker approves for this vehicle.",
    clearedBy: "Fit an approved size.",
  },
  "view-obstructed": {
    label: "view obstructed",
    meaning: "An accessory, film or wrap lies in the sensor's window.",
    clearedBy: "Remove it, or produce the maker's written permission.",
  },
} as const satisfies Record<string, HoldTerm>;

export type HoldId = keyof typeof HOLDS;
export const HOLD_IDS: readonly HoldId[] = idsOf(HOLDS);
