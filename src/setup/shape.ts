import * as z from "zod";
import { targetShape } from "../procedures/index.js";
import { dimensionsShape } from "../shapes/index.js";

import { POSITION_IDS, SENSOR_IDS } from "../vocabulary/index.js";

const text = z.string().max(2000);
const id = z.string().min(1).max(120);
const sensor = z.enum(SENSOR_IDS);
const position = z.enum(POSITION_IDS).nullable();
const axle = z.enum(["front", "rear"]);
const side = z.enum(["left", "right"]);

/** A place on the floor or above it; lengths mm. */
const millimetres = z.number().min(-100_000).max(100_000);
/** A distance that cannot be negative or nothing. */
const extent = z.number().positive().max(100_000);
/** A standard uncertainty (one standard deviation) in the unit of what it belongs to. */
const uncertainty = z.number().positive().max(10_000);
/** A number, or a text with its unit: "0.20°", "0°12′", "-0°06'". A bare number needs the unit beside it. */
const angle = z.union([z.number(), z.string().max(40)]);

/** Individual toe of the rear wheels, toe-in positive. */
const rearToeShape = z.strictObject({
  left: angle,
  right: angle,
  /** Of numbers; texts name their own. */
  unit: z.enum(["deg", "min", "mm", "in"]).optional(),
  /** The diameter across which a toe in mm or in was measured; mm. Below 200 it is in another unit. */
  rimDiameter: z.number().min(200).max(2000).optional(),
  /**
   * What a toe in mm or in counts: the difference between the front and the rear edge of the rim across its whole
   * diameter, or the way of one edge about the hub, which is half of it.
   */
  convention: z.enum(["across-rim", "one-edge"]).optional(),
  /** Standard uncertainty of each, in degrees. */
  u: uncertainty.optional(),
});

const thrustAngleShape = z.strictObject({
  value: angle,
  unit: z.enum(["deg", "min"]).optional(),
  /** The side to which the thrust line points where the value is positive: the trade counts right, ISO 8855 left. */
  sign: z.enum(["right-positive", "left-positive"]),
  u: uncertainty.optional(),
});

const setBackShape = z.strictObject({
  value: z.number(),
  unit: z.enum(["deg", "mm"]),
  sign: z.enum(["right-rearward-positive", "left-rearward-positive"]),
  axle: axle,
});

const wheelCentreShape = z.strictObject({
  axle,
  side,
  x: millimetres,
  y: millimetres,
  /** Height of the floor under the wheel, in the levels of the survey. */
  z: millimetres.optional(),
  /** Standard uncertainty of each coordinate. */
  u: uncertainty.optional(),
  /** Of z, where it is another: a level reads heights better than a plumb line finds a centre. */
  uZ: uncertainty.optional(),
});

const markShape = z.strictObject({ x: millimetres, y: millimetres.optional() });

const floorSpotShape = z.strictObject({
  x: millimetres,
  y: millimetres,
  z: millimetres,
  u: uncertainty.optional(),
});

const placeShape = z.strictObject({
  datum: z.enum(["sensor", "emblem", "front-bumper", "rear-bumper"]),
  /** Whose lens or face it is, for the datum "sensor". */
  sensor: sensor.optional(),
  position: position.optional(),
  x: millimetres,
  y: millimetres,
  z: millimetres.optional(),
});

const rideHeightShape = z.strictObject({
  /** Hub to arch leaves the tyre out; ground to body has it in. */
  datum: z.enum(["hub-to-arch", "ground-to-body"]),
  corners: z
    .array(z.strictObject({ axle, side, specified: extent, measured: extent, u: uncertainty.optional() }))
    .min(1)
    .max(4),
});

const tyreSize = z.string().max(40);
const tyresShape = z.strictObject({
  /** What stands on the vehicle. */
  front: tyreSize,
  rear: tyreSize,
  /** What the placard asks for. */
  specified: z.strictObject({ front: tyreSize, rear: tyreSize }),
});

/** Tape readings between points plumbed to the floor: from the wheel centres of one axle to the ends of the bar; mm. */
const tapesShape = z.strictObject({
  from: z.enum(["front-axle", "rear-axle"]),
  /** Left wheel to left end, right wheel to right end. Left and right are the vehicle's. */
  left: extent.optional(),
  right: extent.optional(),
  diagonals: z
    .strictObject({
      /** Left wheel to right end. */
      fromLeft: extent.optional(),
      /** Right wheel to left end. */
      fromRight: extent.optional(),
    })
    .optional(),
  /** Standard uncertainty of one reading. */
  u: uncertainty.optional(),
});

const poseNumbers = {
  distance: millimetres.optional(),
  lateral: millimetres.optional(),
  height: millimetres.optional(),
  yaw: z.number().min(-360).max(360).optional(),
  pitch: z.number().min(-90).max(90).optional(),
  roll: z.number().min(-180).max(180).optional(),
};
/** What stated numbers were held against, where it is not what the procedure counts from. */
const countsFromShape = z.strictObject({
  /** Of lateral and yaw: the line laid through the marks, or the reference line itself. */
  line: z.enum(["marks", "reference-line"]).optional(),
  /** Of pitch and roll: the plumb line (a spirit level), or the plane that the wheels stand on. */
  tilt: z.enum(["plumb-line", "wheels"]).optional(),
});
const expanded = z.number().positive().max(10_000);

