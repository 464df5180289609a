import type { DecisionRule } from "../../measure/index.js";
import { answer, type Answer, type SetupWarning } from "../answer.js";
import { stanceOf } from "./corrections.js";
import { compareBumpers, findDatum, findLine, type Need } from "./datum.js";
import { compareSetBack, warnOfIdealWheels } from "../vehicle/ideal-wheels.js";
import { holdTarget } from "./hold.js";
import { measureTarget, type TargetGeometry } from "./measured.js";
import { endOf, makeBar, placeTarget, workEnds, workPlace, type Bar, type Placed } from "./place.js";
import type { AlignmentResult, FloorResult, TargetResult } from "../result.js";
import type { AskedTarget, Scene } from "../scene.js";
import type { Setup } from "../shape.js";
import { groundOf, standOn, type Ground } from "./stand.js";
import { distanceOf, PAIRS, tapesOf, wheelsOf, workTapes, type AxleWheels, type TapeSet } from "./tapes.js";

export { checkTargets } from "./check-targets.js";

/** What the places of targets are worked out from. */
export interface TargetInputs {
  readonly setup: Setup;
  readonly scene: Scene;
  readonly alignment: AlignmentResult | null;
  readonly floor: FloorResult | null;
  readonly rule: DecisionRule;
}

/**
 * Works out where the targets stand, what the tapes to their bars have to show, and, where something was measured,
 * what it comes to, what to do about it, and whether it lies within the tolerances. Lengths mm, angles degrees.
 *
 * Measured heights count from the floor where the target stands; they are held against the nominal height corrected
 * for that floor where it was surveyed. Measured yaw counts against the reference line, pitch and roll against the plane
 * of the wheels.
 */
export function answerTargets(
  asked: readonly AskedTarget[],
  given: TargetInputs,
): Answer<readonly TargetResult[]> {
  const ground = groundOf(given.floor, given.setup, given.scene);
  const answers = asked.map((each) => answerTarget(each, labelOf(each, asked), ground, given));
  return answer({
    value: answers.flatMap(({ value }) => (value === null ? [] : [value])),
    workings: answers.flatMap(({ workings }) => workings),
    missing: answers.flatMap(({ missing }) => missing),
    contradictions: [
      ...compareBumpers(given.scene),
      ...compareSetBack(given.scene, given.setup, given.alignment),
      ...answers.flatMap(({ contradictions }) => contradictions),
    ],
    warnings: [
      ...answers.flatMap(({ warnings }) => warnings),
      ...warnUnsurveyed(
        answers.map(({ value }) => value),
        given.floor,
      ),
      ...warnOfIdealWheels(
        given.setup,
        given.alignment,
        asked.filter((_, index) => (answers[index]?.value?.tapes.length ?? 0) > 0),
      ),
    ],
  });
}

/** Two targets of one name are told apart by their sensors. */
function labelOf({ key, placing }: AskedTarget, all: readonly AskedTarget[]): string {
  const isAlone = all.every((other) => other.key === key || other.placing.name !== placing.name);
  return isAlone ? placing.name : `${placing.name} (${key.split("/")[0] ?? key})`;
}

function answerTarget(
  asked: AskedTarget,
  label: string,
  ground: Ground,
  given: TargetInputs,
): Answer<TargetResult> {
  const { setup, scene, rule } = given;
  const place = findPlace(asked, label, given);
  const bar = place.value?.geometry.bar ?? null;
  const stands = place.value === null ? null : standOn(place.value.at, asked.placing, ground, label);
  const tapes = bar === null ? null : layTapes(bar, scene, label);
  const measured = measureTarget(asked, label, { setup, scene }, place.value?.geometry ?? null);
  const stance = place.value === null ? null : stanceOf(place.value.at, place.value.geometry.datum, scene);
  const stand = stands?.value ?? null;
  const wheels = wheelsKnown(given);
  const held =
    measured.value === null
      ? null
      : holdTarget(measured.value, { asked, stand, stance, label, rule, wheels });
  const parts = [place, stands, tapes, measured];
  return answer<TargetResult>({
    value: {
      ...describeAsked(asked),
      stands: stand?.stands ?? null,
      bar: bar === null ? null : { width: bar.width, left: endOf(bar, "left"), right: endOf(bar, "right") },
      tapes: [...(tapes?.value ?? [])],
      measured: measured.value?.pose ?? null,
      corrections: held?.corrections ?? [],
      decisions: held?.decisions ?? [],
    },
    workings: [...parts.flatMap((part) => part?.workings ?? []), ...(held?.workings ?? [])],
    missing: [...parts.flatMap((part) => part?.missing ?? []), ...(held?.missing ?? [])],
    contradictions: measured.contradictions,
    warnings: parts.flatMap((part) => part?.warnings ?? []),
  });
}

