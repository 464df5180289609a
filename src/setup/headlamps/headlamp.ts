import { type Issue, nearestOf } from "../../errors.js";
import {
  atan,
  decide,
  type DecisionRule,
  type Degrees,
  degrees,
  formatAngle,
  formatLength,
  formatNumber,
  formatTrimmed,
  formula,
  metres,
  mm,
  type Percent,
  percent,
  standardOf,
  tan,
  type Working,
} from "../../measure/index.js";
import { type Answer, answer } from "../answer.js";
import {
  chooseRanges,
  describeSource,
  findBand,
  findHeadlampLimits,
  HEADLAMP_RULE_IDS,
  type HeadlampLimits,
  type HeadlampRange,
  LOADS,
} from "./headlamp-limits.js";
import type { HeadlampResult, SetupDecision } from "../result.js";
import type { Setup } from "../shape.js";

type Headlamp = NonNullable<Setup["headlamps"]>[number];

/** A cut-off steeper than this is a reading in another unit; per cent. */
const STEEPEST = 20;
/** Where a wall or screen usually stands. */
const SCREEN = metres(10);

/** An inclination in per cent from the drop of the cut-off on a distance. */
export const inclinationFromDrop = formula({
  id: "inclination-from-drop",
  gives: "inclination of the cut-off, downwards positive",
  text: "100 * drop / distance",
  inputs: { drop: "mm", distance: "mm" },
  result: "%",
  compute: ({ drop, distance }) => (100 * drop) / distance,
});

/** An inclination in per cent from one in degrees. */
export const inclinationFromDegrees = formula({
  id: "inclination-from-degrees",
  gives: "inclination of the cut-off, downwards positive",
  text: "100 * tan(angle)",
  inputs: { angle: "deg" },
  result: "%",
  compute: ({ angle }) => 100 * tan(angle),
});

/** An inclination in degrees from one in per cent. */
export const inclinationInDegrees = formula({
  id: "inclination-in-degrees",
  gives: "inclination of the cut-off as an angle, downwards positive",
  text: "atan(inclination / 100)",
  inputs: { inclination: "%" },
  result: "deg",
  compute: ({ inclination }) => atan(inclination / 100),
});

/** How far a cut-off falls on a distance. */
export const dropAt = formula({
  id: "cut-off-drop",
  gives: "drop of the cut-off",
  text: "inclination * distance / 100",
  inputs: { inclination: "%", distance: "mm" },
  result: "mm",
  compute: ({ inclination, distance }) => (inclination * distance) / 100,
});

/** At which height a cut-off stands on a wall: the lamp's height minus the drop. */
export const cutOffHeight = formula({
  id: "cut-off-height",
  gives: "height of the cut-off on a wall",
  text: "height - drop",
  inputs: { height: "mm", drop: "mm" },
  result: "mm",
  compute: ({ height, drop }) => height - drop,
});

export const FORMULAS = [
  inclinationFromDrop,
  inclinationFromDegrees,
  inclinationInDegrees,
  dropAt,
  cutOffHeight,
] as const;

/** Finds rules that are none of those known, uncertainties without their factor, and readings in another unit. */
export function checkHeadlamps(setup: Setup): readonly Issue[] {
  return (setup.headlamps ?? []).flatMap((lamp, index) => checkHeadlamp(lamp, `/headlamps/${index}`));
}

function checkHeadlamp(lamp: Headlamp, pointer: string): readonly Issue[] {
  const issues: Issue[] = [];
  if (findHeadlampLimits(lamp.rule) === undefined) {
    const nearest = nearestOf(lamp.rule, HEADLAMP_RULE_IDS);
    issues.push({
      code: "unknown-id",
      pointer: `${pointer}/rule`,
      message: `${JSON.stringify(lamp.rule)} is no rule for headlamps that is known here`,
      expected: `one of ${HEADLAMP_RULE_IDS.join(", ")}`,
      ...(nearest === undefined ? {} : { nearest }),
    });
  }
  if (lamp.U !== undefined && lamp.k === undefined) {
    issues.push({
      code: "missing-measurement",
      pointer: `${pointer}/k`,
      message: "the expanded uncertainty has no coverage factor",
      expected: "the factor k by which U was expanded, usually 2",
    });
  }
  // Before the tangent, which comes back to small numbers beyond a right angle.
  const { inclination } = lamp;
  const steepest = "unit" in inclination && inclination.unit === "deg" ? atan(STEEPEST / 100) : STEEPEST;
  const size = "unit" in inclination ? inclination.value : (100 * inclination.drop) / inclination.at;
  if (Math.abs(size) > steepest) {
    issues.push({
      code: "out-of-range",
      pointer: `${pointer}/inclination`,
      message: "no headlamp is inclined so much",
      expected: `at most ${STEEPEST} % (${formatAngle(atan(STEEPEST / 100))}) either way`,
    });
  }
  return issues;
}

/**
 * Holds the inclination of each dipped beam's cut-off against the rule that it names, downwards positive: per cent,
 * degrees, and the drop on 10 m. Where the rule presumes another load than the one stated, or the limits for the lamp's
 * height are not known, the verdict is that it cannot be decided; where no tolerance is known at all there is none.
 */
export function answerHeadlamps(setup: Setup, rule: DecisionRule): Answer<readonly HeadlampResult[]> {
  if (setup.headlamps === undefined) return answer({});
  const answers = setup.headlamps.map((lamp, index) => answerHeadlamp(lamp, rule, `/headlamps/${index}`));
  return answer({
    value: answers.flatMap(({ value }) => (value === null ? [] : [value])),
    workings: answers.flatMap(({ workings }) => workings),
    missing: answers.flatMap(({ missing }) => missing),
  });
}

