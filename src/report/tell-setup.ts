import type { SetupResult } from "../setup/index.js";
import { listSetUps } from "./set-ups.js";
import type { Block, SetupSection, Words } from "./setup-content.js";
import { listDecisions } from "./setup-decisions.js";
import { tellBay, tellConditions, tellFloor, tellHeadlamps } from "./setup-surroundings.js";
import { tellSetUp } from "./setup-targets.js";
import { tellAlignment, tellAttitude, tellCentreLine } from "./setup-vehicle.js";
import { nameOfVehicle } from "./setup-words.js";
import type { LengthUnits } from "./units.js";
import { count, sentence } from "./words.js";

/** All that a report of a set-up says, in the order in which it is read: what is missing first, cautions last. */
export function tellSetup(result: SetupResult, units: LengthUnits): readonly SetupSection[] {
  return [
    ...tellOpen(result),
    ...listSetUps(result).map((view, index) => tellSetUp(result, view, index + 1, units)),
    ...tellAlignment(result, units),
    ...tellCentreLine(result, units),
    ...tellFloor(result, units),
    ...tellAttitude(result, units),
    ...tellBay(result, units),
    ...tellHeadlamps(result, units),
    ...tellConditions(result, units),
    { id: "setup-decisions", title: "How it is decided", blocks: [says(result.decisionRule.says)] },
    ...list("setup-cautions", "Cautions for the set-up", result.cautions),
  ];
}

function says(text: string): Block {
  return { kind: "says", text: sentence(text) };
}

function list(id: string, title: string, items: readonly Words[], role?: "alert"): readonly SetupSection[] {
  if (items.length === 0) return [];
  return [{ id, title, blocks: [{ kind: "list", items, ...(role === undefined ? {} : { role }) }] }];
}

/** What stands in the way of a result that could be worked by: it comes before everything else. */
function tellOpen({ contradictions, missing, warnings }: SetupResult): readonly SetupSection[] {
  const watched = tellWarnings(warnings);
  return [
    ...list(
      "setup-contradictions",
      `Measurements that contradict each other (${contradictions.length})`,
      contradictions.map(({ about, says: text }) => `${sentence(text)} (${about.join(", ")})`),
      "alert",
    ),
    ...list(
      "setup-missing",
      `Missing (${missing.length})`,
      missing.map(({ for: what, needs, pointer }) => [
        { name: what },
        ": needs ",
        { name: needs },
        pointer === "" ? "" : ` (at ${pointer})`,
      ]),
      "alert",
    ),
    ...list("setup-warnings", `To watch (${watched.length})`, watched, "alert"),
  ];
}

/** Each warning once, with all that it is about. */
function tellWarnings(warnings: SetupResult["warnings"]): readonly Words[] {
  const abouts = new Map<string, string[]>();
  for (const { about, says: text } of warnings) abouts.set(text, [...(abouts.get(text) ?? []), about]);
  return [...abouts].map(([text, about]) => `${sentence(text)} (${about.join("; ")})`);
}

/** The head of a report: whose set-up it is and how it came out, in few words. */
export function tellSetupHead(result: SetupResult): readonly (readonly [label: string, text: Words])[] {
  return [
    ["Order", result.reference === null ? "not stated" : [{ name: result.reference }]],
    ["Vehicle", [{ name: nameOfVehicle(result.vehicle) }]],
    ["Outcome", tellOutcome(result)],
    ...result.procedures.map(
      ({ id, version, invented, cite, issued }) =>
        [
          "Procedures",
          `${id} ${version}${invented ? ", INVENTED for demonstration" : ""}: ${sentence(cite).slice(0, -1)}, issued ${issued}`,
        ] as const,
    ),
  ];
}

function tellOutcome(result: SetupResult): string {
  const { contradictions, missing } = result;
  const decisions = listDecisions(result);
  const number = (verdict: (typeof decisions)[number]["verdict"]): number =>
    decisions.filter((each) => each.verdict === verdict).length;
  const parts = [
    ...(contradictions.length === 0 ? [] : [count(contradictions.length, "contradiction")]),
    ...(missing.length === 0 ? [] : [`${count(missing.length, "thing")} missing`]),
    ...(decisions.length === 0
      ? ["nothing was measured that could be decided"]
      : [
          `of ${count(decisions.length, "measured value")} ${number("conforms")} ${number("conforms") === 1 ? "conforms" : "conform"}, ${number("does-not-conform")} ${number("does-not-conform") === 1 ? "does" : "do"} not, ${number("cannot-be-decided")} cannot be decided`,
        ]),
    ...(result.bay === null
      ? []
      : [
          {
            fits: "the bay fits",
            "does-not-fit": "the bay does not fit",
            "cannot-be-told": "whether the bay fits cannot be told",
          }[result.bay.verdict],
        ]),
  ];
  const text = parts.join("; ");
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