function describeAsked(asked: AskedTarget) {
  const { key, requirements, sensor, position, id, placing, procedure } = asked;
  const { name, datum, referenceLine, distance, lateral, height, yaw, pitch, roll } = placing;
  return {
    key,
    requirements: [...requirements],
    sensor,
    position,
    id,
    name,
    procedure,
    datum,
    referenceLine,
    asked: { distance, lateral, height, yaw, pitch, roll },
  };
}

interface FoundPlace {
  readonly at: Placed;
  readonly geometry: TargetGeometry;
}

function findPlace(
  asked: AskedTarget,
  label: string,
  { scene, alignment }: TargetInputs,
): Answer<FoundPlace> {
  const { placing, barWidth } = asked;
  const datum = findDatum(asked, scene);
  const line = findLine(placing.referenceLine, scene, alignment);
  if ("needs" in datum || "needs" in line) {
    const needs = [datum, line].filter((each): each is Need => "needs" in each);
    return answer<FoundPlace>({ missing: needs.map((need) => ({ for: `marks for ${label}`, ...need })) });
  }
  const at = placeTarget(placing, { datumPoint: datum, ...line });
  const bar = barWidth === null ? null : makeBar(at, barWidth);
  return answer<FoundPlace>({
    value: { at, geometry: { datum, foot: at.foot, line, bar } },
    workings: [...workPlace(placing, datum, line, label), ...(bar === null ? [] : workEnds(bar, label))],
  });
}

function layTapes(bar: Bar, scene: Scene, label: string): Answer<readonly TapeSet[]> {
  const axles = (["front-axle", "rear-axle"] as const).flatMap((from) => {
    const wheels = wheelsOf(scene.wheels, from);
    // An end that stands on a wheel centre leaves no tape to read.
    return wheels === null || touches(bar, wheels) ? [] : [{ from, wheels }];
  });
  if (scene.wheels === null) {
    const needs = "wheelbase and tracks, or the four wheel centres";
    return answer<readonly TapeSet[]>({
      missing: [{ for: `tapes for ${label}`, needs, pointer: "/vehicle/dimensions" }],
    });
  }
  return answer<readonly TapeSet[]>({
    value: axles.map(({ from, wheels }) => tapesOf(bar, wheels, from)),
    workings: axles.flatMap(({ from, wheels }) => workTapes(bar, wheels, from, label)),
  });
}

function touches(bar: Bar, wheels: AxleWheels): boolean {
  return PAIRS.some(([wheel, end]) => distanceOf(wheels[wheel], endOf(bar, end)) === 0);
}

function wheelsKnown({ setup, scene }: TargetInputs): "known" | "without-uncertainty" | "not-measured" {
  if (setup.wheelCentres === undefined) return "not-measured";
  return (scene.wheels ?? []).every(({ u }) => u !== null) ? "known" : "without-uncertainty";
}

/** A height taped from a floor that nobody surveyed says nothing of the plane of the wheels. */
function warnUnsurveyed(
  targets: readonly (TargetResult | null)[],
  floor: FloorResult | null,
): readonly SetupWarning[] {
  const isTaped = targets.some((each) => (each?.measured?.height ?? null) !== null);
  if (floor !== null || !isTaped) return [];
  return [
    {
      about: "heights of the targets",
      says: "The floor was not surveyed: the heights are held against the procedure's as if it were one plane with the wheels.",
    },
  ];
}
