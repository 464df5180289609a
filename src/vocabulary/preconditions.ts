import { idsOf, type Term } from "./term.js";

/**
 * What has to be true before a task is attempted; each meaning is the statement that holds unless a procedure states
 * a number. Common practice, no source.
 */
export const PRECONDITIONS = {
  "repairs-complete": {
    label: "repairs complete",
    meaning:
      "Every part is fitted and torqued, trims and covers are on, and service and transport modes are off.",
  },
  "no-unrelated-fault-codes": {
    label: "no unrelated fault codes",
    meaning: "No fault code is left except those that the calibration itself will clear.",
  },
  "battery-supported": {
    label: "battery supported",
    meaning:
      "A regulated supply holds the 12-volt battery within the procedure's voltage window, which a charger on boost does not.",
  },
  "battery-and-charging-in-order": {
    label: "battery and charging in order",
    meaning: "No charging fault is stored, and the battery at rest stands above the procedure's voltage.",
  },
  "software-current": {
    label: "module configured",
    meaning: "The new part has its software and is configured to this vehicle.",
  },
  "mount-in-order": {
    label: "mount in order",
    meaning:
      "The bracket is straight, no fastener or tab is missing, nothing is shimmed or glued, and the sensor's angle before aiming is within the procedure and recorded.",
  },
  "correct-part": {
    label: "correct part",
    meaning: "Glass, cover, emblem, bracket or sensor is the variant that belongs to this vehicle's options.",
  },
  "sensor-and-cover-clean": {
    label: "sensor and cover clean",
    meaning:
      "Sensor and window are free of dirt, ice, stickers and film, and the windshield's inner face, bracket, heater and shroud are in order.",
  },
  "film-thickness-in-range": {
    label: "film thickness in range",
    meaning:
      "The paint in the radar's window was measured with a gauge that reads on plastic, lies within the limit and is recorded.",
  },
  "adhesive-cured": {
    label: "adhesive cured",
    meaning:
      "The safe-drive-away time has passed before the vehicle moves, and the full cure time where the maker asks for it.",
  },
  "tyres-correct": {
    label: "tyres correct",
    meaning:
      "All four tyres are of the size as built and their tread depths lie within the permitted spread.",
  },
  "tyre-pressure-set": {
    label: "tyre pressures set",
    meaning: "The tyres are cold and set to the pressures on the placard.",
  },
  "load-defined": {
    label: "load as defined",
    meaning:
      "Load is as the procedure says: nobody and no cargo aboard for static work, the stated driver's-seat load for headlamp aim, only driver and tool operator for a drive.",
  },
  "ride-height-in-range": {
    label: "ride height in range",
    meaning: "All four corners were measured from a stated datum and lie within the maker's limits.",
  },
  "suspension-settled": {
    label: "suspension settled",
    meaning: "The vehicle was rolled and jounced on its wheels and has not been lifted since.",
  },
  "alignment-in-spec": {
    label: "wheel alignment in specification",
    meaning:
      "The wheels were measured after the repair with run-out compensated, all angles are in, and the printout is kept.",
  },
  "thrust-angle-in-range": {
    label: "thrust angle in range",
    meaning:
      "The thrust angle is within the procedure's limit by measurement, or, where nothing touched the axles, a straight steering wheel on a level road, no pull, no alignment code and even tread are on record.",
  },
  "steering-straight-ahead": {
    label: "steering straight ahead",
    meaning: "The front wheels point straight ahead and the steering stays where it is.",
  },
  "doors-closed-ignition-as-specified": {
    label: "doors closed, ignition as specified",
    meaning: "Doors and lids stay closed and the ignition is in the state that the procedure asks for.",
  },
  "floor-level": {
    label: "floor level",
    meaning: "The floor under vehicle and targets is within the procedure's slope and flatness.",
  },
  "clear-area": {
    label: "clear area",
    meaning: "The area that the procedure asks for is free of people, metal and reflectors.",
  },
  "lighting-even": {
    label: "lighting even",
    meaning: "The light is even, without glare or strong backlight, and nothing near looks like a target.",
  },
  "targets-verified": {
    label: "targets verified",
    meaning: "The right target is used, clean and undamaged, and its measured placement is within tolerance.",
  },
  "targets-steady": {
    label: "targets steady",
    meaning: "The targets stand still, with no wind or draught on them.",
  },
  "mirrors-in-driving-position": {
    label: "mirrors in driving position",
    meaning: "Both door mirrors are unfolded and set as for driving.",
  },
  "vehicle-still": {
    label: "vehicle still",
    meaning: "Nobody sits in the vehicle, leans on it or moves it while the value is stored.",
  },
  "seat-empty": {
    label: "seat empty",
    meaning: "Nothing lies on the seat, hangs from it or is wedged against it.",
  },
  "bay-temperature": {
    label: "bay temperature",
    meaning: "Vehicle and bay are within the temperature range that the procedure states.",
  },
  "trailer-and-accessories-off": {
    label: "trailer and accessories off",
    meaning: "Trailer, carriers and other accessories in the sensor's view are taken off.",
  },
  "drive-route-suitable": {
    label: "route suitable",
    meaning: "Road class, lane markings, traffic and permitted speed suit the procedure's drive window.",
  },
  "weather-and-light-suitable": {
    label: "weather and light suitable",
    meaning: "The road is dry and it is daylight, unless the procedure allows otherwise.",
  },
  "licensed-driver": {
    label: "licensed driver and second person",
    meaning: "A licensed driver drives and a second person works the tool.",
  },
} as const satisfies Record<string, Term>;

export type PreconditionId = keyof typeof PRECONDITIONS;
export const PRECONDITION_IDS: readonly PreconditionId[] = idsOf(PRECONDITIONS);
