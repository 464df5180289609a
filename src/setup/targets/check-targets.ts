import type { Issue } from "../../errors.js";
import { readingOf } from "./fit-tapes.js";
import { statedTargets, type Setup, type SetupTarget, type Tapes } from "../shape.js";
import { PAIRS } from "./tapes.js";

type Side = "left" | "right";

/** What the document itself knows about the triangles that tapes make; mm, null where it does not. */
export interface TapeBases {
  readonly tracks: Readonly<Record<Tapes["from"], number | null>>;
  readonly barWidth: number | null;
}

/** Two tapes from one point, and the line that closes their triangle. */
interface Triangle {
  readonly tapes: readonly [number | undefined, number | undefined];
  readonly base: number | null;
  readonly pointer: string;
  readonly says: string;
  readonly baseIs: string;
}

/** Within this two readings count as the same place where their uncertainty is not stated; mm. Our judgement. */
const UNSTATED_SLACK = 10;
const COVERAGE = 3;

/**
 * Checks what was measured of the targets as far as it needs no other part of the set-up: expanded uncertainties
 * without their coverage factor ("missing-measurement"), tapes without a reading, tapes that cannot meet
 * ("out-of-range").
 */
export function checkTargets(setup: Setup): readonly Issue[] {
  const tracks = { "front-axle": trackOf(setup, "front"), "rear-axle": trackOf(setup, "rear") };
  return statedTargets(setup).flatMap(({ target, pointer }) => checkTarget(target, pointer, tracks));
}

function checkTarget(target: SetupTarget, pointer: string, tracks: TapeBases["tracks"]): readonly Issue[] {
  const barWidth = target.barWidth ?? target.placing?.size?.width ?? null;
  const lacksFactor = target.U !== undefined && target.k === undefined && Object.keys(target.U).length > 0;
  const factor: readonly Issue[] = lacksFactor
    ? [
        {
          code: "missing-measurement",
          pointer: `${pointer}/k`,
          message: "the expanded uncertainty U says nothing without its coverage factor",
          expected: "k, such as 2",
        },
      ]
    : [];
  const tapes = listSets(target, pointer).flatMap((each) => checkTapes(each, { tracks, barWidth }));
  return [...factor, ...tapes];
}

/** The sets of tapes of a target, each with its place in the document. */
export function listSets(
  { measured }: SetupTarget,
  pointer: string,
): readonly { readonly set: Tapes; readonly pointer: string }[] {
  const tapes = measured?.tapes;
  const here = `${pointer}/measured/tapes`;
  if (tapes === undefined) return [];
  if (!Array.isArray(tapes)) return [{ set: tapes, pointer: here }];
  return tapes.map((set, index) => ({ set, pointer: `${here}/${index}` }));
}

/** Checks that the tapes of one set can meet: no side of a triangle is longer than both others together. */
export function checkTapes(
  { set, pointer }: { readonly set: Tapes; readonly pointer: string },
  { tracks, barWidth }: TapeBases,
): readonly Issue[] {
  if (PAIRS.every(([wheel, end]) => readingOf(set, wheel, end) === undefined)) {
    return [
      {
        code: "missing-measurement",
        pointer,
        message: "no tape is stated",
        expected: "at least one reading",
      },
    ];
  }
  const slack = set.u === undefined ? UNSTATED_SLACK : COVERAGE * Math.SQRT2 * set.u;
  return [
    ...(["left", "right"] as const).map((end) => trianglesAtEnd(set, end, tracks[set.from], pointer)),
    ...(["left", "right"] as const).map((wheel) => trianglesAtWheel(set, wheel, barWidth, pointer)),
  ].flatMap((triangle) => refuseTriangle(triangle, slack));
}

function trianglesAtEnd(set: Tapes, end: Side, base: number | null, pointer: string): Triangle {
  const other = opposite(end);
  return {
    tapes: [readingOf(set, end, end), readingOf(set, other, end)],
    base,
    pointer: `${pointer}/diagonals/${diagonalFrom(other)}`,
    says: `the tapes from both wheels to the ${end} end`,
    baseIs: "apart the wheels stand",
  };
}

function trianglesAtWheel(set: Tapes, wheel: Side, base: number | null, pointer: string): Triangle {
  return {
    tapes: [readingOf(set, wheel, wheel), readingOf(set, wheel, opposite(wheel))],
    base,
    pointer: `${pointer}/diagonals/${diagonalFrom(wheel)}`,
    says: `the tapes from the ${wheel} wheel to both ends`,
    baseIs: "long the bar is",
  };
}

function opposite(side: Side): Side {
  return side === "left" ? "right" : "left";
}

function diagonalFrom(wheel: Side): "fromLeft" | "fromRight" {
  return wheel === "left" ? "fromLeft" : "fromRight";
}

function refuseTriangle({ tapes, base, pointer, says, baseIs }: Triangle, slack: number): readonly Issue[] {
  const [one, other] = tapes;
  if (one === undefined || other === undefined || base === null) return [];
  const tooFarApart = Math.abs(one - other) > base + slack;
  const tooShort = one + other < base - slack;
  if (!tooFarApart && !tooShort) return [];
  return [
    {
      code: "out-of-range",
      pointer,
      message: `${says} (${one} and ${other} mm) cannot meet: ${base} mm ${baseIs}`,
      expected: tooShort ? "a sum of at least that" : "a difference of at most that",
    },
  ];
}

/** The distance of an axle's wheels, which is the same in any axes; mm. */
function trackOf({ wheelCentres = [], vehicle }: Setup, axle: "front" | "rear"): number | null {
  const [one, other] = wheelCentres.filter((each) => each.axle === axle);
  if (one !== undefined && other !== undefined) return Math.hypot(one.x - other.x, one.y - other.y);
  const { trackFront, trackRear } = vehicle?.dimensions ?? {};
  return (axle === "front" ? trackFront : trackRear) ?? null;
}
