import * as z from "zod";
import { POSITION_IDS, PRECONDITION_IDS, SENSOR_IDS } from "../vocabulary/index.js";

const text = z.string();
const number = z.number();
const sensor = z.enum(SENSOR_IDS);
const position = z.enum(POSITION_IDS).nullable();
const quantity = z.enum(["distance", "lateral", "height", "yaw", "pitch", "roll"]);
const axle = z.enum(["front", "rear"]);
const side = z.enum(["left", "right"]);
const point = z.strictObject({ x: number, y: number });

const decision = z.strictObject({
  /** What was measured, in words: "lateral place of Board N1". */
  of: text,
  value: number.nullable(),
  unit: z.enum(["mm", "deg", "%", "mm/m"]),
  low: number.nullable(),
  high: number.nullable(),
  /** Standard uncertainty; null where none is known. */
  u: number.nullable(),
  verdict: z.enum(["conforms", "does-not-conform", "cannot-be-decided"]),
  /** That the true value lies within the tolerance; null without an uncertainty. */
  probability: number.nullable(),
  /** How far inside a limit a value has to lie; null under simple acceptance. */
  guardBand: number.nullable(),
  /** The largest expanded uncertainty (k = 2) with which this value could be decided; null where none could. */
  largestU: number.nullable(),
  says: text,
});
/** Whether a measured value lies within a tolerance, as far as its uncertainty lets one say. */
export type SetupDecision = z.infer<typeof decision>;

const alignment = z.strictObject({
  /** Sum of both rear toes, toe-in positive; degrees. */
  totalRearToe: number.nullable(),
  thrust: z
    .strictObject({
      /** Heading of the rear axle about z, counter-clockwise positive (ISO 8855); degrees. */
      heading: number,
      /** The same as the trade prints it: to the vehicle's right positive; degrees. */
      trade: number,
      pointsTo: z.enum(["left", "right", "straight-ahead"]),
      u: number.nullable(),
      from: z.enum(["rear-toe", "thrust-angle"]),
    })
    .nullable(),
  /** Right wheel rearward positive, as the trade counts. */
  setBack: z.strictObject({ axle, mm: number.nullable(), deg: number.nullable() }).nullable(),
});
export type AlignmentResult = z.infer<typeof alignment>;

const centreLine = z.strictObject({
  /** Between the marks; mm. */
  length: number,
  /** Of the line through the marks against the geometric centre line, counter-clockwise positive; degrees. */
  yaw: number.nullable(),
  uYaw: number,
  atTargets: z.array(
    z.strictObject({
      /** The target's key. */
      target: text,
      /** From the front mark to the target, along the line; mm. */
      beyond: number,
      /** How far the line lies off the centre line there, left positive; null where the marks' y is not stated. */
      lateral: number.nullable(),
      /** Standard uncertainty of the line's place there; null where that of its projection or of the tape is not stated. */
      uLateral: number.nullable(),
    }),
  ),
});
export type CentreLineResult = z.infer<typeof centreLine>;

const plane = z.strictObject({
  /** Rise along x (towards the front) and along y (towards the left), mm per metre; height at the origin, mm. */
  along: number,
  across: number,
  atOrigin: number,
});

const floor = z.strictObject({
  spots: z.int(),
  plane,
  /** The slope of steepest rise; mm/m. */
  steepest: number,
  uAlong: number.nullable(),
  uAcross: number.nullable(),
  /** Highest minus lowest residual; mm. */
  flatness: number,
  degreesOfFreedom: z.int(),
  residuals: z.array(z.strictObject({ x: number, y: number, residual: number })),
  /** The plane that the wheels stand on; null where their heights are not known. */
  wheels: z
    .strictObject({
      plane,
      /** Half of the difference between the two diagonals' height sums, front left and rear right minus the others; mm. */
      twist: number,
      /** What goes under each wheel so that all four stand level; mm, none negative. */
      shims: z.array(z.strictObject({ axle, side, thickness: number })),
    })
    .nullable(),
});
export type FloorResult = z.infer<typeof floor>;

