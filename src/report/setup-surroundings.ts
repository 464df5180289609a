import {
  degrees,
  formatAngle,
  formatLength,
  formatNumber,
  formatSlope,
  millimetresPerMetre,
  mm,
} from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { PRECONDITIONS, capital } from "../vocabulary/index.js";
import { factsOf, tellU, type Block, type Cell, type Fact, type SetupSection } from "./setup-content.js";
import { markVerdict, tellDoubts } from "./setup-decisions.js";
import { writeBoth, writeLimits, writeMeasured, writeRoom, writeSlope } from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { nameRequirements, sentence } from "./words.js";

const angle = (value: number): string => formatAngle(degrees(value));

const MOST_SPOTS = 60;

/** The floor as it was surveyed, and what goes under which wheel. */
export function tellFloor({ floor }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (floor === null) return [];
  const fineSlope = (value: number): string => `${formatNumber(value, 2)} mm/m`;
  const slope = (value: number): string => formatSlope(millimetresPerMetre(value));
  const write = (value: number): string => formatLength(mm(value), units, "computed");
  const { plane, residuals, wheels } = floor;
  const shown = residuals.slice(0, MOST_SPOTS);
  const rest = shown.length === residuals.length ? "" : `, the first ${shown.length} of ${residuals.length}`;
  return [
    {
      id: "setup-floor",
      title: "Floor",
      blocks: [
        factsOf([
          ["Along", `${writeSlope(plane.along, "the front")}${tellU(floor.uAlong, fineSlope)}`],
          ["Across", `${writeSlope(plane.across, "the left")}${tellU(floor.uAcross, fineSlope)}`],
          ["Steepest", slope(floor.steepest)],
          [
            "Flatness",
            `${write(floor.flatness)} from the highest to the lowest of ${floor.spots} spots, ${floor.degreesOfFreedom} to spare`,
          ],
          ...(wheels === null ? [] : tellWheels(wheels, write)),
        ]),
        {
          kind: "table",
          isFine: true,
          caption: `Spots against the plane through them, in the vehicle's axes${rest}`,
          columns: [
            { head: "Spot" },
            { head: "Ahead of the front axle", isNumber: true },
            { head: "Left", isNumber: true },
            { head: "Above the plane", isNumber: true },
          ],
          rows: shown.map(({ x, y, residual }, index) => [
            `${index + 1}`,
            write(x),
            write(y),
            write(residual),
          ]),
        },
      ],
    },
  ];
}

function tellWheels(
  { plane, twist, shims }: NonNullable<NonNullable<SetupResult["floor"]>["wheels"]>,
  write: (value: number) => string,
): readonly Fact[] {
  const places = shims.map(({ axle, side, thickness }) => `${axle} ${side} ${write(thickness)}`);
  return [
    [
      "Wheels stand",
      `${writeSlope(plane.along, "the front")}, ${writeSlope(plane.across, "the left")}; twist ${write(twist)}`,
    ],
    ["To level", `under the wheels: ${places.join(", ")}`],
  ];
}

const BAY_VERDICTS = {
  fits: "It fits",
  "does-not-fit": "It does not fit",
  "cannot-be-told": "Cannot be told",
} as const;

/** Whether all set-ups fit into the bay, by how much, and what stands in the way. */
export function tellBay({ bay }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (bay === null) return [];
  const write = (value: number | null): string => (value === null ? "not known" : writeRoom(value, units));
  const size = (each: { length: number; width: number; height: number | null }): string =>
    `${write(each.length)} long, ${write(each.width)} wide, height ${write(each.height)}`;
  const inTheWay = bay.setUps.flatMap(({ inTheWay: obstacles }) => obstacles.map(({ says }) => says));
  const fits = (value: boolean | null): string =>
    value === null ? "cannot be told" : value ? "fits" : "does not fit";
  return [
    {
      id: "setup-bay",
      title: "Bay",
      blocks: [
        {
          kind: "says",
          text: `${BAY_VERDICTS[bay.verdict]}.`,
          role: bay.verdict === "fits" ? "strong" : "alert",
        },
        factsOf([
          ["In words", bay.says],
          ["Bay", size(bay)],
          ["Least bay", bay.least === null ? "not known" : `${size(bay.least)}, without obstacles`],
        ]),
        {
          kind: "table",
          caption: "Each set-up",
          columns: [
            { head: "Set-up" },
            { head: "Fits" },
            { head: "Least bay" },
            { head: "To spare (missing where negative)" },
          ],
          rows: bay.setUps.map((each) => [each.id, fits(each.fits), size(each.least), size(each.spare)]),
        },
        ...(inTheWay.length === 0 ? [] : [{ kind: "list", items: inTheWay, role: "alert" } as const]),
      ],
    },
  ];
}

const LOADS = {
  unladen: "unladen",
  "driver-75-kg": "with 75 kg on the driver's seat",
  other: "otherwise loaded",
} as const;

/** How far each cut-off falls, and what the limits make of it. */
export function tellHeadlamps({ headlamps }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (headlamps.length === 0) return [];
  const drop = (value: number): string =>
    writeBoth(units, (write, unit) => `${write(Math.round(value))} ${unit}`);
  const rows = headlamps.map((each): readonly Cell[] => [
    capital(each.position),
    `${formatNumber(each.percent, 2)} %, ${angle(each.deg)}, ${drop(each.dropAtTenMetres)} on 10 m`,
    LOADS[each.load],
    each.decision === null ? "Not decided" : markVerdict(each.decision),
  ]);
  const limits = new Set(headlamps.map(({ rule, source }) => sentence(`Limits: ${rule}: ${source}`)));
  return [
    {
      id: "setup-headlamps",
      title: "Headlamps",
      blocks: [
        {
          kind: "table",
          caption: "Cut-off, downwards positive",
          columns: [{ head: "Headlamp" }, { head: "Falls" }, { head: "Load" }, { head: "Verdict" }],
          rows,
        },
        { kind: "list", items: headlamps.map(({ says }) => sentence(says)) },
        ...[...limits].map((text): Block => ({ kind: "says", text, role: "faint" })),
      ],
    },
  ];
}

/** Limits of the maker's procedures that the measurements settle. */
export function tellConditions({ conditions }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (conditions.length === 0) return [];
  const rows = conditions.map(({ precondition, requirements, decision }): readonly Cell[] => [
    `${capital(PRECONDITIONS[precondition].label)}: ${decision.of}`,
    writeLimits(decision, units),
    decision.value === null
      ? "not measured"
      : writeMeasured({ value: decision.value, u: decision.u }, decision.unit, units),
    markVerdict(decision),
    nameRequirements(requirements),
  ]);
  return [
    {
      id: "setup-conditions",
      title: "Conditions decided",
      blocks: [
        {
          kind: "table",
          caption: "Limits of the procedures that these measurements decide",
          columns: [
            { head: "Condition", width: "third" },
            { head: "Limit" },
            { head: "Measured ±U (k = 2)" },
            { head: "Verdict" },
            { head: "For", width: "quarter" },
          ],
          rows,
        },
        ...tellDoubts(conditions.map(({ decision }) => [capital(decision.of), decision])),
      ],
    },
  ];
}
