import { formatNumber } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { capital, nameOfSensor } from "../vocabulary/index.js";
import { numberOf, type TargetResult } from "./set-ups.js";
import type { Block, Cell, Words } from "./setup-content.js";
import { markVerdict, tellDoubts } from "./setup-decisions.js";
import {
  DATUMS,
  QUANTITIES,
  QUANTITY_NAMES,
  REFERENCE_LINES,
  writeAsked,
  writeMeasured,
  writeTaped,
  writeValue,
  type QuantityName,
} from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { sentence } from "./words.js";

export function nameTarget(result: SetupResult, target: TargetResult): Words {
  return [`${numberOf(result, target)}  `, { name: target.name }];
}

/** A target: what its tapes have to show, what was asked and measured of it, and what to do about it. */
export function tellTarget(result: SetupResult, target: TargetResult, units: LengthUnits): readonly Block[] {
  const { procedure } = target;
  const cite = procedure === null ? "" : ` (${procedure.pack}, ${procedure.section})`;
  return [
    { kind: "heading", text: nameTarget(result, target) },
    {
      kind: "facts",
      facts: [
        ["Sensor", nameOfSensor(target.sensor, target.position)],
        ["Placed", `from ${DATUMS[target.datum]} along ${REFERENCE_LINES[target.referenceLine]}${cite}`],
      ],
    },
    ...tellTapes(target, units),
    ...tellFit(target, units),
    tellPose(target, units),
    ...tellHeld(target, units),
    ...tellDoubts(target.decisions.map((each) => [QUANTITIES[each.quantity].label, each])),
  ];
}

/** Each quantity in a row, in the order in which it is put right; what was not measured has a place to write on. */
function tellPose(target: TargetResult, units: LengthUnits): Block {
  const { measured, name } = target;
  const isMeasured = measured !== null;
  return {
    kind: "table",
    caption: isMeasured
      ? "Asked, measured, and what to do, in this order; then to be measured again"
      : "Asked and measured",
    columns: [
      { head: "Quantity", width: "slim" },
      { head: "Asked" },
      { head: "Measured ±U (k = 2)" },
      ...(isMeasured
        ? ([
            { head: "Verdict", width: "fifth" },
            { head: "What to do", width: "third" },
          ] as const)
        : []),
    ],
    rows: QUANTITY_NAMES.map((quantity) => {
      const { label, unit } = QUANTITIES[quantity];
      const found = findMeasured(target, quantity);
      return [
        label,
        writeAsked(findHeld(target, quantity), unit, units),
        found === null ? { field: `${label} of ${name}` } : writeMeasured(found, unit, units),
        ...(isMeasured ? tellOutcome(target, quantity, units) : []),
      ];
    }),
  };
}

type Decision = TargetResult["decisions"][number];

function findDecision({ decisions }: TargetResult, quantity: QuantityName): Decision | null {
  return decisions.find((each) => each.quantity === quantity) ?? null;
}

type Value = NonNullable<NonNullable<TargetResult["measured"]>[QuantityName]>;

/** A measured value with the uncertainty with which it was decided, which may have that of the floor in it. */
function findMeasured(target: TargetResult, quantity: QuantityName): Value | null {
  const found = target.measured?.[quantity] ?? null;
  const decision = findDecision(target, quantity);
  return found === null || decision === null ? found : { value: found.value, u: decision.u };
}

type Placing = TargetResult["asked"][QuantityName];

/** What a quantity is held against where the target stands: as the procedure has it, or as floor and wheels make of it. */
function findHeld(target: TargetResult, quantity: QuantityName): Placing {
  const { nominal, tolerance } = target.asked[quantity];
  const here = findNominal(target, quantity) ?? nominal;
  if (Math.abs(here - nominal) < 1e-6) return { nominal, tolerance };
  const perUnit = QUANTITIES[quantity].unit === "mm" ? 10 : 100;
  return { nominal: Math.round(here * perUnit) / perUnit, tolerance };
}

function findNominal(target: TargetResult, quantity: QuantityName): number | null {
  const { low = null, high = null } = findDecision(target, quantity) ?? {};
  if (low !== null && high !== null) return (low + high) / 2;
  return quantity === "height" ? (target.stands?.heightAboveFloor ?? null) : null;
}

/** The verdict on a quantity, and what to do about it: nothing where it conforms. */
function tellOutcome(target: TargetResult, quantity: QuantityName, units: LengthUnits): readonly Cell[] {
  const found = findMeasured(target, quantity);
  if (found === null) return ["", ""];
  const decision = findDecision(target, quantity);
  const verdict = decision === null ? "Not decided" : markVerdict(decision);
  if (decision?.verdict === "conforms") return [verdict, "May stay."];
  const correction = target.corrections.find((each) => each.quantity === quantity);
  if (correction !== undefined) return [verdict, { tick: tellCorrection(correction, units) }];
  const { unit } = QUANTITIES[quantity];
  const left = writeValue(Math.abs(found.value - findHeld(target, quantity).nominal), unit, "mm");
  return [verdict, left === writeValue(0, unit, "mm") ? "Nothing to correct." : { tick: "Measure again." }];
}

