import { degrees, formatNumber, formula, mm, type Degrees } from "../../measure/index.js";
import type { Contradiction } from "../answer.js";
import type { DatumPoint, ReferenceLine } from "./place.js";
import type { AlignmentResult } from "../result.js";
import type { AskedTarget, Scene } from "../scene.js";

/** What it would take, and where it would stand in the document. */
export interface Need {
  readonly needs: string;
  readonly pointer: string;
}

export const rearOverhangDatum = formula({
  id: "rear-bumper-from-overhang",
  gives: "the rear bumper, x",
  text: "-(wheelbase + overhang)",
  inputs: { wheelbase: "mm", overhang: "mm" },
  result: "mm",
  compute: ({ wheelbase, overhang }) => -(wheelbase + overhang),
});

export const FORMULAS = [rearOverhangDatum] as const;

/**
 * Finds the datum that a target's distance counts from, or says what it would take; mm in the vehicle's axes.
 * A sensor or an emblem lies at the front where it is ahead of the middle of the wheelbase. Its own lateral place does
 * not move the datum: the procedure's lateral counts from the reference line.
 */
export function findDatum(asked: AskedTarget, scene: Scene): DatumPoint | Need {
  const { datum } = asked.placing;
  switch (datum) {
    case "front-axle":
      return { x: mm(0), away: 1 };
    case "rear-axle":
      return scene.wheelbase === null ? NEEDS_WHEELBASE : { x: mm(0 - scene.wheelbase), away: -1 };
    case "front-bumper":
      return frontBumper(scene);
    case "rear-bumper":
      return rearBumper(scene);
    case "sensor":
    case "emblem":
      return placeOf(asked, scene);
  }
}

const NEEDS_WHEELBASE: Need = { needs: "the wheelbase", pointer: "/vehicle/dimensions/wheelbase" };

function frontBumper({ places, frontOverhang }: Scene): DatumPoint | Need {
  const x = places.find(({ datum }) => datum === "front-bumper")?.x ?? frontOverhang;
  if (x !== null) return { x, away: 1 };
  return {
    needs: "the front overhang, or the place of the front bumper",
    pointer: "/vehicle/dimensions/frontOverhang",
  };
}

function rearBumper({ places, wheelbase, rearOverhang }: Scene): DatumPoint | Need {
  const place = places.find(({ datum }) => datum === "rear-bumper");
  if (place !== undefined) return { x: place.x, away: -1 };
  if (rearOverhang === null) {
    return {
      needs: "the rear overhang, or the place of the rear bumper",
      pointer: "/vehicle/dimensions/rearOverhang",
    };
  }
  if (wheelbase === null) return NEEDS_WHEELBASE;
  return { x: rearOverhangDatum({ wheelbase, overhang: rearOverhang }), away: -1 };
}

function placeOf({ placing, sensor, position }: AskedTarget, scene: Scene): DatumPoint | Need {
  const place = scene.places.find(
    (each) =>
      each.datum === placing.datum &&
      (each.datum !== "sensor" || (each.sensor === sensor && each.position === position)),
  );
  if (place === undefined) {
    const what = placing.datum === "emblem" ? "the emblem" : "the sensor's lens or face";
    return { needs: `the place of ${what}`, pointer: "/places" };
  }
  if (place.x >= 0) return { x: place.x, away: 1 };
  if (scene.wheelbase === null) return NEEDS_WHEELBASE;
  return { x: place.x, away: place.x + scene.wheelbase / 2 > 0 ? 1 : -1 };
}

/** A reference line, how well its heading is known, and where the document would say so. */
export interface FoundLine extends ReferenceLine {
  /** Standard uncertainty of the heading; null where it is not known. */
  readonly uHeading: Degrees | null;
  readonly headingPointer: string;
}

/** Finds the line that a target's distance runs along, or says what it would take. */
export function findLine(
  referenceLine: "centre-line" | "thrust-line",
  { wheelbase }: Scene,
  alignment: AlignmentResult | null,
): FoundLine | Need {
  // The centre line has no heading, so that its foot is the same wherever the rear axle is.
  if (referenceLine === "centre-line") {
    return { heading: degrees(0), wheelbase: wheelbase ?? mm(0), uHeading: degrees(0), headingPointer: "" };
  }
  const thrust = alignment?.thrust ?? null;
  if (thrust === null) {
    return {
      needs: "the thrust line: the toe of both rear wheels, or the thrust angle",
      pointer: "/rearToe",
    };
  }
  if (wheelbase === null) return NEEDS_WHEELBASE;
  return {
    heading: degrees(thrust.heading),
    wheelbase,
    uHeading: thrust.u === null ? null : degrees(thrust.u),
    headingPointer: thrust.from === "thrust-angle" ? "/thrustAngle/u" : "/rearToe/u",
  };
}

/** Overhangs as stated and bumpers as measured may differ by so much; mm. Our judgement. */
const SAME_BUMPER = 10;

/** Holds the measured places of the bumpers, which are used, against the stated overhangs. */
export function compareBumpers({ places, wheelbase, ...scene }: Scene): readonly Contradiction[] {
  const compare = (end: "front" | "rear", overhang: number | null, measured: number | null) => {
    if (overhang === null || measured === null || Math.abs(overhang - measured) <= SAME_BUMPER) return [];
    return [
      {
        about: [`/vehicle/dimensions/${end}Overhang`, "/places"],
        says: `The ${end} overhang is stated as ${formatNumber(overhang, 0)} mm, and the ${end} bumper was measured ${formatNumber(measured, 0)} mm from the axle: what was measured is used.`,
      },
    ];
  };
  const placeOfBumper = (datum: "front-bumper" | "rear-bumper") =>
    places.find((each) => each.datum === datum)?.x ?? null;
  const rear = placeOfBumper("rear-bumper");
  return [
    ...compare("front", scene.frontOverhang, placeOfBumper("front-bumper")),
    ...compare("rear", scene.rearOverhang, rear === null || wheelbase === null ? null : -(wheelbase + rear)),
  ];
}