function answerHeadlamp(lamp: Headlamp, rule: DecisionRule, pointer: string): Answer<HeadlampResult> {
  const limits = findHeadlampLimits(lamp.rule);
  if (limits === undefined) {
    return answer({
      missing: [
        {
          for: `aim of the ${lamp.position} headlamp`,
          needs: "a rule that is known here",
          pointer: `${pointer}/rule`,
        },
      ],
    });
  }
  const { inclination, working } = readInclination(lamp);
  const angle = inclinationInDegrees.work({ inclination });
  const drop = dropAt.work({ inclination, distance: SCREEN }, "drop of the cut-off on 10 m");
  // Only from the lamp's centre does the beam fall by this: from another edge the wall would be marked wrong.
  const wall =
    limits.height === "lamp-centre"
      ? [cutOffHeight.work({ height: mm(lamp.height), drop: mm(drop.value) }, "cut-off on a wall 10 m ahead")]
      : [];
  const decision = decideHeadlamp(lamp, limits, inclination, rule);
  return answer({
    value: {
      position: lamp.position,
      rule: limits.id,
      source: describeSource(limits, findBand(limits, mm(lamp.height))?.known ?? limits.known),
      load: lamp.load,
      percent: inclination,
      deg: angle.value,
      dropAtTenMetres: drop.value,
      decision,
      says: [
        describeInclination(lamp, inclination, degrees(angle.value)),
        ...describeMarked(lamp, inclination),
        ...(decision === null ? [] : [decision.says]),
        ...(limits.note === null ? [] : [limits.note]),
      ].join(" "),
    },
    workings: [...(working === null ? [] : [working]), angle, drop, ...wall].map((each) => ({
      ...each,
      gives: `${lamp.position} headlamp: ${each.gives}`,
    })),
  });
}

function readInclination({ inclination }: Headlamp): {
  readonly inclination: Percent;
  readonly working: Working | null;
} {
  if ("drop" in inclination) {
    const working = inclinationFromDrop.work({ drop: mm(inclination.drop), distance: mm(inclination.at) });
    return { inclination: percent(working.value), working };
  }
  if (inclination.unit === "%") return { inclination: percent(inclination.value), working: null };
  const working = inclinationFromDegrees.work({ angle: degrees(inclination.value) });
  return { inclination: percent(working.value), working };
}

function decideHeadlamp(
  lamp: Headlamp,
  limits: HeadlampLimits,
  inclination: Percent,
  rule: DecisionRule,
): SetupDecision | null {
  if (limits.bands.length === 0) return null;
  const of = `inclination of the ${lamp.position} dipped beam`;
  const u = lamp.U === undefined || lamp.k === undefined ? null : standardOf(lamp.U, lamp.k);
  const undecided = (says: string): SetupDecision => ({
    ...{ of, value: inclination, unit: "%", low: null, high: null, u },
    verdict: "cannot-be-decided",
    ...{ probability: null, guardBand: null, largestU: null, says },
  });
  if (limits.load !== null && limits.load !== lamp.load) {
    return undecided(
      `The limits count for a vehicle ${LOADS[limits.load]}, and this one was ${LOADS[lamp.load]}: cannot be decided.`,
    );
  }
  const band = findBand(limits, mm(lamp.height));
  if (band === undefined) {
    const height = formatLength(mm(lamp.height), "mm", "computed");
    return undecided(`The limits for a lamp at ${height} are not known: cannot be decided.`);
  }
  const ranges = chooseRanges(band, lamp.marked);
  const decisions = ranges.map(({ low, high }) =>
    decide({ of, value: inclination, unit: "%", low, high, u }, rule),
  );
  const [first, ...others] = decisions;
  if (first !== undefined && others.every(({ verdict }) => verdict === first.verdict)) {
    if (others.length === 0) return first;
    return {
      ...first,
      says: `${first.says} The vehicle's maker chooses between ${listRanges(ranges)}: both give the same.`,
    };
  }
  return undecided(
    `At this height the vehicle's maker chooses between ${listRanges(ranges)}, and ${lamp.marked === undefined ? "no marked setting is stated that tells" : `the marked setting of ${formatTrimmed(lamp.marked, 2)} % does not tell`} which: cannot be decided.`,
  );
}

function listRanges(ranges: readonly HeadlampRange[]): string {
  return ranges
    .map(({ low, high }) => `${formatTrimmed(low, 2)} % to ${formatTrimmed(high, 2)} %`)
    .join(" and ");
}

function describeInclination(lamp: Headlamp, inclination: Percent, angle: Degrees): string {
  const drop = dropAt({ inclination, distance: SCREEN });
  const way = drop < 0 ? "rises" : "falls";
  const [slope, turn, height] = [
    formatNumber(Math.abs(inclination), 2),
    formatAngle(degrees(Math.abs(angle))),
    formatLength(mm(Math.abs(drop)), "mm", "computed"),
  ];
  return `The cut-off of the ${lamp.position} headlamp ${way} by ${slope} % (${turn}), ${height} on 10 m.`;
}

function describeMarked({ marked }: Headlamp, inclination: Percent): readonly string[] {
  if (marked === undefined) return [];
  const difference = inclination - marked;
  const size = formatNumber(Math.abs(difference), 2);
  const where =
    size === "0.00" ? "as marked" : `${size} % ${difference > 0 ? "lower" : "higher"} than marked`;
  return [`That is ${where} on the vehicle (${formatTrimmed(marked, 2)} %).`];
}
