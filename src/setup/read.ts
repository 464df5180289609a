import { InputError, type Issue } from "../errors.js";
import { guardDocument, inDocumentOrder, issuesOf } from "../shapes/index.js";
import {
  SENSORS,
  acceptsPosition,
  type PositionId,
  type SensorId,
  type SensorTerm,
} from "../vocabulary/index.js";
import { checkAlignment } from "./vehicle/alignment.js";
import { checkAttitude } from "./attitude/attitude.js";
import { checkBay } from "./bay/bay.js";
import { checkCentreLine } from "./vehicle/centre-line.js";
import { checkFloor } from "./floor/floor.js";
import { checkScene } from "./vehicle/frame.js";
import { checkHeadlamps } from "./headlamps/headlamp.js";
import { checkTargets } from "./targets/targets.js";
import { setupShape, statedTargets, type Setup } from "./shape.js";

/**
 * Reads the document of a set-up (`repair-calibration/setup@1`).
 *
 * Throws `InputError` of kind "input" with every issue found, in the order of the document.
 */
export function readSetup(input: unknown): Setup {
  const harmful = guardDocument(input);
  if (harmful.length > 0) throw new InputError("input", harmful);
  const parsed = setupShape.safeParse(input);
  if (!parsed.success) throw new InputError("input", issuesOf(parsed.error, setupShape, input));
  const setup = parsed.data;
  const issues = [
    ...checkPlaces(setup),
    ...checkNames(setup),
    ...checkRule(setup),
    ...checkAlignment(setup),
    ...checkScene(setup),
    ...checkCentreLine(setup),
    ...checkFloor(setup),
    ...checkAttitude(setup),
    ...checkTargets(setup),
    ...checkBay(setup.bay),
    ...checkHeadlamps(setup),
  ];
  if (issues.length > 0) throw new InputError("input", inDocumentOrder(issues, input));
  return setup;
}

function checkNames(setup: Setup): readonly Issue[] {
  const first = new Map<string, string>();
  return statedTargets(setup).flatMap(({ target, pointer }) => {
    const { sensor, position = null, id } = target;
    const key = JSON.stringify([sensor, position, id]);
    const before = first.get(key);
    if (before === undefined) first.set(key, pointer);
    return [
      ...refusePosition(sensor, position, pointer),
      ...(before === undefined
        ? []
        : [
            {
              code: "duplicate-id" as const,
              pointer: `${pointer}/id`,
              message: `the target "${id}" of this sensor stands already at ${before}`,
            },
          ]),
    ];
  });
}

function checkPlaces({ places = [] }: Setup): readonly Issue[] {
  const first = new Map<string, number>();
  return places.flatMap((place, index) => {
    const here = `/places/${index}`;
    const { datum, sensor, position = null } = place;
    const key = JSON.stringify([datum, sensor ?? null, position]);
    const before = first.get(key);
    if (before === undefined) first.set(key, index);
    return [
      ...(datum === "sensor" && sensor === undefined
        ? [
            {
              code: "missing-key" as const,
              pointer: `${here}/sensor`,
              message: "this is missing",
              expected: "the sensor whose place it is",
            },
          ]
        : []),
      ...(datum !== "sensor" && sensor !== undefined
        ? [
            {
              code: "invalid-value" as const,
              pointer: `${here}/sensor`,
              message: `the datum "${datum}" belongs to no sensor`,
              expected: 'the datum "sensor", or no sensor',
            },
          ]
        : []),
      ...(sensor === undefined ? [] : refusePosition(sensor, position, here)),
      ...(before === undefined
        ? []
        : [
            {
              code: "duplicate-id" as const,
              pointer: here,
              message: `the place of this datum is stated already at /places/${before}`,
            },
          ]),
    ];
  });
}

function refusePosition(sensor: SensorId, position: PositionId | null, here: string): readonly Issue[] {
  if (acceptsPosition(sensor, position)) return [];
  const term: SensorTerm = SENSORS[sensor];
  return [
    {
      code: "invalid-position",
      pointer: `${here}/position`,
      message: `the ${term.label} has no position "${String(position)}"`,
      expected:
        term.positions.length === 0
          ? "no position, since there is only one"
          : `one of ${term.positions.join(", ")}`,
    },
  ];
}

function checkRule({ decisionRule }: Setup): readonly Issue[] {
  if (decisionRule?.kind !== "guarded") return [];
  if (decisionRule.guardFactor === undefined || decisionRule.conformance === undefined) return [];
  return [
    {
      code: "invalid-value",
      pointer: "/decisionRule/conformance",
      message: "the guard factor is stated as well, and either follows from the other",
      expected: "one of the two",
    },
  ];
}