function tellCorrection(
  { quantity, amount, says }: TargetResult["corrections"][number],
  units: LengthUnits,
): string {
  const isInInches = units === "in" && QUANTITIES[quantity].unit === "mm";
  const inches = isInInches ? ` That is ${writeTaped(Math.abs(amount), units)}.` : "";
  return `${sentence(capital(says))}${inches}`;
}

/** Where floor and wheels make something else of what the procedure states, both are said. */
function tellHeld(target: TargetResult, units: LengthUnits): readonly Block[] {
  return QUANTITY_NAMES.flatMap((quantity): readonly Block[] => {
    const { label, unit } = QUANTITIES[quantity];
    const stated = writeAsked(target.asked[quantity], unit, units);
    const { nominal, tolerance } = findHeld(target, quantity);
    if (writeAsked({ nominal, tolerance }, unit, units) === stated) return [];
    const here =
      quantity === "height"
        ? `a tape from the floor at the target has to show ${writeTaped(nominal, units)}`
        : `a level at the target has to show ${writeValue(nominal, unit, units)}`;
    const text = `${label}: the procedure states ${stated} against the plane of the wheels; ${here}.`;
    return [{ kind: "says", text, role: "faint" }];
  });
}

const AXLES = { "front-axle": "Front axle", "rear-axle": "Rear axle" } as const;

const TAPES = [
  ["Left wheel to left end", (set: TapeSet) => set.left],
  ["Right wheel to right end", (set: TapeSet) => set.right],
  ["Left wheel to right end", (set: TapeSet) => set.diagonals.fromLeft],
  ["Right wheel to left end", (set: TapeSet) => set.diagonals.fromRight],
] as const;

type TapeSet = TargetResult["tapes"][number];

function tellTapes({ tapes, name }: TargetResult, units: LengthUnits): readonly Block[] {
  if (tapes.length === 0) return [];
  return [
    {
      kind: "table",
      caption: "What the tapes have to show, wheel centre to end of the bar, plumbed to the floor",
      columns: [
        { head: "Tape", width: "quarter" },
        ...tapes.flatMap((set) => [{ head: AXLES[set.from] }, { head: "Reads", width: "sixth" } as const]),
      ],
      rows: TAPES.map(([label, read]) => [
        label,
        ...tapes.flatMap((set): readonly Cell[] => [
          writeTaped(read(set), units),
          { field: `${label}, from ${DATUMS[set.from]}, ${name}` },
        ]),
      ]),
    },
    { kind: "says", text: tellDifferences(tapes, units) },
  ];
}

/** What the tapes' differences have to be, and what moves them. */
function tellDifferences(tapes: readonly TapeSet[], units: LengthUnits): string {
  const each = (read: (set: TapeSet) => number): string =>
    tapes
      .map((set) => `${writeValue(read(set), "mm", units)} (${DATUMS[set.from].replace("the ", "")})`)
      .join(" and ");
  const offset = units === "mm" ? 10 : 25.4;
  return [
    `Straight tapes: left less right has to be ${each(({ left, right }) => left - right)}; 1° of yaw counter-clockwise changes it by ${each((set) => set.straightsPerDegree)}.`,
    `Diagonals: from the left wheel less from the right wheel has to be ${each(({ diagonals }) => diagonals.fromLeft - diagonals.fromRight)}; ${units === "mm" ? "10 mm" : "1 in"} to the left changes it by ${each((set) => offset * set.diagonalsPerMillimetre)}.`,
  ].join(" ");
}

function tellFit({ measured }: TargetResult, units: LengthUnits): readonly Block[] {
  const fit = measured?.fit ?? null;
  if (fit === null) return [];
  const agree =
    fit.agree === null
      ? "Whether they agree among themselves cannot be told."
      : fit.agree
        ? "They agree among themselves within their uncertainties."
        : "They disagree among themselves: measure again before anything is moved.";
  const chi =
    fit.chiSquared === null || fit.limit === null
      ? ""
      : ` Sum of squared residuals over their uncertainties ${formatNumber(fit.chiSquared, 2)}, limit ${formatNumber(fit.limit, 2)} (95 of 100 cases).`;
  const count = `The measured place comes from ${fit.readings} tape readings with ${fit.degreesOfFreedom} to spare.`;
  const rest = fit.residuals.map(
    ({ reading, residual }) => `${reading} ${writeValue(residual, "mm", units)}`,
  );
  return [
    { kind: "says", text: `${count} ${agree}${chi}`, ...(fit.agree === false ? { role: "alert" } : {}) },
    ...(rest.length === 0
      ? []
      : [{ kind: "says", role: "faint", text: `Left over of each reading: ${rest.join("; ")}.` } as const]),
  ];
}
