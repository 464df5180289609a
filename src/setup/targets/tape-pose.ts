import {
  cos,
  degrees,
  formula,
  mm,
  sin,
  type Degrees,
  type Millimetres,
  type Working,
} from "../../measure/index.js";
import type { Part } from "../floor/spread.js";
import type { BarVariance, Variance } from "./tape-variance.js";
import type { FoundLine } from "./datum.js";
import type { Bar, DatumPoint } from "./place.js";

export const measuredDistance = formula({
  id: "measured-distance",
  gives: "distance along the reference line from the datum",
  text: "away * ((x - datumX) * cos(heading) + (y - foot) * sin(heading))",
  inputs: { away: "1", x: "mm", datumX: "mm", heading: "deg", y: "mm", foot: "mm" },
  result: "mm",
  compute: ({ away, x, datumX, heading, y, foot }) =>
    away * ((x - datumX) * cos(heading) + (y - foot) * sin(heading)),
});

export const measuredLateral = formula({
  id: "measured-lateral",
  gives: "lateral place, left of the reference line positive",
  text: "(y - foot) * cos(heading) - (x - datumX) * sin(heading)",
  inputs: { y: "mm", foot: "mm", heading: "deg", x: "mm", datumX: "mm" },
  result: "mm",
  compute: ({ y, foot, heading, x, datumX }) => (y - foot) * cos(heading) - (x - datumX) * sin(heading),
});

export const measuredYaw = formula({
  id: "measured-yaw",
  gives: "yaw against the reference line",
  text: "yaw - heading",
  inputs: { yaw: "deg", heading: "deg" },
  result: "deg",
  compute: ({ yaw, heading }) => yaw - heading,
});

export const distancePerHeading = formula({
  id: "distance-per-heading",
  gives: "change of the distance for one degree of the reference line's heading",
  text: "away * pi / 180 * (lateral - (datumX + wheelbase) * sin(heading) / cos(heading)^2)",
  inputs: { away: "1", lateral: "mm", datumX: "mm", wheelbase: "mm", heading: "deg" },
  result: "mm",
  compute: ({ away, lateral, datumX, wheelbase, heading }) =>
    ((away * Math.PI) / 180) * (lateral - ((datumX + wheelbase) * sin(heading)) / cos(heading) ** 2),
});

export const lateralPerHeading = formula({
  id: "lateral-per-heading",
  gives: "change of the lateral place for one degree of the reference line's heading",
  text: "-pi / 180 * (away * distance + (datumX + wheelbase) / cos(heading))",
  inputs: { away: "1", distance: "mm", datumX: "mm", wheelbase: "mm", heading: "deg" },
  result: "mm",
  compute: ({ away, distance, datumX, wheelbase, heading }) =>
    (-Math.PI / 180) * (away * distance + (datumX + wheelbase) / cos(heading)),
});

/** JCGM 100:2008, 5.2.2, for two correlated coordinates and one independent heading; from memory. */
export const distanceUncertainty = formula({
  id: "distance-uncertainty",
  gives: "standard uncertainty of the distance",
  text: "sqrt(max(0, (uX * cos(heading))^2 + (uY * sin(heading))^2 + 2 * correlation * uX * uY * sin(heading) * cos(heading) + (perHeading * uHeading)^2))",
  inputs: { uX: "mm", heading: "deg", uY: "mm", correlation: "1", perHeading: "mm", uHeading: "deg" },
  result: "mm",
  compute: ({ uX, heading, uY, correlation, perHeading, uHeading }) =>
    Math.sqrt(
      Math.max(
        0,
        (uX * cos(heading)) ** 2 +
          (uY * sin(heading)) ** 2 +
          2 * correlation * uX * uY * sin(heading) * cos(heading) +
          (perHeading * uHeading) ** 2,
      ),
    ),
});

export const lateralUncertainty = formula({
  id: "lateral-uncertainty",
  gives: "standard uncertainty of the lateral place",
  text: "sqrt(max(0, (uX * sin(heading))^2 + (uY * cos(heading))^2 - 2 * correlation * uX * uY * sin(heading) * cos(heading) + (perHeading * uHeading)^2))",
  inputs: { uX: "mm", heading: "deg", uY: "mm", correlation: "1", perHeading: "mm", uHeading: "deg" },
  result: "mm",
  compute: ({ uX, heading, uY, correlation, perHeading, uHeading }) =>
    Math.sqrt(
      Math.max(
        0,
        (uX * sin(heading)) ** 2 +
          (uY * cos(heading)) ** 2 -
          2 * correlation * uX * uY * sin(heading) * cos(heading) +
          (perHeading * uHeading) ** 2,
      ),
    ),
});

export const yawUncertainty = formula({
  id: "yaw-uncertainty",
  gives: "standard uncertainty of the yaw against the reference line",
  text: "sqrt(uYaw^2 + uHeading^2)",
  inputs: { uYaw: "deg", uHeading: "deg" },
  result: "deg",
  compute: ({ uYaw, uHeading }) => Math.hypot(uYaw, uHeading),
});

export const FORMULAS = [
  measuredDistance,
  measuredLateral,
  measuredYaw,
  distancePerHeading,
  lateralPerHeading,
  distanceUncertainty,
  lateralUncertainty,
  yawUncertainty,
] as const;

/** Where a reference line runs, and how well that is known. */
export interface TapeFrame {
  readonly datum: DatumPoint;
  /** Lateral place of the reference line at the datum. */
  readonly foot: Millimetres;
  readonly line: FoundLine;
}

