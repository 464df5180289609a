import { degrees, formula, mm, type Working } from "../../measure/index.js";
import type { Missing, SetupWarning } from "../answer.js";
import type { Part } from "../floor/spread.js";
import type { AskedTarget, Scene } from "../scene.js";
import type { Setup } from "../shape.js";
import { findLineAt } from "../vehicle/centre-line.js";
import { targetX, targetY } from "./place.js";
import { lateralPerHeading, measuredLateral, type TapeFrame } from "./tape-pose.js";

type Stated = NonNullable<AskedTarget["stated"]>;
type Quantity = "lateral" | "distance" | "yaw" | "pitch" | "roll" | "height";
type Pose = Partial<Record<Quantity, { readonly value: number; readonly u: number | null }>>;

/** What was stated of a target, counted from what the procedure counts from. */
export interface OwnReadings {
  readonly pose: Pose;
  readonly parts: Partial<Record<Quantity, readonly Part[]>>;
  readonly workings: readonly Working[];
  readonly missing: readonly Missing[];
  readonly warnings: readonly SetupWarning[];
}

export const lateralFromMarks = formula({
  id: "lateral-from-marks",
  gives: "lateral place beside the reference line, from one beside the line through the marks",
  text: "stated + line",
  inputs: { stated: "mm", line: "mm" },
  result: "mm",
  compute: ({ stated, line }) => stated + line,
});

export const yawFromMarks = formula({
  id: "yaw-from-marks",
  gives: "yaw against the reference line, from one against the line through the marks",
  text: "stated + line - heading",
  inputs: { stated: "deg", line: "deg", heading: "deg" },
  result: "deg",
  compute: ({ stated, line, heading }) => stated + line - heading,
});

/** Law of propagation (JCGM 100:2008, 5.1.2; from memory) over reading, marks and reference line. */
export const lateralFromMarksUncertainty = formula({
  id: "lateral-from-marks-uncertainty",
  gives: "standard uncertainty of the lateral place read from the line through the marks",
  text: "sqrt(uStated^2 + uMarks^2 + (perHeading * uHeading)^2)",
  inputs: { uStated: "mm", uMarks: "mm", perHeading: "mm", uHeading: "deg" },
  result: "mm",
  compute: ({ uStated, uMarks, perHeading, uHeading }) => Math.hypot(uStated, uMarks, perHeading * uHeading),
});

export const yawFromMarksUncertainty = formula({
  id: "yaw-from-marks-uncertainty",
  gives: "standard uncertainty of the yaw read against the line through the marks",
  text: "sqrt(uStated^2 + uMarks^2 + uHeading^2)",
  inputs: { uStated: "deg", uMarks: "deg", uHeading: "deg" },
  result: "deg",
  compute: ({ uStated, uMarks, uHeading }) => Math.hypot(uStated, uMarks, uHeading),
});

export const FORMULAS = [
  lateralFromMarks,
  yawFromMarks,
  lateralFromMarksUncertainty,
  yawFromMarksUncertainty,
] as const;

interface Context {
  readonly setup: Setup;
  readonly scene: Scene;
  readonly geometry: TapeFrame | null;
}

/**
 * Brings a lateral place and a yaw that were read from the line through the marks to the reference line, with the
 * uncertainty of that line; mm, degrees. What counts from the reference line already stays as it is.
 */
export function bringFromMarks(
  own: Pick<OwnReadings, "pose" | "workings">,
  { placing, stated }: { readonly placing: AskedTarget["placing"]; readonly stated: Stated },
  label: string,
  { setup, scene, geometry }: Context,
): OwnReadings {
  const { lateral, yaw, ...others } = own.pose;
  const same = { ...own, parts: {}, missing: [], warnings: [] };
  if (lateral === undefined && yaw === undefined) return same;
  const counts = stated.target.measured?.countsFrom?.line;
  if (counts !== "marks") {
    return {
      ...same,
      warnings: counts === undefined && setup.marks !== undefined ? [warnOfMarks(label)] : [],
    };
  }
  // What keeps a target from being placed is named with its place.
  if (geometry === null) return { ...same, pose: others };
  const { datum, foot, line } = geometry;
  const from = { x: datum.x, foot, away: datum.away, heading: line.heading, lateral: mm(0) };
  const distance = mm(own.pose.distance?.value ?? placing.distance.nominal);
  const at = { x: targetX({ ...from, distance }), y: targetY({ ...from, distance }) };
  const laid = findLineAt(setup, scene, at, label);
  if (laid === null) return { ...same, pose: others, missing: [missMarks(label)] };
  const side = bringLateral(lateral, { laid, at, distance, geometry, label });
  const turn = bringYaw(yaw, { laid, geometry, label });
  const isOpen = lateral !== undefined && side?.u === null;
  return {
    pose: { ...others, ...withoutParts("lateral", side), ...withoutParts("yaw", turn) },
    parts: {
      ...(side === null ? {} : { lateral: side.parts }),
      ...(turn === null ? {} : { yaw: turn.parts }),
    },
    workings: [...own.workings, ...laid.workings, ...(side?.workings ?? []), ...(turn?.workings ?? [])],
    missing: isOpen && laid.u === null ? [missLine(label)] : [],
    warnings: [],
  };
}

