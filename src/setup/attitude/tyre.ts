import {
  formula,
  MILLIMETRES_IN_AN_INCH,
  type Millimetres,
  mm,
  type ReadingProblem,
  type Working,
} from "../../measure/index.js";

/** What a tyre's marking says of its size. */
export type TyreSize =
  | {
      readonly kind: "metric";
      /** Nominal section width. */
      readonly width: Millimetres;
      /** Height of the section over its width, per cent. */
      readonly aspect: number;
      /** Nominal rim diameter, inches. */
      readonly rim: number;
    }
  | {
      /** The sizes of light lorries that name the outer diameter: "31x10.50R15LT". */
      readonly kind: "flotation";
      /** Outer diameter, section width and rim diameter, inches. */
      readonly diameter: number;
      readonly width: number;
      readonly rim: number;
    };

const EXPECTED = 'a size as it is moulded on the tyre: "225/60R17", "LT265/70R16", "31x10.50R15LT"';

// What may follow a size: the suffix for light lorries, load index and speed symbol ("99V", "121/118S", "(99Y)"), XL.
const TRAILER = String.raw`\s*(?:C|LT)?\s*\(?(?:\d{2,3}(?:/\d{2,3})?[A-Z]\d?)?\)?\s*(?:XL)?`;
const METRIC = new RegExp(
  String.raw`^(?:P|LT|HL|T)?\s*(\d{3})\s*/\s*(\d{2,3})\s*(?:Z?R|D|B|-)F?\s*(\d{2}(?:\.5)?)${TRAILER}$`,
);
const FLOTATION = new RegExp(
  String.raw`^(?:LT)?\s*(\d{2}(?:\.\d{1,2})?)\s*X\s*(\d{1,2}\.\d{1,2})\s*(?:R|D|B|-)\s*(\d{2}(?:\.5)?)${TRAILER}$`,
);
const WITHOUT_ASPECT = /^(?:P|LT)?\s*\d{3}\s*(?:R|D|B|-)\s*\d{2}/;
const METRIC_RIM = /^\d{3}\s*\/\s*\d{2}\s*(?:R|-)?\s*\d{3}/;

/**
 * Reads a tyre size as it stands on the tyre or the placard; load index and speed symbol may follow and are not kept.
 * Sizes without an aspect ratio and on rims in millimetres are refused, since their diameter does not follow from them.
 */
export function readTyreSize(text: string): TyreSize | ReadingProblem {
  const marking = text.trim().toUpperCase().replaceAll("×", "X");
  const metric = METRIC.exec(marking);
  if (metric !== null) {
    const [width, aspect, rim] = numbersOf(metric);
    return refuseImplausible({ kind: "metric", width: mm(width), aspect, rim });
  }
  const flotation = FLOTATION.exec(marking);
  if (flotation !== null) {
    const [diameter, width, rim] = numbersOf(flotation);
    return refuseImplausible({ kind: "flotation", diameter, width, rim });
  }
  return { problem: describeProblem(marking), expected: EXPECTED };
}

/** Whether what was read is a size and not a problem. */
export function isTyreSize(read: TyreSize | ReadingProblem): read is TyreSize {
  return "kind" in read;
}

function numbersOf(match: RegExpExecArray): [number, number, number] {
  return [Number(match[1]), Number(match[2]), Number(match[3])];
}

function describeProblem(marking: string): string {
  if (marking === "") return "the tyre size is empty";
  if (METRIC_RIM.test(marking)) return "the rim's diameter is not in inches";
  if (WITHOUT_ASPECT.test(marking))
    return "the tyre size has no aspect ratio, from which its diameter would follow";
  if (marking.includes(",")) return "the tyre size has a comma where its decimal point should stand";
  return "this is no tyre size";
}

const FLOTATION_SIZES =
  "an outer diameter 4 inches or more above the rim's and of 60 at most, and a width of 4 to 20 inches";

