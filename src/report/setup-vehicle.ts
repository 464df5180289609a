import { degrees, formatAngle, formatLength, formatTrimmed, mm } from "../measure/index.js";
import type { SetupResult } from "../setup/index.js";
import { factsOf, tellU, type Cell, type Fact, type SetupSection } from "./setup-content.js";
import { writeThrust } from "./setup-words.js";
import type { LengthUnits } from "./units.js";

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