const attitude = z.strictObject({
  /** By how much each axle stands higher than specified, with all that was stated counted once; mm. */
  front: number,
  rear: number,
  /** About y, nose down positive (ISO 8855); degrees. */
  pitch: number,
  /** Of each axle about x, left side up positive; degrees; null where one side only was measured. */
  rollFront: number.nullable(),
  rollRear: number.nullable(),
  /** "nose up 0.21°, left side high 0.05° at the front". */
  says: text,
  /** Of each axle's tyre: size on the vehicle minus size specified; mm. */
  tyres: z
    .strictObject({
      front: z.strictObject({ diameter: number, specified: number, raises: number }),
      rear: z.strictObject({ diameter: number, specified: number, raises: number }),
      /** Whether the ride height as stated leaves the tyres out, so that their part is added. */
      counted: z.boolean(),
    })
    .nullable(),
  /** How far a sensor's axis has moved at a distance ahead, upwards positive; mm. */
  aim: z.array(z.strictObject({ range: number, vertical: number })),
});
export type AttitudeResult = z.infer<typeof attitude>;

const tapeSet = z.strictObject({
  from: z.enum(["front-axle", "rear-axle"]),
  left: number,
  right: number,
  diagonals: z.strictObject({ fromLeft: number, fromRight: number }),
  /** By how much left minus right changes for one degree of yaw, counter-clockwise; mm. */
  straightsPerDegree: number,
  /** By how much the diagonals (from left minus from right) change for one mm of offset to the left; mm. */
  diagonalsPerMillimetre: number,
});

const measuredValue = z.strictObject({ value: number, u: number.nullable() }).nullable();

const target = z.strictObject({
  /** "forward-camera/board-n1", "rear-corner-radar:left/simulator-n6-left". */
  key: text,
  /** The requirements that it serves; empty without a plan. */
  requirements: z.array(text),
  sensor,
  position,
  id: text,
  name: text,
  procedure: z.strictObject({ pack: text, section: text }).nullable(),
  datum: z.enum(["front-axle", "rear-axle", "front-bumper", "rear-bumper", "sensor", "emblem"]),
  referenceLine: z.enum(["centre-line", "thrust-line"]),
  /** As the procedure has it: nominal and tolerance of distance, lateral, height (mm), yaw, pitch, roll (degrees). */
  asked: z.strictObject({
    distance: z.strictObject({ nominal: number, tolerance: number }),
    lateral: z.strictObject({ nominal: number, tolerance: number }),
    height: z.strictObject({ nominal: number, tolerance: number }),
    yaw: z.strictObject({ nominal: number, tolerance: number }),
    pitch: z.strictObject({ nominal: number, tolerance: number }),
    roll: z.strictObject({ nominal: number, tolerance: number }),
  }),
  /** Its middle in the vehicle's axes, height above the floor; null where something is missing. */
  stands: z
    .strictObject({
      x: number,
      y: number,
      /** Of the target's middle above the plane of the wheels. */
      height: number,
      /** What a tape shows from the floor at that place up; null where no floor was surveyed. */
      heightAboveFloor: number.nullable(),
      yaw: number,
      pitch: number,
      roll: number,
    })
    .nullable(),
  /**
   * Ends of the bar on the floor; null without a width. Of a bar across the vehicle the left end is the one on the
   * vehicle's left; of one that lies along it, the end on the left of somebody who looks at it from the vehicle.
   */
  bar: z.strictObject({ width: number, left: point, right: point }).nullable(),
  /** What the tape has to show; empty without a bar. */
  tapes: z.array(tapeSet),
  /** What was found, from the tapes or as stated; null where nothing was measured. */
  measured: z
    .strictObject({
      distance: measuredValue,
      lateral: measuredValue,
      height: measuredValue,
      yaw: measuredValue,
      pitch: measuredValue,
      roll: measuredValue,
      /** Of the adjustment of the tapes; null where the pose was stated. */
      fit: z
        .strictObject({
          readings: z.int(),
          degreesOfFreedom: z.int(),
          /**
           * Sum of squared residuals over their uncertainties (null where a reading has none), and what it stays under
           * in 95 of 100 cases (null where there is no reading to spare).
           */
          chiSquared: number.nullable(),
          limit: number.nullable(),
          /** False where it does not stay under that; null where nothing can be said. */
          agree: z.boolean().nullable(),
          residuals: z.array(z.strictObject({ reading: text, residual: number })),
        })
        .nullable(),
    })
    .nullable(),
  /** What to do about it, in the order in which it is done: centre, distance, square, level, height. */
  corrections: z.array(
    z.strictObject({
      quantity,
      /** To be added to what is there; mm or degrees. */
      amount: number,
      says: text,
    }),
  ),
  decisions: z.array(z.strictObject({ quantity, ...decision.shape })),
});
export type TargetResult = z.infer<typeof target>;