function refuseImplausible(size: TyreSize): TyreSize | ReadingProblem {
  const refusal = (what: string, expected: string): ReadingProblem => ({
    problem: `${what} of no tyre`,
    expected,
  });
  if (size.rim < 8 || size.rim > 30) return refusal("this is the rim diameter", "a rim of 8 to 30 inches");
  if (size.kind === "flotation") {
    const inside =
      size.diameter >= size.rim + 4 && size.diameter <= 60 && size.width >= 4 && size.width <= 20;
    return inside ? size : refusal("these are the inches", FLOTATION_SIZES);
  }
  if (size.width < 100 || size.width > 500) return refusal("this is the width", "a width of 100 to 500 mm");
  if (size.aspect < 20 || size.aspect > 100) return refusal("this is the aspect ratio", "20 to 100 per cent");
  return size;
}

/** Height of the tyre's section above the rim. */
export const sectionHeight = formula({
  id: "tyre-section-height",
  gives: "height of the tyre's section",
  text: "width * aspect / 100",
  inputs: { width: "mm", aspect: "1" },
  result: "mm",
  compute: ({ width, aspect }) => (width * aspect) / 100,
});

/** Nominal outer diameter: rim plus twice the section (UN R30, 6.1.2.1, from memory); tables round to a whole mm. */
export const metricTyreDiameter = formula({
  id: "tyre-diameter",
  gives: "nominal outer diameter of the tyre",
  text: "rim * 25.4 + 2 * width * aspect / 100",
  inputs: { rim: "1", width: "mm", aspect: "1" },
  result: "mm",
  compute: ({ rim, width, aspect }) => rim * MILLIMETRES_IN_AN_INCH + 2 * sectionHeight({ width, aspect }),
});

/** Outer diameter of a size that names it in inches. */
export const flotationTyreDiameter = formula({
  id: "tyre-diameter-from-inches",
  gives: "nominal outer diameter of the tyre",
  text: "diameter * 25.4",
  inputs: { diameter: "1" },
  result: "mm",
  compute: ({ diameter }) => diameter * MILLIMETRES_IN_AN_INCH,
});

/** Way of the unloaded tread in one turn. */
export const tyreCircumference = formula({
  id: "tyre-circumference",
  gives: "circumference of the tyre",
  text: "pi * diameter",
  inputs: { diameter: "mm" },
  result: "mm",
  compute: ({ diameter }) => Math.PI * diameter,
});

/** Turns in a kilometre, by the nominal circumference; a loaded tyre makes a few more. */
export const revolutionsPerKilometre = formula({
  id: "tyre-revolutions-per-kilometre",
  gives: "turns of the tyre in a kilometre",
  text: "1000000 / (pi * diameter)",
  inputs: { diameter: "mm" },
  result: "1",
  compute: ({ diameter }) => 1_000_000 / (Math.PI * diameter),
});

/** By how much a tyre is larger than the one specified, in per cent of it; the same for diameter and circumference. */
export const tyreChange = formula({
  id: "tyre-change",
  gives: "change of the tyre's diameter against the one specified, in per cent",
  text: "100 * (diameter - specified) / specified",
  inputs: { diameter: "mm", specified: "mm" },
  result: "1",
  compute: ({ diameter, specified }) => (100 * (diameter - specified)) / specified,
});

/** By how much an axle is lifted by tyres other than specified: half of the change of their diameter. */
export const tyreRaises = formula({
  id: "tyre-raises",
  gives: "height that the tyre adds to its axle",
  text: "(diameter - specified) / 2",
  inputs: { diameter: "mm", specified: "mm" },
  result: "mm",
  compute: ({ diameter, specified }) => (diameter - specified) / 2,
});

/** The nominal outer diameter of a size, with its arithmetic. */
export function workTyreDiameter(size: TyreSize, gives: string): Working {
  switch (size.kind) {
    case "metric":
      return metricTyreDiameter.work(size, gives);
    case "flotation":
      return flotationTyreDiameter.work(size, gives);
  }
}

/** The nominal outer diameter of a size; mm. */
export function tyreDiameter(size: TyreSize): Millimetres {
  switch (size.kind) {
    case "metric":
      return metricTyreDiameter(size);
    case "flotation":
      return flotationTyreDiameter(size);
  }
}

export const FORMULAS = [
  sectionHeight,
  metricTyreDiameter,
  flotationTyreDiameter,
  tyreCircumference,
  revolutionsPerKilometre,
  tyreChange,
  tyreRaises,
] as const;
