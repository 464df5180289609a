import type { Issue } from "../../errors.js";
import { cos, formatLength, formula, mm, sin, type Degrees, type Millimetres } from "../../measure/index.js";
import { answer, type KnownAnswer, type Contradiction, type Missing } from "../answer.js";
import type { Place, Point, Scene, Wheel } from "../scene.js";
import type { Setup } from "../shape.js";
import {
  CORNERS,
  checkWheels,
  endsOf,
  findCorners,
  headingOfCentreLine,
  middlesOf,
  refuseExtent,
  trackOfWheels,
  wheelbaseOfWheels,
  workMiddles,
  type Corners,
  type StatedWheel,
} from "./wheels.js";

type Dimensions = NonNullable<NonNullable<Setup["vehicle"]>["dimensions"]>;

/** How far two statements about one length may lie apart before their uncertainties are counted; mm. */
const AGREES_WITHIN = 10;

export const forwardOfOrigin = formula({
  id: "forward-of-origin",
  gives: "x in the vehicle's axes",
  text: "(x - xFront) * cos(heading) + (y - yFront) * sin(heading)",
  inputs: { x: "mm", y: "mm", xFront: "mm", yFront: "mm", heading: "deg" },
  result: "mm",
  compute: ({ x, y, xFront, yFront, heading }) => (x - xFront) * cos(heading) + (y - yFront) * sin(heading),
});

export const leftOfOrigin = formula({
  id: "left-of-origin",
  gives: "y in the vehicle's axes",
  text: "(y - yFront) * cos(heading) - (x - xFront) * sin(heading)",
  inputs: { x: "mm", y: "mm", xFront: "mm", yFront: "mm", heading: "deg" },
  result: "mm",
  compute: ({ x, y, xFront, yFront, heading }) => (y - yFront) * cos(heading) - (x - xFront) * sin(heading),
});

export const FORMULAS = [forwardOfOrigin, leftOfOrigin] as const;

/** Where the vehicle stands in the document's axes. */
interface Frame {
  readonly xFront: Millimetres;
  readonly yFront: Millimetres;
  readonly heading: Degrees;
}
type ToVehicle = NonNullable<Scene["toVehicle"]>;
type Axes = Pick<Scene, "wheelbase" | "trackFront" | "trackRear">;

/**
 * Lays the vehicle's axes: origin below the middle of the front axle, x along the geometric centre line through the
 * middles of both axles. Measured wheel centres come before stated dimensions, since they are what stands there; where
 * the two disagree, a contradiction says so. Without wheel centres the wheels stand in an ideal rectangle. Lengths mm.
 */
export function answerScene(setup: Setup): KnownAnswer<Scene> {
  const { dimensions = {} } = setup.vehicle ?? {};
  const usable = checkWheels(setup).length === 0;
  const corners = usable ? findCorners(setup.wheelCentres ?? []) : null;
  if (corners !== null) return answerMeasured(setup, dimensions, corners);
  const toVehicle = setup.axes === "floor" ? null : samePoint;
  const stated = statedAxes(dimensions);
  return answer({
    value: {
      ...bodyOf(dimensions),
      ...stated,
      wheels: idealWheels(stated),
      places: placesOf(setup, toVehicle),
      toVehicle,
    },
    missing: [
      ...(usable ? [] : [FOUR_WHEELS]),
      ...(toVehicle === null && (setup.places ?? []).length > 0 ? [PLACES] : []),
    ],
  });
}

const FOUR_WHEELS: Missing = {
  for: "the places of the wheels",
  needs: "the four wheel centres as they stand on the floor",
  pointer: "/wheelCentres",
};
const PLACES: Missing = {
  for: "the measured places in the vehicle's axes",
  needs: "the four wheel centres, which tie the vehicle to the axes on the floor",
  pointer: "/wheelCentres",
};

function answerMeasured(setup: Setup, dimensions: Dimensions, corners: Corners): KnownAnswer<Scene> {
  const middles = middlesOf(corners);
  const frame = { xFront: middles.xFront, yFront: middles.yFront, heading: headingOfCentreLine(middles) };
  const toVehicle: ToVehicle = ({ x, y }) => {
    const inputs = { x: mm(x), y: mm(y), ...frame };
    return { x: forwardOfOrigin(inputs), y: leftOfOrigin(inputs) };
  };
  const measured = {
    wheelbase: wheelbaseOfWheels(middles),
    trackFront: trackOfWheels(endsOf(corners.front)),
    trackRear: trackOfWheels(endsOf(corners.rear)),
  };
  return answer({
    value: {
      ...bodyOf(dimensions),
      ...measured,
      wheels: CORNERS.map(({ axle, side }) => placeWheel(corners[axle][side], toVehicle)),
      places: placesOf(setup, toVehicle),
      toVehicle,
    },
    workings: [
      ...workMiddles(corners),
      wheelbaseOfWheels.work(middles),
      trackOfWheels.work(endsOf(corners.front), "front track"),
      trackOfWheels.work(endsOf(corners.rear), "rear track"),
      headingOfCentreLine.work(middles),
      ...workPlaces(setup, frame),
    ],
    contradictions: [
      ...compareExtents(dimensions, measured, corners),
      ...(setup.axes === "floor" ? [] : compareAxes(corners)),
    ],
  });
}

/** Axes that are the vehicle's already: nothing is turned or moved. */
function samePoint({ x, y }: { readonly x: number; readonly y: number }): Point {
  return { x: mm(x), y: mm(y) };
}

function lengthOf(stated: number | undefined): Millimetres | null {
  return stated === undefined ? null : mm(stated);
}

