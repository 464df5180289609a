import {
  distanceUnitOf,
  writeDistance,
  writeDuration,
  type DriveReason,
  type DriveResult,
} from "../drive/index.js";
import { TASKS, capital, nameOfSensor } from "../vocabulary/index.js";
import { EMPTY_LINE, joinLines, pageWidth, paragraph, type Line, type Role, type Styler } from "./layout.js";
import { LABEL } from "./page.js";
import { count, sentence } from "./words.js";

/** How the report of a drive is to look. */
export interface DriveTextOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  readonly styler?: Styler | undefined;
}

/**
 * Writes what a log shows of a drive as text for a terminal or for paper: the outcome, what is missing, how much counts,
 * what interrupted it, and what is confirmed by hand. No line is wider than `width` columns.
 */
export function renderDrive(result: DriveResult, options: DriveTextOptions = {}): string {
  const width = pageWidth(options.width);
  const sections = [
    writeHead(result, width),
    writeList("Missing", result.missing, width, "alert"),
    writeList("To look up or to note", result.lookUp, width, "alert"),
    writeCounted(result, width),
    writeInterruptions(result, width),
    writeGaps(result, width),
    writeBoxes("To confirm by hand", "No log shows it.", result.confirmByHand, width),
    writeBoxes("Afterwards", "It follows in the same procedure.", result.afterwards, width),
    writeList("Cautions", result.cautions, width, "plain"),
    writeBasis(result, width),
    writeSignature(width),
  ].filter((section) => section.length > 0);
  return joinLines(
    sections.flatMap((section, index) => (index === 0 ? section : [EMPTY_LINE, ...section])),
    options.styler,
  );
}

function row(label: string, text: string, width: number, indent = 0, role: Role = "plain"): readonly Line[] {
  return paragraph(text, { width, indent, lead: label.padEnd(LABEL), role });
}

function heading(title: string, width: number, about: string | null = null): readonly Line[] {
  return [
    ...paragraph(title.toUpperCase(), { width, role: "heading" }),
    ...(about === null ? [] : paragraph(about, { width, indent: 2, role: "faint" })),
  ];
}

function writeHead(result: DriveResult, width: number): readonly Line[] {
  const { sensor, position, task, procedure, reference, samples, whole } = result;
  const invented = procedure.invented ? ", INVENTED for demonstration" : "";
  const recorded = `${count(samples, "sample")}, ${amount(result, whole)} recorded`;
  return [
    ...paragraph("Drive log", { width, role: "title" }),
    ...(reference === null ? [] : row("Reference", reference, width)),
    ...row("For", `${capital(nameOfSensor(sensor, position))}: ${TASKS[task].label}`, width),
    ...row("Asked by", `${procedure.title}, section ${procedure.section}${invented}`, width),
    ...row("Asked", describeAsked(result), width),
    ...row("Log", recorded, width),
    ...row("Outcome", result.says, width, 0, result.verdict === "met" ? "strong" : "alert"),
  ];
}

const LANES = {
  "both-sides": "lane markings on both sides",
  "one-side": "lane markings on one side",
  "not-needed": "no lane markings needed",
} as const;

const RUN = { "in-pieces": "in pieces that are added", "in-one-run": "in one run" } as const;

function describeAsked({ asked }: DriveResult): string {
  const { speed, minutes, distance, roadClasses, laneMarkings, run, steering, gradient } = asked;
  const without = minutes === undefined && distance === undefined;
  return [
    `${speed.low} to ${speed.high} ${speed.unit}`,
    ...(minutes === undefined ? [] : [`${minutes} min`]),
    ...(distance === undefined ? [] : [`${distance.value} ${distance.unit}`]),
    ...(without ? ["how long is not said"] : []),
    run === undefined ? "whether in one run is not said" : RUN[run],
    ...(roadClasses === undefined ? [] : [`road: ${roadClasses.join(" or ")}`]),
    ...(laneMarkings === undefined ? [] : [LANES[laneMarkings]]),
    ...(steering === undefined ? [] : [`steering wheel within ${steering}° either way`]),
    ...(gradient === undefined ? [] : [`gradient within ${gradient} % either way`]),
  ].join("; ");
}

function amount({ asked }: DriveResult, { seconds, km }: { seconds: number; km: number }): string {
  return `${writeDuration(seconds, "down")}, ${writeDistance(km, distanceUnitOf(asked), "down")}`;
}