interface Known<T> {
  readonly value: T;
  readonly u: T | null;
  /** What its uncertainty is made of; empty where that is not known. */
  readonly parts: readonly Part[];
}

/** A bar as a procedure speaks of it; uncertainties null where the readings or the line leave them open. */
export interface TapedPose {
  readonly distance: Known<Millimetres>;
  readonly lateral: Known<Millimetres>;
  readonly yaw: Known<Degrees>;
  readonly workings: readonly Working[];
}

/**
 * A heading whose uncertainty is not known leaves open what it moves by more than this for a degree (mm): always the
 * lateral place and the yaw, the distance only of a target beside the line.
 */
const HARDLY_MOVED = 1;

/** Brings a bar found by tapes into the axes of its reference line: distance, lateral place, yaw; mm, degrees. */
export function poseOnLine(
  bar: Bar,
  variance: BarVariance | null,
  frame: TapeFrame,
  label: string,
): TapedPose {
  const { datum, foot, line } = frame;
  const { heading, uHeading } = line;
  const at = { ...bar, foot, datumX: datum.x, away: datum.away, heading };
  const distance = measuredDistance.work(at, `${label}: distance by the tapes`);
  const lateral = measuredLateral.work(at, `${label}: lateral place by the tapes`);
  const yaw = measuredYaw.work(at, `${label}: yaw by the tapes`);
  const found = { distance: mm(distance.value), lateral: mm(lateral.value), yaw: degrees(yaw.value) };
  const moves = { ...at, ...line, distance: found.distance, lateral: found.lateral };
  const uncertainties = variance === null ? null : workUncertainties(variance, moves, uHeading, label);
  const partsOf = (quantity: keyof WheelParts): readonly Part[] => {
    const whole = uncertainties?.[quantity];
    return variance === null || whole === undefined
      ? []
      : split(whole, wheelParts(variance.ofWheels, heading)[quantity]);
  };
  return {
    distance: { value: found.distance, u: lengthOf(uncertainties?.distance), parts: partsOf("distance") },
    lateral: { value: found.lateral, u: lengthOf(uncertainties?.lateral), parts: partsOf("lateral") },
    yaw: { value: found.yaw, u: angleOf(uncertainties?.yaw), parts: partsOf("yaw") },
    workings: [distance, lateral, yaw, ...(uncertainties?.workings ?? [])],
  };
}

interface Moves {
  readonly away: 1 | -1;
  readonly distance: Millimetres;
  readonly lateral: Millimetres;
  readonly datumX: Millimetres;
  readonly wheelbase: Millimetres;
  readonly heading: Degrees;
}

function workUncertainties(variance: BarVariance, moves: Moves, uHeading: Degrees | null, label: string) {
  const perDistance = distancePerHeading.work(moves, `${label}: change of the distance for 1° of heading`);
  const perLateral = lateralPerHeading.work(moves, `${label}: change of the lateral place for 1° of heading`);
  const isFixed = uHeading === 0;
  const inputs = { ...spreadOf(variance), heading: moves.heading, uHeading: uHeading ?? degrees(0) };
  const distance = distanceUncertainty.work(
    { ...inputs, perHeading: mm(isFixed ? 0 : perDistance.value) },
    `${label}: standard uncertainty of the distance`,
  );
  const lateral = lateralUncertainty.work(
    { ...inputs, perHeading: mm(isFixed ? 0 : perLateral.value) },
    `${label}: standard uncertainty of the lateral place`,
  );
  const yaw = yawUncertainty.work(inputs, `${label}: standard uncertainty of the yaw`);
  if (isFixed) return { distance, lateral, yaw, workings: [distance, lateral, yaw] };
  if (uHeading !== null) {
    return { distance, lateral, yaw, workings: [perDistance, perLateral, distance, lateral, yaw] };
  }
  const hardlyMoved = Math.abs(perDistance.value) < HARDLY_MOVED;
  return hardlyMoved ? { distance, workings: [perDistance, distance] } : { workings: [] };
}

type WheelParts = Readonly<Record<"distance" | "lateral" | "yaw", number>>;

/** What the wheel centres alone would make uncertain. */
function wheelParts(variance: Variance, heading: Degrees): WheelParts {
  const inputs = { ...spreadOf(variance), heading, perHeading: mm(0), uHeading: degrees(0) };
  return {
    distance: distanceUncertainty(inputs),
    lateral: lateralUncertainty(inputs),
    yaw: yawUncertainty(inputs),
  };
}

/** The causes are independent, so that their squares add up to that of the whole. */
function split({ value, inputs }: Working, wheels: number): readonly Part[] {
  const of = (name: string): number => inputs.find((input) => input.name === name)?.value ?? 1;
  const line = Math.abs(of("perHeading") * of("uHeading"));
  const tapes = Math.sqrt(Math.max(0, value ** 2 - wheels ** 2 - line ** 2));
  return [
    { of: "the tapes", u: tapes },
    { of: "the wheel centres", u: wheels },
    { of: "the thrust line", u: line },
  ];
}

function spreadOf({ xx, xy, yy, yaw }: Variance) {
  const both = Math.sqrt(xx * yy);
  return {
    uX: mm(Math.sqrt(xx)),
    uY: mm(Math.sqrt(yy)),
    correlation: both === 0 ? 0 : xy / both,
    uYaw: degrees(Math.sqrt(yaw)),
  };
}

function lengthOf(working: Working | undefined): Millimetres | null {
  return working === undefined ? null : mm(working.value);
}

function angleOf(working: Working | undefined): Degrees | null {
  return working === undefined ? null : degrees(working.value);
}