type Laid = NonNullable<ReturnType<typeof findLineAt>>;
type Reading = Pose["lateral"];

interface Brought {
  readonly value: number;
  readonly u: number | null;
  readonly parts: readonly Part[];
  readonly workings: readonly Working[];
}

function bringLateral(
  reading: Reading,
  given: {
    readonly laid: Laid;
    readonly at: { readonly x: ReturnType<typeof mm> };
    readonly distance: ReturnType<typeof mm>;
    readonly geometry: TapeFrame;
    readonly label: string;
  },
): Brought | null {
  if (reading === undefined) return null;
  const { laid, at, distance, geometry, label } = given;
  const { datum, foot, line } = geometry;
  const beside = measuredLateral.work(
    { y: laid.lateral, foot, heading: line.heading, x: at.x, datumX: datum.x },
    `${label}: the line through the marks, left of the reference line`,
  );
  const place = lateralFromMarks.work(
    { stated: mm(reading.value), line: mm(beside.value) },
    `${label}: lateral place from the marks`,
  );
  const workings = [beside, place];
  const { uHeading } = line;
  if (reading.u === null || laid.u === null || uHeading === null) {
    return { value: place.value, u: null, parts: [], workings };
  }
  const perHeading = lateralPerHeading({ ...line, away: datum.away, distance, datumX: datum.x });
  const inputs = { uStated: mm(reading.u), uMarks: laid.u, uHeading };
  const u = lateralFromMarksUncertainty.work(
    { ...inputs, perHeading: mm(uHeading === 0 ? 0 : perHeading) },
    `${label}: standard uncertainty of the lateral place from the marks`,
  );
  return {
    value: place.value,
    u: u.value,
    parts: partsOf(reading.u, laid.u, perHeading * uHeading),
    workings: [...workings, u],
  };
}

function bringYaw(
  reading: Reading,
  { laid, geometry, label }: { readonly laid: Laid; readonly geometry: TapeFrame; readonly label: string },
): Brought | null {
  if (reading === undefined) return null;
  const { heading, uHeading } = geometry.line;
  const turn = yawFromMarks.work(
    { stated: degrees(reading.value), line: laid.yaw, heading },
    `${label}: yaw from the marks`,
  );
  if (reading.u === null || uHeading === null) {
    return { value: turn.value, u: null, parts: [], workings: [turn] };
  }
  const u = yawFromMarksUncertainty.work(
    { uStated: degrees(reading.u), uMarks: laid.uYaw, uHeading },
    `${label}: standard uncertainty of the yaw from the marks`,
  );
  return {
    value: turn.value,
    u: u.value,
    parts: partsOf(reading.u, laid.uYaw, uHeading),
    workings: [turn, u],
  };
}

function partsOf(reading: number, marks: number, line: number): readonly Part[] {
  return [
    { of: "the reading", u: reading },
    { of: "the line through the marks", u: marks },
    { of: "the thrust line", u: Math.abs(line) },
  ];
}

function withoutParts(quantity: "lateral" | "yaw", brought: Brought | null): Pose {
  return brought === null ? {} : { [quantity]: { value: brought.value, u: brought.u } };
}

function warnOfMarks(label: string): SetupWarning {
  return {
    about: label,
    says: "A line is laid through marks, and the lateral place or the yaw is stated: it is taken to count from the reference line itself. Where it was read from the line through the marks, countsFrom has to say so, or that line's uncertainty is left out.",
  };
}

function missMarks(label: string): Missing {
  const needs = "the marks of the line that they were read from";
  return { for: `lateral place and yaw of ${label}`, needs, pointer: "/marks" };
}

function missLine(label: string): Missing {
  const needs = "that of the line's projection over both marks";
  return { for: `how well the lateral place of ${label} is known`, needs, pointer: "/marks/uLine" };
}