const rectangle = z.strictObject({ x: number, y: number, length: number, width: number });

const bay = z.strictObject({
  length: number,
  width: number,
  height: number.nullable(),
  obstacles: z.array(
    z.strictObject({
      id: text,
      name: text.nullable(),
      x: number,
      y: number,
      length: number,
      width: number,
      from: number,
      to: number.nullable(),
    }),
  ),
  verdict: z.enum(["fits", "does-not-fit", "cannot-be-told"]),
  says: text,
  /** The least rectangle in which each calibration can be done, if need be from a set-up of its own; no obstacles. */
  least: z.strictObject({ length: number, width: number, height: number.nullable() }).nullable(),
  setUps: z.array(
    z.strictObject({
      /** "S1". */
      id: text,
      requirements: z.array(text),
      targets: z.array(text),
      noseIn: z.boolean(),
      /** Null where it cannot be told. */
      fits: z.boolean().nullable(),
      /** In the bay's axes: the point below the middle of the front axle, when the set-up fits. */
      vehicleAt: point.nullable(),
      /** How far the set-up reaches ahead of the origin of the vehicle's axes, behind it, and to either side. */
      covers: z.strictObject({
        front: number,
        rear: number,
        left: number,
        right: number,
        height: number.nullable(),
      }),
      least: z.strictObject({ length: number, width: number, height: number.nullable() }),
      /** What is left over, or missing where negative; mm. */
      spare: z.strictObject({ length: number, width: number, height: number.nullable() }),
      /** Obstacles that have to go before it fits, with the least move that would do. */
      inTheWay: z.array(z.strictObject({ obstacle: text, move: number, says: text })),
      clearAreas: z.array(z.strictObject({ requirement: text, area: rectangle, height: number.nullable() })),
      says: text,
    }),
  ),
});
export type BayResult = z.infer<typeof bay>;

const headlamp = z.strictObject({
  position: z.enum(["left", "right"]),
  rule: text,
  /** The document, how it is known, and from when it counts. */
  source: text,
  load: z.enum(["unladen", "driver-75-kg", "other"]),
  percent: number,
  deg: number,
  dropAtTenMetres: number,
  decision: decision.nullable(),
  says: text,
});
export type HeadlampResult = z.infer<typeof headlamp>;

/** What the measurements of a set-up come to (`repair-calibration/setup-result@1`). */
export const setupResultShape = z.strictObject({
  schema: z.literal("repair-calibration/setup-result@1"),
  reference: text.nullable(),
  vehicle: z.strictObject({
    make: text.nullable(),
    model: text.nullable(),
    /** As stated or as the wheel centres give them; null where unknown; mm. */
    wheelbase: number.nullable(),
    trackFront: number.nullable(),
    trackRear: number.nullable(),
    frontOverhang: number.nullable(),
    rearOverhang: number.nullable(),
    width: number.nullable(),
    height: number.nullable(),
  }),
  procedures: z.array(
    z.strictObject({
      id: text,
      version: text,
      digest: text,
      cite: text,
      issued: text,
      invented: z.boolean(),
    }),
  ),
  decisionRule: z.strictObject({
    kind: z.enum(["guarded", "simple"]),
    conformance: number.nullable(),
    guardFactor: number.nullable(),
    says: text,
  }),
  alignment: alignment.nullable(),
  centreLine: centreLine.nullable(),
  floor: floor.nullable(),
  attitude: attitude.nullable(),
  targets: z.array(target),
  bay: bay.nullable(),
  headlamps: z.array(headlamp),
  /** Limits of the procedures that these measurements decide. */
  conditions: z.array(
    z.strictObject({ precondition: z.enum(PRECONDITION_IDS), requirements: z.array(text), decision }),
  ),
  workings: z.array(
    z.strictObject({
      about: text,
      id: text,
      gives: text,
      formula: text,
      inputs: z.array(z.strictObject({ name: text, value: number, unit: text })),
      value: number,
      unit: text,
    }),
  ),
  /** What could not be computed, and what it would take. */
  missing: z.array(z.strictObject({ for: text, needs: text, pointer: text })),
  contradictions: z.array(z.strictObject({ about: z.array(text), says: text })),
  warnings: z.array(z.strictObject({ about: text, says: text })),
  cautions: z.array(text),
});
/** What the measurements of a set-up come to (`repair-calibration/setup-result@1`). */
export type SetupResult = z.infer<typeof setupResultShape>;