const setupTargetShape = z.strictObject({
  sensor,
  position: position.optional(),
  /** The target's id in the maker's procedure, or any id where `placing` says how it stands. */
  id,
  /** How it is to stand, where no procedure pack says it. */
  placing: targetShape.omit({ id: true }).optional(),
  /** From one end of the bar to the other, where the tape is held; mm. */
  barWidth: extent.optional(),
  measured: z
    .strictObject({
      ...poseNumbers,
      countsFrom: countsFromShape.optional(),
      tapes: z.union([tapesShape, z.array(tapesShape).min(1).max(4)]).optional(),
    })
    .optional(),
  /** Expanded uncertainty of what was measured, in its unit. */
  U: z
    .strictObject({
      distance: expanded.optional(),
      lateral: expanded.optional(),
      height: expanded.optional(),
      yaw: expanded.optional(),
      pitch: expanded.optional(),
      roll: expanded.optional(),
    })
    .optional(),
  /** The coverage factor of `U`. */
  k: z.number().min(1).max(10).optional(),
});

const obstacleShape = z.strictObject({
  id,
  name: text.optional(),
  /** Of its corner nearest the door and furthest right: x from the door inwards, y left of the middle of the door. */
  x: millimetres,
  y: millimetres,
  length: extent,
  width: extent,
  /** Where it begins above the floor; left out: on it. */
  from: millimetres.optional(),
  /** Where it ends above the floor; left out: at the ceiling. */
  to: extent.optional(),
});

/** Of a bay that a vehicle can stand in: below a metre it is in another unit. */
const bayExtent = z.number().min(1000).max(100_000);

const bayShape = z.strictObject({
  length: bayExtent,
  width: bayExtent,
  height: bayExtent.optional(),
  obstacles: z.array(obstacleShape).max(100).optional(),
  /** Whether the vehicle stands with its nose away from the door; left out: either way. */
  noseIn: z.boolean().nullable().optional(),
});

const headlampShape = z.strictObject({
  position: z.enum(["left", "right"]),
  /** The limits that count: see the words of the list. */
  rule: z.string().max(60),
  /** Of the lamp's lower edge or centre above the floor, as the rule asks; mm. */
  height: extent,
  /** Of the cut-off, downwards positive. */
  inclination: z.union([
    z.strictObject({ value: z.number(), unit: z.enum(["%", "deg"]) }),
    z.strictObject({ drop: millimetres, at: extent }),
  ]),
  /** What the maker has marked on the vehicle; per cent, downwards positive. */
  marked: z.number().min(0).max(10).optional(),
  load: z.enum(["unladen", "driver-75-kg", "other"]),
  /** Expanded uncertainty in per cent, with its coverage factor. */
  U: expanded.optional(),
  k: z.number().min(1).max(10).optional(),
});

const decisionRuleShape = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("guarded"),
    /** The guard band as a share of the expanded uncertainty for k = 2. */
    guardFactor: z.number().positive().max(5).optional(),
    /** Or the probability of conformity that is asked for. */
    conformance: z.number().gt(0.5).lt(1).optional(),
  }),
  z.strictObject({ kind: z.literal("simple") }),
]);

/** What was measured of vehicle, floor, bay and targets (`repair-calibration/setup@1`); lengths mm. */
export const setupShape = z.strictObject({
  $schema: z.string().optional(),
  schema: z.literal("repair-calibration/setup@1"),
  reference: text.optional(),
  vehicle: z
    .strictObject({
      make: text.optional(),
      model: text.optional(),
      modelYear: z.int().optional(),
      vin: text.optional(),
      dimensions: dimensionsShape.optional(),
    })
    .optional(),
  /**
   * The axes of every x and y below: the vehicle's (x forward, y left, origin on the ground below the middle of the
   * front axle), or any others on the floor, in which case the four wheel centres tie the vehicle to them.
   */
  axes: z.enum(["vehicle", "floor"]).optional(),
  rearToe: rearToeShape.optional(),
  thrustAngle: thrustAngleShape.optional(),
  setBack: setBackShape.optional(),
  wheelCentres: z.array(wheelCentreShape).length(4).optional(),
  /** For targets whose placing names none, and for the drawing. */
  referenceLine: z.enum(["centre-line", "thrust-line"]).optional(),
  marks: z
    .strictObject({
      front: markShape,
      rear: markShape,
      uFront: uncertainty,
      uRear: uncertainty,
      /** Of the line's projection over both marks, and of the tape, where the target stands. */
      uLine: uncertainty.optional(),
      uTape: uncertainty.optional(),
    })
    .optional(),
  floor: z.array(floorSpotShape).max(2000).optional(),
  places: z.array(placeShape).max(50).optional(),
  rideHeight: rideHeightShape.optional(),
  tyres: tyresShape.optional(),
  target: setupTargetShape.optional(),
  targets: z.array(setupTargetShape).max(100).optional(),
  bay: bayShape.optional(),
  headlamps: z.array(headlampShape).max(10).optional(),
  decisionRule: decisionRuleShape.optional(),
  extensions: z.record(z.string(), z.unknown()).optional(),
});
/** What was measured in the bay, as its document holds it (`repair-calibration/setup@1`). */
export type Setup = z.infer<typeof setupShape>;
export type SetupTarget = z.infer<typeof setupTargetShape>;
export type Bay = z.infer<typeof bayShape>;
export type Tapes = z.infer<typeof tapesShape>;

/** The targets of a document, each with its place in it. */
export function statedTargets(
  setup: Setup,
): readonly { readonly target: SetupTarget; readonly pointer: string }[] {
  return [
    ...(setup.target === undefined ? [] : [{ target: setup.target, pointer: "/target" }]),
    ...(setup.targets ?? []).map((target, index) => ({ target, pointer: `/targets/${index}` })),
  ];
}
