import { degrees, formatAngle, formatNumber } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { capital, nameOfSensor } from "../vocabulary/index.js";
import { numberOf, type SetUpView, type TargetResult } from "./set-ups.js";
import type { Block, Cell, SetupSection, Words } from "./setup-content.js";
import { tellDecisions } from "./setup-decisions.js";
import {
  DATUMS,
  QUANTITIES,
  QUANTITY_NAMES,
  REFERENCE_LINES,
  writeAlong,
  writeAsked,
  writeLateral,
  writeMeasured,
  writeTaped,
  writeValue,
} from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { nameRequirements, sentence } from "./words.js";

/** A set-up: how the vehicle stands, what is done in which order, and every target with its marks, tapes and decisions. */
export function tellSetUp(
  result: SetupResult,
  view: SetUpView,
  place: number,
  units: LengthUnits,
): SetupSection {
  const blocks: readonly Block[] = [
    { kind: "facts", facts: tellStand(view, units) },
    { kind: "drawings", view },
    ...(view.targets.length === 0 ? [] : [...ORDER_OF_WORK, tellMarks(result, view.targets, units), SIGNS]),
    ...view.targets.flatMap((target) => tellTarget(result, target, units)),
  ];
  return { id: `setup-${place}`, title: view.title, isOnNewPage: true, blocks };
}

function tellStand({ fit, targets }: SetUpView, units: LengthUnits): readonly (readonly [string, Words])[] {
  const requirements = fit?.requirements ?? [...new Set(targets.flatMap((each) => each.requirements))];
  const serves = requirements.length === 0 ? [] : [["For", nameRequirements(requirements)] as const];
  if (fit === null) return serves;
  const at = fit.vehicleAt;
  const stands = fit.noseIn ? "nose away from the door" : "nose towards the door";
  const place =
    at === null
      ? "no place found for it"
      : `the point below the middle of the front axle ${writeTaped(at.x, units)} from the door, ${writeLateral(at.y, units, "the middle of the bay, seen from the door")}`;
  return [...serves, ["Vehicle", `${stands}; ${place}`], ["Bay", fit.says]];
}

const ORDER_OF_WORK: readonly Block[] = [
  { kind: "says", text: "Order of work (common practice, no source)", role: "strong" },
  {
    kind: "ticks",
    items: [
      "Stand: wheels straight ahead, suspension settled, all points plumbed to the floor; a set-back is taken out first, or the tapes are held to the rear wheels.",
      "Centre: the target's middle over its mark beside the line.",
      "Distance: along the line.",
      "Square: turned until both straight tapes and both diagonals show what the tables say.",
      "Level: pitch and roll.",
      "Height: last, from the floor at the target, since every step before moves it.",
    ],
  },
];

const SIGNS: Block = {
  kind: "says",
  role: "faint",
  text: `Signs: ${QUANTITY_NAMES.map((name) => `${QUANTITIES[name].label.toLowerCase()} ${QUANTITIES[name].positive}`).join("; ")}.`,
};

function nameTarget(result: SetupResult, target: TargetResult): Words {
  return [`${numberOf(result, target)}  `, { name: target.name }];
}

function tellMarks(result: SetupResult, targets: readonly TargetResult[], units: LengthUnits): Block {
  const { wheelbase } = result.vehicle;
  const row = (target: TargetResult): readonly Cell[] => {
    const name = nameTarget(result, target);
    const { stands } = target;
    if (stands === null) return [name, "not known: see what is missing", "", "", ""];
    return [
      name,
      writeAlong(stands.x, wheelbase, units, writeTaped),
      writeLateral(stands.y, units, "the centre line", writeTaped),
      tellHeight(stands, units),
      formatAngle(degrees(stands.yaw)),
    ];
  };
  return {
    kind: "table",
    caption: "Marks on the floor, in the vehicle's axes, and heights",
    columns: [
      { head: "Target" },
      { head: "Along the vehicle" },
      { head: "Beside the centre line" },
      { head: "Height of its middle" },
      { head: "Yaw", isNumber: true },
    ],
    rows: targets.map(row),
  };
}

function tellHeight(
  { height, heightAboveFloor }: NonNullable<TargetResult["stands"]>,
  units: LengthUnits,
): string {
  const from = heightAboveFloor ?? height;
  if (writeValue(from, "mm", units) === writeValue(0, "mm", units)) return "on the floor";
  if (heightAboveFloor === null) return `${writeTaped(height, units)} above a level floor; none was surveyed`;
  return `${writeTaped(heightAboveFloor, units)} above the floor there`;
}