function writeCounted(result: DriveResult, width: number): readonly Line[] {
  const { certain, possible, longestRun, notCounted, notRecorded } = result;
  const run = (each: (typeof longestRun)["certain"]): string =>
    each === null ? "none" : `${amount(result, each)}, from ${span(each.begin, each.end)}`;
  const hasPossible = possible.seconds > 0;
  return [
    ...heading("What counts", width, "Places in the log are told from its first sample, in h:mm:ss."),
    ...row("Certain", amount(result, certain), width, 2, "strong"),
    ...(hasPossible ? row("Possible", `${amount(result, possible)} more`, width, 2) : []),
    ...row("Longest", run(longestRun.certain), width, 2),
    ...(hasPossible ? row("", `${run(longestRun.possible)}, with what is possible`, width, 2) : []),
    ...notRecorded.flatMap((each) =>
      row(
        "Not noted",
        `${NOT_RECORDED[each.why] ?? each.why}: ${writeDuration(each.seconds, "up")}`,
        width,
        2,
      ),
    ),
    ...notCounted.flatMap((each) =>
      row("Left out", `${REASON[each.why]}: ${writeDuration(each.seconds, "up")}`, width, 2),
    ),
  ];
}

const REASON: Readonly<Record<DriveReason, string>> = {
  "too-slow": "too slow",
  "too-fast": "too fast",
  road: "on another class of road",
  lanes: "lane markings missing",
  steering: "steering wheel turned too far",
  gradient: "too steep",
  gap: "nothing recorded",
  clock: "clock set back",
};

const NOT_RECORDED: Readonly<Partial<Record<DriveReason, string>>> = {
  road: "class of the road",
  lanes: "lane markings",
  steering: "steering angle",
  gradient: "gradient",
};

function writeInterruptions(
  { interruptions, furtherInterruptions }: DriveResult,
  width: number,
): readonly Line[] {
  const { total, byReason } = furtherInterruptions;
  if (interruptions.length === 0) return [];
  const further = byReason.map((each) => `${REASON[each.why]} ${each.interruptions}`).join(", ");
  return [
    ...heading(
      `Interruptions (${interruptions.length + total})`,
      width,
      "Between stretches that count or may.",
    ),
    ...interruptions.flatMap(({ begin, end, seconds, why }) =>
      paragraph(
        `${span(begin, end)}, ${writeDuration(seconds, "up")}: ${why.map((each) => REASON[each]).join(", ")}`,
        { width, indent: 2, lead: "- " },
      ),
    ),
    ...(total === 0 ? [] : paragraph(`${total} more (${further})`, { width, indent: 2, lead: "- " })),
  ];
}

function writeGaps({ gaps, clock }: DriveResult, width: number): readonly Line[] {
  const { backwardSteps, standstills, repeatedSeconds } = clock;
  const longest =
    gaps.longest === null ? "" : `; the longest from ${span(gaps.longest.begin, gaps.longest.end)}`;
  const lines = [
    ...(gaps.total === 0
      ? []
      : [
          `${count(gaps.total, "gap")} of more than ${gaps.longerThan} s, ${writeDuration(gaps.seconds, "up")} in all${longest}. Nothing is counted there.`,
        ]),
    ...backwardSteps.map(({ from, to }) => `The clock goes back from ${place(from)} to ${place(to)}.`),
    ...(repeatedSeconds === 0
      ? []
      : [`${writeDuration(repeatedSeconds, "up")} shown a second time by the clock, and counted once.`]),
    ...(standstills === 0 ? [] : [`${count(standstills, "sample")} at the time of the one before.`]),
  ];
  return writeList("Gaps and clock", lines, width, "plain");
}

function writeList(title: string, items: readonly string[], width: number, role: Role): readonly Line[] {
  if (items.length === 0) return [];
  return [
    ...heading(title, width),
    ...items.flatMap((each) => paragraph(sentence(capital(each)), { width, indent: 2, lead: "- ", role })),
  ];
}

function writeBoxes(title: string, about: string, items: readonly string[], width: number): readonly Line[] {
  if (items.length === 0) return [];
  return [
    ...heading(title, width, about),
    ...items.flatMap((each) => paragraph(sentence(each), { width, indent: 2, lead: "[ ] " })),
  ];
}

function writeBasis({ procedure }: DriveResult, width: number): readonly Line[] {
  return [
    ...heading("Made with", width),
    ...paragraph(
      `Procedures ${procedure.pack} ${procedure.version}: ${procedure.cite}, issued ${procedure.issued}; procedure ${procedure.id}`,
      { width, indent: 2, lead: "- " },
    ),
    ...paragraph(procedure.digest, { width, indent: 4, role: "faint" }),
  ];
}

function writeSignature(width: number): readonly Line[] {
  return [
    ...heading("Signed", width),
    EMPTY_LINE,
    { text: `  ${"Technician".padEnd(LABEL)} ${"_".repeat(width - 34)}  Date ____________`, role: "plain" },
  ];
}

function span(begin: number, end: number): string {
  return `${place(begin)} to ${place(end)}`;
}

/** A place in the log as h:mm:ss from its first sample; before it where a clock was set back further. */
function place(seconds: number): string {
  const whole = Math.floor(Math.abs(seconds) + 1e-7);
  const pad = (value: number): string => String(value).padStart(2, "0");
  const sign = seconds < 0 && whole > 0 ? "-" : "";
  return `${sign}${Math.floor(whole / 3600)}:${pad(Math.floor(whole / 60) % 60)}:${pad(whole % 60)}`;
}