function statedAxes({ wheelbase, trackFront, trackRear }: Dimensions): Axes {
  return {
    wheelbase: lengthOf(wheelbase),
    trackFront: lengthOf(trackFront),
    trackRear: lengthOf(trackRear),
  };
}

function bodyOf({ frontOverhang, rearOverhang, width, height }: Dimensions) {
  return {
    frontOverhang: lengthOf(frontOverhang),
    rearOverhang: lengthOf(rearOverhang),
    width: lengthOf(width),
    height: lengthOf(height),
  };
}

function idealWheels({ wheelbase, trackFront, trackRear }: Axes): readonly Wheel[] | null {
  if (wheelbase === null || trackFront === null || trackRear === null) return null;
  return CORNERS.map(({ axle, side }) => {
    const half = (axle === "front" ? trackFront : trackRear) / 2;
    return {
      axle,
      side,
      x: mm(axle === "front" ? 0 : 0 - wheelbase),
      y: mm(side === "left" ? half : -half),
      z: null,
      u: null,
    };
  });
}

function placeWheel(stated: StatedWheel, toVehicle: ToVehicle): Wheel {
  const { axle, side, z, u } = stated;
  return { axle, side, ...toVehicle(stated), z: lengthOf(z), u: lengthOf(u) };
}

function placesOf({ places = [] }: Setup, toVehicle: ToVehicle | null): readonly Place[] {
  if (toVehicle === null) return [];
  return places.map((place) => ({
    datum: place.datum,
    sensor: place.sensor ?? null,
    position: place.position ?? null,
    ...toVehicle(place),
    z: lengthOf(place.z),
  }));
}

function workPlaces({ places = [] }: Setup, frame: Frame) {
  return places.flatMap(({ datum, sensor, position, x, y }) => {
    const inputs = { x: mm(x), y: mm(y), ...frame };
    const name = [sensor ?? datum, position].filter((part) => typeof part === "string").join(" ");
    return [
      forwardOfOrigin.work(inputs, `x of the ${name} in the vehicle's axes`),
      leftOfOrigin.work(inputs, `y of the ${name} in the vehicle's axes`),
    ];
  });
}

/** Standard uncertainty of the sum of coordinates, those without a stated one counted as exact. */
function uOfSum(wheels: readonly StatedWheel[]): number {
  return Math.hypot(...wheels.map(({ u }) => u ?? 0));
}

function compareExtents(
  stated: Dimensions,
  measured: Readonly<Record<keyof Axes, Millimetres>>,
  { front, rear }: Corners,
): readonly Contradiction[] {
  const wheelsOf = { front: [front.left, front.right], rear: [rear.left, rear.right] };
  const lengths = [
    { key: "wheelbase", name: "wheelbase", u: uOfSum([...wheelsOf.front, ...wheelsOf.rear]) / 2 },
    { key: "trackFront", name: "front track", u: uOfSum(wheelsOf.front) },
    { key: "trackRear", name: "rear track", u: uOfSum(wheelsOf.rear) },
  ] as const;
  return lengths.flatMap(({ key, name, u }) => {
    const said = stated[key];
    const most = AGREES_WITHIN + 3 * u;
    if (said === undefined || Math.abs(said - measured[key]) <= most) return [];
    return [
      {
        about: [`/vehicle/dimensions/${key}`, "/wheelCentres"],
        says:
          `the wheel centres give a ${name} of ${write(measured[key])} and ${write(said)} is stated: they lie more ` +
          `than ${write(most)} apart; the wheel centres count for the geometry, since they are what stands there`,
      },
    ];
  });
}

/** In the vehicle's own axes the front axle's middle is the origin, and the rear axle's lies on the x axis. */
function compareAxes(corners: Corners): readonly Contradiction[] {
  const { front, rear } = corners;
  const { xFront, yFront, yRear } = middlesOf(corners);
  const mostFront = AGREES_WITHIN + (3 * uOfSum([front.left, front.right])) / 2;
  const mostRear = AGREES_WITHIN + (3 * uOfSum([rear.left, rear.right])) / 2;
  const isFrontOff = Math.max(Math.abs(xFront), Math.abs(yFront)) > mostFront;
  if (!isFrontOff && Math.abs(yRear) <= mostRear) return [];
  return [
    {
      about: ["/axes", "/wheelCentres"],
      says:
        `x and y are the vehicle's, but the wheel centres put the middle of the front axle at x ${write(xFront)}, ` +
        `y ${write(yFront)} and that of the rear axle at y ${write(yRear)}, which would be 0 each: the wheel centres ` +
        'count, as if the axes were "floor"',
    },
  ];
}

function write(length: number): string {
  return formatLength(mm(length), "mm", "computed");
}

/** Finds dimensions and wheel centres that no vehicle can have. */
export function checkScene(setup: Setup): readonly Issue[] {
  const { wheelbase, trackFront, trackRear } = statedAxes(setup.vehicle?.dimensions ?? {});
  const lengths = [
    { key: "wheelbase", kind: "wheelbase", value: wheelbase, name: "a wheelbase" },
    { key: "trackFront", kind: "track", value: trackFront, name: "a front track" },
    { key: "trackRear", kind: "track", value: trackRear, name: "a rear track" },
  ] as const;
  return [
    ...lengths.flatMap(({ key, kind, value, name }) =>
      value === null ? [] : refuseExtent(kind, value, `no vehicle has ${name}`, `/vehicle/dimensions/${key}`),
    ),
    ...checkWheels(setup),
  ];
}