function tellTarget(result: SetupResult, target: TargetResult, units: LengthUnits): readonly Block[] {
  const { procedure, bar } = target;
  const cite = procedure === null ? [] : [["Procedure", `${procedure.pack}, ${procedure.section}`] as const];
  const end = (point: { x: number; y: number }): string =>
    `${writeAlong(point.x, result.vehicle.wheelbase, units, writeTaped)}, ${writeLateral(point.y, units, "the centre line", writeTaped)}`;
  const bars =
    bar === null
      ? []
      : ([
          ["Left end", end(bar.left)],
          ["Right end", end(bar.right)],
        ] as const);
  return [
    { kind: "heading", text: nameTarget(result, target) },
    {
      kind: "facts",
      facts: [
        ["Sensor", nameOfSensor(target.sensor, target.position)],
        ...cite,
        ["Placed", `from ${DATUMS[target.datum]} along ${REFERENCE_LINES[target.referenceLine]}`],
        ...bars,
      ],
    },
    tellPose(target, units),
    ...tellTapes(target, units),
    ...tellFit(target, units),
    ...tellDecisions("Decided", target.decisions),
    ...tellCorrections(target, units),
  ];
}

function tellPose({ asked, measured, name }: TargetResult, units: LengthUnits): Block {
  return {
    kind: "table",
    caption: "Asked and measured",
    columns: [{ head: "Quantity" }, { head: "Asked" }, { head: "Measured" }],
    rows: QUANTITY_NAMES.map((quantity) => {
      const { label, unit } = QUANTITIES[quantity];
      const found = measured?.[quantity] ?? null;
      return [
        label,
        writeAsked(asked[quantity], unit, units),
        found === null ? { field: `${label} of ${name}` } : writeMeasured(found, unit, units),
      ];
    }),
  };
}

function tellTapes({ tapes, name }: TargetResult, units: LengthUnits): readonly Block[] {
  const blocks = tapes.flatMap((set): readonly Block[] => {
    const from = DATUMS[set.from];
    const row = (label: string, value: number): readonly Cell[] => [
      label,
      writeTaped(value, units),
      { field: `${label}, from ${from}, ${name}` },
    ];
    const write = (value: number): string => writeValue(value, "mm", units);
    return [
      {
        kind: "table",
        caption: `Tapes from the wheel centres of ${from} to the ends of the bar, plumbed to the floor`,
        columns: [{ head: "Tape" }, { head: "Has to show" }, { head: "Reads" }],
        rows: [
          row("Left wheel to left end", set.left),
          row("Right wheel to right end", set.right),
          row("Left wheel to right end", set.diagonals.fromLeft),
          row("Right wheel to left end", set.diagonals.fromRight),
        ],
      },
      {
        kind: "says",
        text: `Straight tapes: left less right has to be ${write(set.left - set.right)}; 1° of yaw counter-clockwise changes it by ${write(set.straightsPerDegree)}. Diagonals: from the left wheel less from the right wheel has to be ${write(set.diagonals.fromLeft - set.diagonals.fromRight)}; ${tellOffset(set.diagonalsPerMillimetre, units)}`,
      },
    ];
  });
  return blocks.length === 0 ? [] : [...blocks, { kind: "says", text: BLIND, role: "faint" }];
}

/** What moving the bar a little to the left does to the diagonals; a tenth of an inch where inches are read. */
function tellOffset(perMillimetre: number, units: LengthUnits): string {
  const offset = units === "mm" ? 10 : 25.4;
  return `${units === "mm" ? "10 mm" : "1 in"} to the left changes it by ${writeValue(offset * perMillimetre, "mm", units)}.`;
}

const BLIND =
  "Read all four: equal diagonals alone prove nothing, since a yaw and an offset can cancel in them.";

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
  return [
    { kind: "says", text: `${count} ${agree}${chi}`, ...(fit.agree === false ? { role: "alert" } : {}) },
    {
      kind: "table",
      caption: "What is left over of each reading",
      columns: [{ head: "Reading" }, { head: "Left over", isNumber: true }],
      rows: fit.residuals.map(({ reading, residual }) => [reading, writeValue(residual, "mm", units)]),
    },
  ];
}

function tellCorrections({ corrections }: TargetResult, units: LengthUnits): readonly Block[] {
  if (corrections.length === 0) return [];
  const tell = ({ quantity, amount, says }: (typeof corrections)[number]): string => {
    const isInInches = units === "in" && QUANTITIES[quantity].unit === "mm";
    const inches = isInInches ? ` That is ${writeTaped(Math.abs(amount), units)}.` : "";
    return `${sentence(capital(says))}${inches}`;
  };
  return [
    { kind: "says", text: "To correct, in this order, and to measure again afterwards:", role: "strong" },
    { kind: "ticks", items: corrections.map(tell) },
  ];
}
