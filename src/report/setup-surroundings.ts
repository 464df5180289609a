import {
  degrees,
  formatAngle,
  formatLength,
  formatNumber,
  formatTrimmed,
  formatSlope,
  millimetresPerMetre,
  mm,
} from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { PRECONDITIONS, capital } from "../vocabulary/index.js";
import type { Block, Cell, SetupSection, Words } from "./setup-content.js";
import { tellProbability } from "./setup-decisions.js";
import { VERDICTS, writeRoom, writeSlope, writeThrust } from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { nameOfRequirement, sentence } from "./words.js";

type Fact = readonly [label: string, text: Words];

function factsOf(facts: readonly Fact[]): Block {
  return { kind: "facts", facts };
}

/** A standard uncertainty as part of a sentence. */
function tellU(u: number | null, write: (value: number) => string): string {
  return u === null ? ", uncertainty not known" : `, standard uncertainty ${write(u)}`;
}

const angle = (value: number): string => formatAngle(degrees(value));
const fineAngle = (value: number): string => formatAngle(degrees(value), 3);

/** Rear toe, thrust line and set-back, each sign convention with its name. */
export function tellAlignment({ alignment }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (alignment === null) return [];
  const { totalRearToe, thrust, setBack } = alignment;
  const facts: readonly Fact[] = [
    ["Total rear toe", totalRearToe === null ? "not known" : `${angle(totalRearToe)}, toe-in positive`],
    ...(thrust === null
      ? ([["Thrust line", "not known"]] as const)
      : ([
          [
            "Thrust line",
            `${writeThrust(thrust)}, from the ${thrust.from === "rear-toe" ? "rear toes" : "stated thrust angle"}${tellU(thrust.u, fineAngle)}`,
          ],
          ["ISO 8855", `${angle(thrust.heading)}, to the vehicle's left positive`],
          ["The trade", `${angle(thrust.trade)}, to the vehicle's right positive`],
        ] as const)),
    ...(setBack === null
      ? []
      : ([
          [
            "Set-back",
            `${[setBack.mm === null ? "" : formatLength(mm(setBack.mm), units, "computed"), setBack.deg === null ? "" : angle(setBack.deg)].filter((each) => each !== "").join(", ")} at the ${setBack.axle} axle, right wheel rearward positive`,
          ],
        ] as const)),
  ];
  return [{ id: "setup-alignment", title: "Wheel alignment", blocks: [factsOf(facts)] }];
}

/** The centre line that was marked, with its error at each target. */
export function tellCentreLine(result: SetupResult, units: LengthUnits): readonly SetupSection[] {
  const { centreLine } = result;
  if (centreLine === null) return [];
  const write = (value: number): string => formatLength(mm(value), units, "computed");
  const yaw = centreLine.yaw === null ? "not known" : fineAngle(centreLine.yaw);
  const rows = centreLine.atTargets.map(({ target, beyond, lateral, uLateral }): readonly Cell[] => [
    [{ name: result.targets.find(({ key }) => key === target)?.name ?? target }],
    write(beyond),
    lateral === null ? "not known" : write(lateral),
    uLateral === null ? "not known" : formatLength(mm(uLateral), units, "computed"),
  ]);
  return [
    {
      id: "setup-centre-line",
      title: "Centre line from two marks",
      blocks: [
        factsOf([
          ["Between marks", write(centreLine.length)],
          [
            "Yaw",
            `${yaw} against the centre line, counter-clockwise positive, standard uncertainty ${fineAngle(centreLine.uYaw)}`,
          ],
        ]),
        {
          kind: "table",
          caption: "The line at each target",
          columns: [
            { head: "Target" },
            { head: "Beyond the front mark", isNumber: true },
            { head: "Off, left positive", isNumber: true },
            { head: "Standard uncertainty", isNumber: true },
          ],
          rows,
        },
      ],
    },
  ];
}

const MOST_SPOTS = 60;

