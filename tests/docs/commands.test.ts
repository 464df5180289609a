import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  loadProcedures,
  loadRulebook,
  planCalibrations,
  readJob,
  renderText,
  type Job,
} from "../../src/index.js";
import { readDriveLog } from "../../src/drive/index.js";
import { checkPack } from "../../src/rulebook/index.js";
import { runCli } from "../cli/run-cli.js";
import { DOCUMENTS, ROOT, documentAt, type Fence } from "./documents.js";

const manifest = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as {
  readonly scripts: Readonly<Record<string, string>>;
};

/** All fences of a language, with the page and line that they stand on. */
function fencesOf(language: string): readonly (readonly [place: string, fence: Fence])[] {
  return DOCUMENTS.flatMap(({ path, fences }) =>
    fences
      .filter((fence) => fence.language === language)
      .map((fence) => [`${path}:${fence.line}`, fence] as const),
  );
}

describe("README.md", () => {
  it("gives exactly two commands between its marks: one that shows the job, one that tests it", () => {
    const marked = /<!-- commands -->\n([\s\S]*?)\n<!-- \/commands -->/.exec(
      documentAt("README.md").text,
    )?.[1];
    expect(marked?.trim()).toBe("```sh\nnpm ci && npm run demo\nsh .ci/browser.sh && npm test\n```");
  });
});

describe("npm scripts that the pages name", () => {
  const named = DOCUMENTS.flatMap(({ path, text }) =>
    [...text.matchAll(/npm run (?:--silent )?([\w:-]+)/g)].map(([, name]) => [path, name ?? ""] as const),
  );

  it("exist", () => {
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter(([, name]) => manifest.scripts[name] === undefined)).toEqual([]);
  });

  it("are all explained in DEVELOPERS.md", () => {
    const { text } = documentAt("DEVELOPERS.md");
    // What npm runs by itself is not called by anybody.
    const byNpm = ["prepare", "prepack", "test"];
    const missing = Object.keys(manifest.scripts).filter(
      (name) => !byNpm.includes(name) && !text.includes(`npm run ${name}\``),
    );
    expect(missing).toEqual([]);
  });
});

/** The command lines of a block in the order written: the words, the file given on standard input, the status said. */
function commandsIn(text: string): readonly {
  readonly line: string;
  readonly argv: readonly string[];
  readonly input: string | null;
  readonly status: number;
}[] {
  return text
    .split("\n")
    .filter((line) => /^(npx )?repair-calibration /.test(line))
    .map((line) => {
      const [command = "", comment = ""] = line.split(/\s+# /);
      // What a shell would write to a file is looked at here and thrown away.
      const [words = "", input = null] = command.replace(/\s+> \S+$/, "").split(/\s+< /);
      const argv = words.replace(/^(npx )?repair-calibration /, "").split(/\s+/);
      return { line, argv, input, status: Number(/exit status (\d+)/.exec(comment)?.[1] ?? 0) };
    });
}

const COMMANDS = fencesOf("sh").flatMap(([place, { text }]) =>
  commandsIn(text).map((command) => [`${place} ${command.line}`, command] as const),
);

describe("command lines that the pages show", () => {
  it("show every command", () => {
    const shown = new Set(
      COMMANDS.map(([, { argv }]) => argv.slice(0, argv[0] === "rules" ? 2 : 1).join(" ")),
    );
    expect([...shown].sort()).toEqual([
      "drive",
      "explain",
      "plan",
      "rules check",
      "rules diff",
      "rules list",
      "rules show",
      "setup",
    ]);
  });

  it.each(COMMANDS)("%s", { timeout: 60_000 }, async (_name, { argv, input, status }) => {
    const around = input === null ? {} : { input: readFileSync(join(ROOT, input)) };
    const outcome = await runCli(argv, around);
    expect(outcome.err === "", outcome.err).toBe(status === 0);
    expect(outcome.status).toBe(status);
  });
});

describe("documents that the pages show", () => {
  const noted = fencesOf("json").map(([place, fence]) => [place, fence.note, fence.text] as const);

  it("include a job, a rule, a procedure pack and a drive log", () => {
    expect(new Set(noted.map(([, note]) => note))).toEqual(new Set(["job", "rule", "procedures", "drive"]));
  });

  it.each(noted)("%s (%s) is accepted", (_place, note, text) => {
    const content: unknown = JSON.parse(text);
    if (note === "job") expect(readJob(content).job).toEqual(content);
    if (note === "drive") expect(readDriveLog(content).samples.length).toBeGreaterThan(1);
    if (note === "procedures") expect(loadProcedures(content).pack).toEqual(content);
    if (note === "rule") {
      const { id } = content as { readonly id: string };
      const pack = checkPack({
        head: JSON.parse(readFileSync(join(ROOT, "rules/common-practice/pack.json"), "utf8")) as unknown,
        sources: JSON.parse(
          readFileSync(join(ROOT, "rules/common-practice/sources.json"), "utf8"),
        ) as unknown,
        rules: [{ file: `${id}.json`, content }],
      });
      expect(pack.rules.map((rule) => rule.id)).toEqual([id]);
    }
  });
});

describe("excerpts of printed plans", () => {
  const excerpts = fencesOf("text").flatMap(([place, { note, text }]) => {
    const [, job = "", packs = ""] = /^plan of (\S+?)(?: with (.+))?$/.exec(note) ?? [];
    return job === "" ? [] : [[place, job, packs.split(" ").filter((each) => each !== ""), text] as const];
  });

  it("are there", () => {
    expect(excerpts.length).toBeGreaterThan(0);
  });

  it.each(excerpts)(
    "%s stands in the plan of %s, part for part and in order",
    (_place, path, packs, text) => {
      expect(existsSync(join(ROOT, path))).toBe(true);
      const job = JSON.parse(readFileSync(join(ROOT, path), "utf8")) as Job;
      const procedures = packs.map((pack) =>
        loadProcedures(JSON.parse(readFileSync(join(ROOT, pack), "utf8")) as unknown),
      );
      const plan = planCalibrations(job, { rulebook: loadRulebook(), procedures });
      let rest = renderText(plan, { operations: job.operations });
      for (const part of text.split(/^ *…\n/m)) {
        const at = rest.indexOf(part.trimEnd());
        expect(at, `not there, or not in this order:\n${part}`).toBeGreaterThanOrEqual(0);
        rest = rest.slice(at + part.length);
      }
    },
  );
});
