import type { Issue } from "../../errors.js";
import {
  atan,
  atan2,
  formatAngle,
  formatLength,
  formula,
  mm,
  type Millimetres,
  type Working,
} from "../../measure/index.js";
import type { Setup } from "../shape.js";

export type StatedWheel = NonNullable<Setup["wheelCentres"]>[number];
type Axle = StatedWheel["axle"];
type Spot = { readonly x: number; readonly y: number };

/** The two wheels of an axle, as stated, each with its place in the document's list. */
interface AxleWheels {
  readonly left: StatedWheel;
  readonly right: StatedWheel;
}
export type Corners = Readonly<Record<Axle, AxleWheels>>;

/** What a road vehicle with two axles can have; mm. Beyond it a unit or a digit is wrong. */
const EXTENTS = {
  wheelbase: { least: 500, most: 8000 },
  track: { least: 300, most: 3000 },
} as const;
/** How far an axle can stand out of square with the centre line; degrees. */
const MOST_ASKEW = 10;
/** Two wheel centres nearer than this are one; mm. */
const SAME_PLACE = 1;

export const wheelbaseOfWheels = formula({
  id: "wheelbase-of-wheels",
  gives: "wheelbase, between the middles of the axles",
  text: "sqrt((xFront - xRear)^2 + (yFront - yRear)^2)",
  inputs: { xFront: "mm", yFront: "mm", xRear: "mm", yRear: "mm" },
  result: "mm",
  compute: ({ xFront, yFront, xRear, yRear }) => Math.hypot(xFront - xRear, yFront - yRear),
});

export const trackOfWheels = formula({
  id: "track-of-wheels",
  gives: "track, between the wheel centres of an axle",
  text: "sqrt((xLeft - xRight)^2 + (yLeft - yRight)^2)",
  inputs: { xLeft: "mm", yLeft: "mm", xRight: "mm", yRight: "mm" },
  result: "mm",
  compute: ({ xLeft, yLeft, xRight, yRight }) => Math.hypot(xLeft - xRight, yLeft - yRight),
});

export const middle = formula({
  id: "middle-of-axle",
  gives: "middle of an axle",
  text: "(left + right) / 2",
  inputs: { left: "mm", right: "mm" },
  result: "mm",
  compute: ({ left, right }) => (left + right) / 2,
});

export const headingOfCentreLine = formula({
  id: "heading-of-centre-line",
  // The other definition in use is the bisector of the wheels' own lines; the two differ a little where tracks differ.
  gives: "heading, in the document's axes, of the geometric centre line through the middles of both axles",
  text: "atan2(yFront - yRear, xFront - xRear)",
  inputs: { xFront: "mm", yFront: "mm", xRear: "mm", yRear: "mm" },
  result: "deg",
  compute: ({ xFront, yFront, xRear, yRear }) => atan2(yFront - yRear, xFront - xRear),
});

export const FORMULAS = [wheelbaseOfWheels, trackOfWheels, middle, headingOfCentreLine] as const;

/** Sorts the wheel centres to their corners; null unless each of the four is there. */
export function findCorners(wheels: readonly StatedWheel[]): Corners | null {
  const find = (axle: Axle, side: StatedWheel["side"]) =>
    wheels.find((wheel) => wheel.axle === axle && wheel.side === side);
  const [frontLeft, frontRight] = [find("front", "left"), find("front", "right")];
  const [rearLeft, rearRight] = [find("rear", "left"), find("rear", "right")];
  if (frontLeft === undefined || frontRight === undefined) return null;
  if (rearLeft === undefined || rearRight === undefined) return null;
  return { front: { left: frontLeft, right: frontRight }, rear: { left: rearLeft, right: rearRight } };
}

/** The inputs under which an axle's track is computed. */
export function endsOf({ left, right }: AxleWheels) {
  return { xLeft: mm(left.x), yLeft: mm(left.y), xRight: mm(right.x), yRight: mm(right.y) };
}

/** The middles of both axles, as the inputs of wheelbase and heading. */
export function middlesOf({ front, rear }: Corners) {
  const [f, r] = [middleOf(front), middleOf(rear)];
  return { xFront: f.x, yFront: f.y, xRear: r.x, yRear: r.y };
}

function middleOf({ left, right }: AxleWheels): { readonly x: Millimetres; readonly y: Millimetres } {
  return {
    x: middle({ left: mm(left.x), right: mm(right.x) }),
    y: middle({ left: mm(left.y), right: mm(right.y) }),
  };
}

/** The arithmetic of `middlesOf`. */
export function workMiddles(corners: Corners): readonly Working[] {
  return (["front", "rear"] as const).flatMap((axle) => {
    const { left, right } = corners[axle];
    return (["x", "y"] as const).map((along) =>
      middle.work(
        { left: mm(left[along]), right: mm(right[along]) },
        `${along} of the middle of the ${axle} axle`,
      ),
    );
  });
}

/** Finds wheel centres that no vehicle can have, the worst kind alone: the others would follow from it. */
export function checkWheels({ wheelCentres, axes }: Setup): readonly Issue[] {
  if (wheelCentres === undefined) return [];
  const corners = findCorners(wheelCentres);
  if (corners === null) return checkComplete(wheelCentres);
  const pointerOf = (wheel: StatedWheel) => `/wheelCentres/${wheelCentres.indexOf(wheel)}`;
  const coinciding = checkApart(wheelCentres);
  if (coinciding.length > 0) return coinciding;
  const extents = checkExtents(corners);
  if (extents.length > 0) return extents;
  const swapped = checkSides(corners, axes ?? "vehicle", pointerOf);
  return swapped.length > 0 ? swapped : checkSquare(corners);
}

