import { existsSync } from "node:fs";
import type { Command } from "commander";
import { InputError, nearestOf } from "../errors.js";
import {
  COMMON_PRACTICE,
  STRATA,
  comparePacks,
  comparePlans,
  loadRulebook,
  planCalibrations,
  renderRule,
  renderRuleList,
  type CheckedPack,
  type Job,
  type LoadedRule,
  type Plan,
  type Rulebook,
} from "../index.js";
import { argument, command, listOption, pageOf, wordOption, type Context } from "./command.js";
import { assemble, assembleRulebook, readPack, readProcedures, withExamples } from "./packs.js";
import { ofDocument, rulesOption } from "./documents.js";
import { createReader, nameOfInput, type Reader } from "./read-input.js";

/** `rules`: look at rules, check them, compare them. */
export function rulesCommand(context: Context): Command {
  return command(
    "rules",
    "List, show, check and compare rules",
    "Look at the rules, check a pack of them, or compare two packs.",
    [
      "rules list --stratum requirements",
      "rules show windshield-replaced-renews-optical-path",
      "rules check my-rules/",
      "rules diff bundled my-rules/ --jobs job.json",
    ],
  )
    .helpCommand(false)
    .addCommand(listCommand(context))
    .addCommand(showCommand(context))
    .addCommand(checkCommand(context))
    .addCommand(diffCommand(context));
}

const formatOption = () =>
  wordOption("--format <FORMAT>", "Form of the result", ["text", "json"]).default("text");

interface ListFlags {
  readonly rules: readonly string[];
  readonly stratum?: string;
  readonly format: "text" | "json";
}

function listCommand({ terminal }: Context): Command {
  return command("list", "List the rules", "List the rules: id, stratum, title and kind of source.", [
    "rules list",
    "rules list --stratum holds",
    "rules list --format json",
  ])
    .addOption(rulesOption())
    .addOption(wordOption("--stratum <STRATUM>", "Only the rules of one stratum", STRATA))
    .addOption(formatOption())
    .action((flags: ListFlags) => {
      const rules = allRules(assembleRulebook(flags.rules)).filter(
        ({ rule }) => flags.stratum === undefined || rule.stratum === flags.stratum,
      );
      if (flags.format === "text") {
        const text = renderRuleList(rules, pageOf(terminal));
        terminal.writeOut(text === "" ? "There is no such rule.\n" : text);
        return;
      }
      const list = rules.map(({ rule, source, pack }) => ({
        id: rule.id,
        stratum: rule.stratum,
        title: rule.title,
        source: source.kind,
        status: rule.status,
        pack,
      }));
      terminal.writeOut(`${JSON.stringify(list, null, 2)}\n`);
    });
}

/** Every rule of a rulebook by id, drafts and withdrawn ones too. */
function allRules(rulebook: Rulebook): readonly LoadedRule[] {
  return [...rulebook.byId.values()].sort((a, b) => (a.rule.id < b.rule.id ? -1 : 1));
}

interface ShowFlags {
  readonly rules: readonly string[];
  readonly format: "text" | "json";
}

function showCommand({ terminal }: Context): Command {
  return command(
    "show",
    "Show one rule in words",
    "Show all of one rule in words: mechanism, conditions, conclusion, source, limits, examples.",
    ["rules show windshield-replaced-renews-optical-path", "rules show my-own-rule --rules my-rules/"],
  )
    .addArgument(argument("<ID>", "The id of the rule"))
    .addOption(rulesOption())
    .addOption(formatOption())
    .action((id: string, flags: ShowFlags) => {
      const rulebook = assembleRulebook(flags.rules);
      const found = rulebook.byId.get(id);
      if (found === undefined) refuseUnknownRule(id, [...rulebook.byId.keys()]);
      const loaded = withExamples(found);
      terminal.writeOut(
        flags.format === "json"
          ? `${JSON.stringify({ ...loaded.rule, pack: loaded.pack, citation: loaded.source }, null, 2)}\n`
          : renderRule(loaded, pageOf(terminal)),
      );
    });
}

function refuseUnknownRule(id: string, ids: readonly string[]): never {
  const nearest = nearestOf(id, ids);
  throw new InputError("input", [
    {
      code: "unknown-id",
      pointer: "",
      message: `there is no rule ${JSON.stringify(id)}`,
      expected: "an id that rules list shows",
      ...(nearest === undefined ? {} : { nearest }),
    },
  ]);
}

function checkCommand({ terminal }: Context): Command {
  return command(
    "check",
    "Check a pack of rules",
    "Check a pack of rules wholly, the examples of every rule included.",
    ["rules check my-rules/"],
  )
    .addArgument(argument("<DIR>", "The folder of the pack"))
    .action((folder: string) => {
      const pack = readPack(folder);
      // Layered over the bundled rules, because a pack may name rules of theirs.
      assemble([pack]);
      terminal.writeOut(writeCounts(pack));
    });
}