/** The floor as it was surveyed, and what goes under which wheel. */
export function tellFloor({ floor }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (floor === null) return [];
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
          ["Along", `${writeSlope(plane.along, "the front")}${tellU(floor.uAlong, slope)}`],
          ["Across", `${writeSlope(plane.across, "the left")}${tellU(floor.uAcross, slope)}`],
          ["Steepest", slope(floor.steepest)],
          [
            "Flatness",
            `${write(floor.flatness)} from the highest to the lowest of ${floor.spots} spots, ${floor.degreesOfFreedom} to spare`,
          ],
          ...(wheels === null ? [] : tellWheels(wheels, write)),
        ]),
        {
          kind: "table",
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

/** How the vehicle stands on its springs and tyres, and what it does to a sensor's aim. */
export function tellAttitude({ attitude }: SetupResult, units: LengthUnits): readonly SetupSection[] {
  if (attitude === null) return [];
  const write = (value: number): string => formatLength(mm(value), units, "computed");
  const above = (value: number): string =>
    `${write(Math.abs(value))} ${value < 0 ? "below" : "above"} what is specified`;
  const { tyres } = attitude;
  const counted = tyres?.counted === true ? "counted here" : "already in the ride height as measured";
  const tyre = (axle: "front" | "rear"): readonly Fact[] =>
    tyres === null
      ? []
      : [
          [
            axle === "front" ? "Front tyres" : "Rear tyres",
            `${write(tyres[axle].diameter)} instead of ${write(tyres[axle].specified)}: raises the axle by ${write(tyres[axle].raises)}, ${counted}`,
          ],
        ];
  const aim = attitude.aim.map(
    ({ range, vertical }) =>
      `${write(Math.abs(vertical))} ${vertical < 0 ? "down" : "up"} at ${formatTrimmed(range / 1000, 1)} m`,
  );
  return [
    {
      id: "setup-attitude",
      title: "Attitude",
      blocks: [
        factsOf([
          ["Stands", attitude.says],
          ["Front axle", above(attitude.front)],
          ["Rear axle", above(attitude.rear)],
          ...tyre("front"),
          ...tyre("rear"),
          ...(aim.length === 0 ? [] : ([["Moves the aim", aim.join(", ")]] as const)),
        ]),
      ],
    },
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

export function tellHeadlamps({ headlamps }: SetupResult): readonly SetupSection[] {
  if (headlamps.length === 0) return [];
  return [
    {
      id: "setup-headlamps",
      title: "Headlamps",
      blocks: [
        {
          kind: "table",
          caption: "Inclination of the cut-off, downwards positive",
          columns: [
            { head: "Lamp" },
            { head: "Measured" },
            { head: "Verdict" },
            { head: "Why" },
            { head: "Limits" },
          ],
          rows: headlamps.map((each) => [
            `${capital(each.position)}, ${LOADS[each.load]}`,
            `${formatNumber(each.percent, 2)} %, ${angle(each.deg)}, ${formatNumber(each.dropAtTenMetres, 0)} mm on 10 m`,
            each.decision === null ? "Not decided" : VERDICTS[each.decision.verdict],
            each.says,
            `${each.rule}: ${each.source}`,
          ]),
        },
      ],
    },
  ];
}

/** Limits of the maker's procedures that the measurements settle. */
export function tellConditions({ conditions }: SetupResult): readonly SetupSection[] {
  if (conditions.length === 0) return [];
  return [
    {
      id: "setup-conditions",
      title: "Conditions decided",
      blocks: [
        {
          kind: "table",
          caption: "Limits of the procedures that these measurements decide",
          columns: [
            { head: "Condition" },
            { head: "For" },
            { head: "Verdict" },
            { head: "Probability" },
            { head: "Why" },
          ],
          rows: conditions.map(({ precondition, requirement, decision }) => [
            capital(PRECONDITIONS[precondition].label),
            nameOfRequirement(requirement),
            VERDICTS[decision.verdict],
            tellProbability(decision.probability),
            sentence(decision.says),
          ]),
        },
      ],
    },
  ];
}
