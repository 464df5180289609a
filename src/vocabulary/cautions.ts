/** A caution that every report carries. */
export interface Caution {
  readonly id: string;
  readonly text: string;
}

/** The cautions that every report carries, in the order in which they are printed. */
export const CAUTIONS: readonly Caution[] = [
  {
    id: "maker-governs",
    text: "These are general rules. The vehicle maker's current service information takes precedence over all of them.",
  },
  {
    id: "qualified-people",
    text: "Leave work on airbags and belts, on high-voltage systems and on the structure to people qualified for it.",
  },
  {
    id: "laser",
    text: "Class 2 lasers: do not look into the beam or at its reflection, and set it up away from eye height.",
  },
  { id: "battery", text: "Keep the 12-volt battery on a supply for as long as modules are awake." },
  { id: "chocks", text: "Chock the wheels, and let nobody walk through the target area." },
  {
    id: "driver",
    text: "A dynamic calibration needs a licensed driver and a second person for the tool. Traffic law and road conditions outrank the speed that the procedure asks for.",
  },
  {
    id: "release-notice",
    text: "A vehicle with a requirement still open is released only after the customer was told in writing which functions may be degraded.",
  },
  {
    id: "adhesive",
    text: "After glass work the vehicle stays put until the adhesive maker's safe-drive-away time has passed.",
  },
  { id: "local-codes", text: "Where local codes or licensed practice ask for something else, they prevail." },
];