function writeCounts(pack: CheckedPack): string {
  const { head, rules, digest } = pack;
  const counts = STRATA.flatMap((stratum) => {
    const number = rules.filter((rule) => rule.stratum === stratum).length;
    return number === 0 ? [] : [`${String(number).padStart(6)}  ${stratum}`];
  });
  const resting = rules.filter(({ status }) => status === "draft" || status === "withdrawn").length;
  return [
    `${head.id} ${head.version}: nothing to object to`,
    digest,
    ...counts,
    `${String(rules.length).padStart(6)}  in all${resting === 0 ? "" : `, of which ${resting} draft or withdrawn`}`,
    "",
  ].join("\n");
}

interface DiffFlags {
  readonly jobs: readonly string[];
  readonly procedures: readonly string[];
  readonly format: "text" | "json";
}

/** A job with what changed in its plan. */
interface JobChange {
  readonly file: string;
  readonly reference: string;
  readonly says: readonly string[];
}

function diffCommand({ terminal }: Context): Command {
  return command(
    "diff",
    "Compare two packs of rules",
    "Compare two packs of rules, and say which plans change between them.",
    ["rules diff old-rules/ new-rules/", "rules diff bundled my-rules/ --jobs job-1.json job-2.json"],
  )
    .addArgument(argument("<A>", "The folder of the first pack, or the word bundled"))
    .addArgument(argument("<B>", "The folder of the second pack, or the word bundled"))
    .addOption(listOption("--jobs <FILE...>", "Work orders whose plans are to be compared under both packs"))
    .addOption(listOption("--procedures <FILE...>", "Procedure packs that the plans are made with"))
    .addOption(formatOption())
    .action(async (first: string, second: string, flags: DiffFlags) => {
      const reader = createReader(terminal, [...flags.jobs, ...flags.procedures]);
      const before = readPackOrBundled(first);
      const after = readPackOrBundled(second);
      const changes = comparePacks(before, after);
      const jobs = await compareJobs(before, after, flags, reader);
      if (flags.format === "json") {
        const result = { ...changes, ...(flags.jobs.length === 0 ? {} : { jobs }) };
        terminal.writeOut(`${JSON.stringify(result, null, 2)}\n`);
        return;
      }
      const list = (title: string, entries: readonly string[]): readonly string[] =>
        entries.length === 0 ? [] : [`${title} (${entries.length})`, ...entries.map((each) => `  ${each}`)];
      const { added, removed, changed } = changes;
      const lines = [
        ...list("Added", added),
        ...list("Removed", removed),
        ...(changed.length === 0 ? [] : [`Changed (${changed.length})`]),
        ...changed.flatMap(({ id, says }) => [`  ${id}`, ...says.map((each) => `    - ${each}`)]),
      ];
      terminal.writeOut(
        [
          `${nameOfPack(before)} -> ${nameOfPack(after)}`,
          ...(lines.length === 0 ? ["No rule differs."] : lines),
          ...writeJobs(jobs),
          "",
        ].join("\n"),
      );
    });
}

function nameOfPack({ head }: CheckedPack): string {
  return `${head.id} ${head.version}`;
}

function readPackOrBundled(name: string): CheckedPack {
  return name === "bundled" && !existsSync(name) ? COMMON_PRACTICE : readPack(name);
}

async function compareJobs(
  before: CheckedPack,
  after: CheckedPack,
  flags: DiffFlags,
  reader: Reader,
): Promise<readonly JobChange[]> {
  if (flags.jobs.length === 0) return [];
  const [old, now] = [rulebookOf(before), rulebookOf(after)];
  const procedures = await readProcedures(flags.procedures, reader);
  const changes: JobChange[] = [];
  for (const path of flags.jobs) {
    const job = (await reader.readDocument(path, "input")) as Job;
    const planWith = (rulebook: Rulebook): Plan => {
      try {
        return planCalibrations(job, { rulebook, procedures });
      } catch (error) {
        throw ofDocument(error, path, reader);
      }
    };
    const plan = planWith(now);
    changes.push({
      file: nameOfInput(path),
      reference: plan.reference,
      says: comparePlans(planWith(old), plan),
    });
  }
  return changes;
}

function rulebookOf(pack: CheckedPack): Rulebook {
  return pack === COMMON_PRACTICE ? loadRulebook() : assemble([pack]);
}

function writeJobs(jobs: readonly JobChange[]): readonly string[] {
  if (jobs.length === 0) return [];
  const differing = jobs.filter(({ says }) => says.length > 0);
  return [
    `Plans that change: ${differing.length} of ${jobs.length}`,
    ...differing.flatMap(({ file, reference, says }) => [
      `  ${reference} (${file})`,
      ...says.map((each) => `    - ${each}`),
    ]),
  ];
}
