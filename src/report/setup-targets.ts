import { degrees, formatAngle } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import type { SetUpView, TargetResult } from "./set-ups.js";
import type { Block, Cell, SetupSection, Words } from "./setup-content.js";
import { nameTarget, tellTarget } from "./setup-target.js";
import {
  QUANTITIES,
  QUANTITY_NAMES,
  writeAlong,
  writeLateral,
  writeTaped,
  writeValue,
} from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { nameRequirements } from "./words.js";

/** A set-up: how the vehicle stands, what is done in which order, the drawings, and every target on its own. */
export function tellSetUp(
  result: SetupResult,
  view: SetUpView,
  place: number,
  units: LengthUnits,
): SetupSection {
  const { targets } = view;
  const isEmpty = targets.length === 0;
  const draw = (from: "above" | "the side"): readonly Block[] =>
    isDrawable(result, view) ? [{ kind: "drawing", from, view }] : [];
  const blocks: readonly Block[] = [
    { kind: "facts", facts: tellStand(view, units) },
    ...(isEmpty ? [{ kind: "says", text: "No target was asked for." } as const] : ORDER_OF_WORK),
    ...draw("above"),
    ...(isEmpty ? [] : [tellMarks(result, targets, units), ...tellReading(targets)]),
    ...draw("the side"),
    ...targets.flatMap((target) => tellTarget(result, target, units)),
  ];
  return { id: `setup-${place}`, title: view.title, isOnNewPage: place > 1, blocks };
}

/** Whether anything of a set-up has a place on a drawing. */
function isDrawable({ vehicle }: SetupResult, { targets, fit }: SetUpView): boolean {
  return fit !== null || vehicle.wheelbase !== null || targets.some(({ stands }) => stands !== null);
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
  return [...serves, ["Vehicle", `${stands}; ${place}`], ["Bay", tellRoom(fit, units)]];
}

function tellRoom({ says, least, spare }: NonNullable<SetUpView["fit"]>, units: LengthUnits): string {
  if (units === "mm") return says;
  const write = (value: number): string => writeValue(Math.abs(value), "mm", units);
  const left = ([value, way]: readonly [number, string]): string =>
    `${write(value)} ${value < 0 ? "missing" : "to spare"} ${way}`;
  const rest = (
    [
      [spare.length, "along"],
      [spare.width, "across"],
    ] as const
  ).map(left);
  return `${says} That is ${write(least.length)} by ${write(least.width)}; ${rest.join(", ")}.`;
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

/** How the tables of the targets are to be read. */
function tellReading(targets: readonly TargetResult[]): readonly Block[] {
  const signs = `Signs: ${QUANTITY_NAMES.map((name) => `${QUANTITIES[name].label.toLowerCase()} ${QUANTITIES[name].positive}`).join("; ")}.`;
  const isTaped = targets.some(({ tapes }) => tapes.length > 0);
  return [{ kind: "says", role: "faint", text: isTaped ? `${signs} ${BLIND}` : signs }];
}

const BLIND =
  "Read all four tapes: equal diagonals alone prove nothing, since a yaw and an offset can cancel in them.";

function tellMarks(result: SetupResult, targets: readonly TargetResult[], units: LengthUnits): Block {
  const write = ({ x, y }: { readonly x: number; readonly y: number }): readonly Cell[] => [
    writeAlong(x, result.vehicle.wheelbase, units, writeTaped),
    writeLateral(y, units, "the centre line", writeTaped),
  ];
  const rowsOf = (target: TargetResult): readonly (readonly Cell[])[] => {
    const { stands, bar } = target;
    const name = nameTarget(result, target);
    if (stands === null) return [[name, "not known: see what is missing", "", "", ""]];
    const ends = bar === null ? [] : (["left", "right"] as const);
    return [
      [name, ...write(stands), tellHeight(stands, units), formatAngle(degrees(stands.yaw))],
      ...ends.map((end) => [`its ${end} end`, ...write(bar?.[end] ?? stands), "", ""]),
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
      { head: "Yaw", isNumber: true, width: "slim" },
    ],
    rows: targets.flatMap(rowsOf),
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