function nameOf({ axle, side }: Pick<StatedWheel, "axle" | "side">): string {
  return `${axle} ${side} wheel`;
}

function checkComplete(wheels: readonly StatedWheel[]): readonly Issue[] {
  const twice = wheels.flatMap((wheel, index): readonly Issue[] => {
    const first = wheels.findIndex(({ axle, side }) => axle === wheel.axle && side === wheel.side);
    if (first === index) return [];
    return [
      {
        code: "duplicate-id",
        pointer: `/wheelCentres/${index}`,
        message: `the ${nameOf(wheel)} stands already at /wheelCentres/${first}`,
      },
    ];
  });
  const missing = CORNERS.filter(
    ({ axle, side }) => !wheels.some((wheel) => wheel.axle === axle && wheel.side === side),
  );
  return [
    ...twice,
    {
      code: "missing-measurement",
      pointer: "/wheelCentres",
      message: `the centre of the ${missing.map(nameOf).join(" and of the ")} is missing`,
      expected: "each of the four wheels once",
    },
  ];
}

export const CORNERS = [
  { axle: "front", side: "left" },
  { axle: "front", side: "right" },
  { axle: "rear", side: "left" },
  { axle: "rear", side: "right" },
] as const;

function checkApart(wheels: readonly StatedWheel[]): readonly Issue[] {
  return wheels.flatMap((wheel, index): readonly Issue[] => {
    const other = wheels.findIndex(({ x, y }) => Math.hypot(x - wheel.x, y - wheel.y) < SAME_PLACE);
    if (other >= index) return [];
    return [
      {
        code: "invalid-value",
        pointer: `/wheelCentres/${index}`,
        message: `the ${nameOf(wheel)} stands at the same place as the wheel at /wheelCentres/${other}`,
        expected: "four places apart from one another",
      },
    ];
  });
}

function checkExtents(corners: Corners): readonly Issue[] {
  const measured = [
    { name: "a wheelbase", kind: "wheelbase", value: wheelbaseOfWheels(middlesOf(corners)) },
    { name: "a front track", kind: "track", value: trackOfWheels(endsOf(corners.front)) },
    { name: "a rear track", kind: "track", value: trackOfWheels(endsOf(corners.rear)) },
  ] as const;
  return measured.flatMap(({ name, kind, value }) =>
    refuseExtent(kind, value, `the wheel centres give ${name}`, "/wheelCentres"),
  );
}

/** Refuses a wheelbase or a track that no vehicle has. */
export function refuseExtent(
  kind: keyof typeof EXTENTS,
  value: Millimetres,
  says: string,
  pointer: string,
): readonly Issue[] {
  const { least, most } = EXTENTS[kind];
  if (value >= least && value <= most) return [];
  return [
    {
      code: "out-of-range",
      pointer,
      message: `${says} of ${formatLength(value, "mm", "computed")}`,
      expected: `${least} to ${most} mm`,
    },
  ];
}

/** How far the left wheel lies from the right one, along the way forward and to the left of it; mm × mm. */
function spanOf(
  { left, right }: AxleWheels,
  forward: Spot,
): { readonly ahead: number; readonly left: number } {
  const [x, y] = [left.x - right.x, left.y - right.y];
  return { ahead: forward.x * x + forward.y * y, left: forward.x * y - forward.y * x };
}

function forwardOf(corners: Corners): Spot {
  const { xFront, yFront, xRear, yRear } = middlesOf(corners);
  return { x: xFront - xRear, y: yFront - yRear };
}

function checkSides(
  corners: Corners,
  axes: "vehicle" | "floor",
  pointerOf: (wheel: StatedWheel) => string,
): readonly Issue[] {
  const forward = forwardOf(corners);
  return (["front", "rear"] as const).flatMap((axle): readonly Issue[] => {
    const { left, right } = corners[axle];
    if (spanOf(corners[axle], forward).left <= 0) {
      return [
        {
          code: "invalid-value",
          pointer: pointerOf(left),
          message: `with the front axle ahead, the ${nameOf(left)} lies to the right of the ${nameOf(right)}`,
          expected: "x and y of axes in which, seen from above, y points to the left of x",
        },
      ];
    }
    if (axes === "floor" || left.y > right.y) return [];
    return [
      {
        code: "invalid-value",
        pointer: `${pointerOf(left)}/y`,
        message: `in the vehicle's axes y counts to the left, and the ${nameOf(left)} has no greater y than the right one`,
        expected: 'x forward and y to the left, or "axes": "floor"',
      },
    ];
  });
}

function checkSquare(corners: Corners): readonly Issue[] {
  const forward = forwardOf(corners);
  return (["front", "rear"] as const).flatMap((axle): readonly Issue[] => {
    const span = spanOf(corners[axle], forward);
    const askew = atan(Math.abs(span.ahead / span.left));
    if (askew <= MOST_ASKEW) return [];
    return [
      {
        code: "out-of-range",
        pointer: "/wheelCentres",
        message: `the wheel centres put the ${axle} axle ${formatAngle(askew)} out of square with the centre line`,
        expected: `at most ${MOST_ASKEW}°`,
      },
    ];
  });
}
