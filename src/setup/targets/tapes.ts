import { cos, formula, mm, sin, type Millimetres, type Working } from "../../measure/index.js";
import { endOf, signOf, type Bar } from "./place.js";
import type { TargetResult } from "../result.js";
import type { Point, Wheel } from "../scene.js";

export type TapeSet = TargetResult["tapes"][number];
export type TapeOrigin = TapeSet["from"];
type Side = "left" | "right";

export const tapeLength = formula({
  id: "tape-length",
  gives: "a tape from a wheel centre to an end of the bar",
  text: "sqrt((endX - wheelX)^2 + (endY - wheelY)^2)",
  inputs: { endX: "mm", wheelX: "mm", endY: "mm", wheelY: "mm" },
  result: "mm",
  compute: ({ endX, wheelX, endY, wheelY }) => Math.hypot(endX - wheelX, endY - wheelY),
});

/** How a tape changes as the bar turns about its middle: the end moves square to the bar, the tape follows by its share. */
export const tapePerDegree = formula({
  id: "tape-per-degree",
  gives: "change of a tape for one degree of yaw, counter-clockwise",
  text: "-side * width / 2 * pi / 180 * ((endX - wheelX) * cos(yaw) + (endY - wheelY) * sin(yaw)) / length",
  inputs: {
    side: "1",
    width: "mm",
    endX: "mm",
    wheelX: "mm",
    endY: "mm",
    wheelY: "mm",
    yaw: "deg",
    length: "mm",
  },
  result: "mm",
  compute: ({ side, width, endX, wheelX, endY, wheelY, yaw, length }) =>
    ((((-side * width) / 2) * Math.PI) / 180) *
    (((endX - wheelX) * cos(yaw) + (endY - wheelY) * sin(yaw)) / length),
});

export const tapePerOffset = formula({
  id: "tape-per-offset",
  gives: "change of a tape for one millimetre of offset to the left",
  text: "(endY - wheelY) / length",
  inputs: { endY: "mm", wheelY: "mm", length: "mm" },
  result: "1",
  compute: ({ endY, wheelY, length }) => (endY - wheelY) / length,
});

export const tapeDifference = formula({
  id: "tape-difference",
  gives: "difference of two tapes",
  text: "one - other",
  inputs: { one: "mm", other: "mm" },
  result: "mm",
  compute: ({ one, other }) => one - other,
});

export const FORMULAS = [tapeLength, tapePerDegree, tapePerOffset, tapeDifference] as const;

/** Both wheels of one axle. */
export type AxleWheels = Readonly<Record<Side, Wheel>>;

/** The wheels of the axle that tapes start from; null where they are not known. */
export function wheelsOf(wheels: readonly Wheel[] | null, from: TapeOrigin): AxleWheels | null {
  const of = (side: Side) =>
    wheels?.find((each) => each.side === side && each.axle === (from === "front-axle" ? "front" : "rear"));
  const [left, right] = [of("left"), of("right")];
  return left === undefined || right === undefined ? null : { left, right };
}

/**
 * The four tapes from the wheel centres of one axle to both ends of a bar, all points plumbed to the floor, and what
 * their differences say: that of the straight tapes about the yaw, that of the diagonals about yaw and offset together.
 */
export function tapesOf(bar: Bar, { left, right }: AxleWheels, from: TapeOrigin): TapeSet {
  const ends = { left: endOf(bar, "left"), right: endOf(bar, "right") };
  const turn = (wheel: Wheel, end: Side) => tapePerDegree(turnInputs(bar, wheel, ends[end], end));
  const shift = (wheel: Wheel, end: Point) => tapePerOffset(between(wheel, end));
  return {
    from,
    left: tapeLength(between(left, ends.left)),
    right: tapeLength(between(right, ends.right)),
    diagonals: {
      fromLeft: tapeLength(between(left, ends.right)),
      fromRight: tapeLength(between(right, ends.left)),
    },
    straightsPerDegree: turn(left, "left") - turn(right, "right"),
    diagonalsPerMillimetre: shift(left, ends.right) - shift(right, ends.left),
  };
}

/** The arithmetic of the tapes of one axle. */
export function workTapes(bar: Bar, wheels: AxleWheels, from: TapeOrigin, label: string): readonly Working[] {
  const axle = from === "front-axle" ? "front" : "rear";
  const ends = { left: endOf(bar, "left"), right: endOf(bar, "right") };
  const lengths = PAIRS.map(([wheel, end]) =>
    tapeLength.work(between(wheels[wheel], ends[end]), `${label}: tape, ${nameTape(axle, wheel, end)}`),
  );
  const turns = STRAIGHTS.map(([wheel, end]) =>
    tapePerDegree.work(
      turnInputs(bar, wheels[wheel], ends[end], end),
      `${label}: change for 1° of yaw, ${nameTape(axle, wheel, end)}`,
    ),
  );
  const shifts = DIAGONALS.map(([wheel, end]) =>
    tapePerOffset.work(
      between(wheels[wheel], ends[end]),
      `${label}: change for 1 mm of offset, ${nameTape(axle, wheel, end)}`,
    ),
  );
  return [
    ...lengths,
    ...turns,
    differ(turns, `${label}: straight tapes from the ${axle} axle, change of left minus right for 1° of yaw`),
    ...shifts,
    differ(
      shifts,
      `${label}: diagonals from the ${axle} axle, change of left wheel's minus right wheel's for 1 mm of offset`,
    ),
  ];
}

/** "front left wheel to right end". */
export function nameTape(axle: Wheel["axle"], wheel: Side, end: Side): string {
  return `${axle} ${wheel} wheel to ${end} end`;
}

type Pair = readonly [wheel: Side, end: Side];
const STRAIGHTS: readonly Pair[] = [
  ["left", "left"],
  ["right", "right"],
];
const DIAGONALS: readonly Pair[] = [
  ["left", "right"],
  ["right", "left"],
];
/** Wheel and end of each tape of a set: the straight ones, then the diagonals. */
export const PAIRS: readonly Pair[] = [...STRAIGHTS, ...DIAGONALS];

function differ(two: readonly Working[], gives: string): Working {
  const [one = 0, other = 0] = two.map(({ value }) => value);
  return tapeDifference.work({ one: mm(one), other: mm(other) }, gives);
}

function between(wheel: Point, end: Point) {
  const points = { endX: end.x, wheelX: wheel.x, endY: end.y, wheelY: wheel.y };
  return { ...points, length: mm(Math.hypot(end.x - wheel.x, end.y - wheel.y)) };
}

function turnInputs(bar: Bar, wheel: Wheel, point: Point, end: Side) {
  return { ...between(wheel, point), side: signOf(bar, end), width: bar.width, yaw: bar.yaw };
}

/** The distance between two points on the floor. */
export function distanceOf(one: Point, other: Point): Millimetres {
  return mm(Math.hypot(one.x - other.x, one.y - other.y));
}
