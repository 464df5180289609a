// Speed of planning, as ratios within one run: against json-rules-engine on the same rule files, against the limit of
// parsing and printing, and as rules and operations grow. `npm run bench` (a minute or two; answers are asserted equal).
import { execFileSync } from "node:child_process";
import { Engine, Fact } from "json-rules-engine";
import { readerOf } from "../../src/facts/index.js";
import { compileRulebook, type CompiledRule } from "../../src/inference/index.js";
import { loadRulebook, readJob, type Job, type Rulebook } from "../../src/index.js";
import { FALSE, leavesOf, nameOfTruth } from "../../src/logic/index.js";
import { planCalibrations } from "../../src/plan-calibrations.js";
import { addOperators, topLevelOf, type OpenValue, type Pass } from "../../src/reference/engines.js";
import { layerPacks, type CheckedPack, type Rule } from "../../src/rulebook/index.js";
import { jobOfLength, TYPICAL } from "./jobs.js";
import { questionsOf, type Question } from "./subjects.js";
import { timeOf } from "./time.js";

const rulebook = loadRulebook();
const LONG = jobOfLength(40);

type Answers = readonly string[];

/** What our own conditions answer, rule by rule, those left out that are false. */
function answersOf(questions: readonly Question[]): Answers {
  return questions.map(({ all, asked }) =>
    all
      .map((rule) => ({ id: rule.id, truth: nameOfTruth(rule.condition.evaluate(asked)) }))
      .filter(({ truth }) => truth !== "false")
      .map(({ id, truth }) => `${id}=${truth}`)
      .join(),
  );
}

function engineOf(rules: readonly CompiledRule[], pass: Pass): Engine {
  const engine = new Engine([], { allowUndefinedFacts: true });
  addOperators(engine, pass);
  for (const { id, rule } of rules) {
    const { conditions }: Rule = rule;
    engine.addRule({ name: id, conditions: topLevelOf(conditions), event: { type: "fires" } });
  }
  return engine;
}

/** Facts of a question, flat, only those that the rules read. */
function factsOf(
  question: Question,
  rules: readonly CompiledRule[],
  names: Map<unknown, readonly string[]>,
): [string, OpenValue][] {
  let read = names.get(rules);
  if (read === undefined) {
    read = [
      ...new Set(rules.flatMap(({ rule }) => leavesOf((rule as Rule).conditions).map(({ fact }) => fact))),
    ];
    names.set(rules, read);
  }
  return read.map((name) => [name, { candidates: readerOf(name)(question.asked).candidates }]);
}

/** One way of using the engine: which rules it holds for a question, and how it is handed the facts. */
interface Use {
  readonly rulesFor: (question: Question) => readonly CompiledRule[];
  readonly isTuned: boolean;
}

/** As the documentation shows it: an engine with all rules of the kind, run once for each thing asked of. */
const DOCUMENTED: Use = { rulesFor: ({ all }) => all, isTuned: false };
/** As well as it can be: an engine for each key of the index, so that it sees only rules that may fire; constant facts. */
const TUNED: Use = { rulesFor: ({ offered }) => offered, isTuned: true };

async function runEngines(
  questions: readonly Question[],
  use: Use,
): Promise<{ readonly answers: Answers; readonly milliseconds: number }> {
  const engines = new Map<unknown, { readonly certain: Engine; readonly possible: Engine }>();
  const names = new Map<unknown, readonly string[]>();
  // Building the engines is not counted: a program would do it once.
  for (const question of questions) {
    const rules = use.rulesFor(question);
    if (rules.length === 0 || engines.has(rules)) continue;
    engines.set(rules, { certain: engineOf(rules, "certain"), possible: engineOf(rules, "possible") });
    factsOf(question, rules, names);
  }
  const answers: string[] = [];
  const start = performance.now();
  for (const question of questions) {
    const rules = use.rulesFor(question);
    const pair = engines.get(rules);
    if (pair === undefined) {
      answers.push("");
      continue;
    }
    const values = factsOf(question, rules, names);
    const facts = use.isTuned
      ? Object.fromEntries(values.map(([name, value]) => [name, new Fact(name, value, { cache: false })]))
      : Object.fromEntries(values);
    const possible = await pair.possible.run(facts);
    // A rule that is not even possible needs no second run.
    const certain = possible.results.length === 0 ? null : await pair.certain.run(facts);
    const surely = new Set(certain?.results.map(({ name }) => name));
    answers.push(
      possible.results
        .map(({ name }) => `${name}=${surely.has(name) ? "true" : "unknown"}`)
        .sort()
        .join(),
    );
  }
  return { answers, milliseconds: performance.now() - start };
}

/** The rulebook with nine more of every rule, all about things that no job of the benchmark has. */
function withUnrelatedRules(times: number): Rulebook {
  const packs: CheckedPack[] = rulebook.checked.map((pack) => ({
    ...pack,
    rules: pack.rules.flatMap((rule) => [
      rule,
      ...Array.from({ length: times - 1 }, (_, at) => unrelated(rule, at)),
    ]),
  }));
  return layerPacks(packs);
}

function unrelated(rule: Rule, at: number): Rule {
  const id = `${rule.id}-unrelated-${at}`;
  if (rule.subject === "stage-pair") {
    return { ...rule, id, status: "draft" };
  }
  const never =
    rule.subject === "requirement"
      ? { name: "The sensor is one that is not fitted.", fact: "sensor", operator: "equal", value: "lidar" }
      : {
          name: "The part is one that is not on the order.",
          fact: "component",
          operator: "equal",
          value: "bicycle-rack",
        };
  return { ...rule, id, conditions: { all: [never, rule.conditions] } } as Rule;
}

function startUp(): { readonly empty: number; readonly loaded: number } {
  const run = (code: string): number => {
    const figures = Array.from({ length: 9 }, () => {
      const start = performance.now();
      execFileSync(process.execPath, ["--input-type=module", "-e", code]);
      return performance.now() - start;
    });
    return Math.min(...figures);
  };
  const index = new URL("../../dist/index.js", import.meta.url).href;
  return {
    empty: run("0"),
    loaded: run(`const { loadRulebook } = await import(${JSON.stringify(index)}); loadRulebook();`),
  };
}

/** Our answers to every question, from the rules that the index offers. */
function decide(questions: readonly Question[]): number {
  let fired = 0;
  for (const { offered, asked } of questions) {
    for (const rule of offered) if (rule.condition.evaluate(asked) !== FALSE) fired += 1;
  }
  return fired;
}

function print(label: string, value: string): void {
  console.log(`${label.padEnd(84)}${value}`);
}

const ms = (value: number): string => `${value.toFixed(3)} ms`;
const times = (value: number): string => `${value.toFixed(value < 10 ? 2 : 0)} times`;

async function compare(name: string, job: Job): Promise<void> {
  const ours = timeOf(() => planCalibrations(job, { rulebook }));
  const plan = planCalibrations(job, { rulebook });
  const text = JSON.stringify(job);
  const limit = timeOf(() => {
    readJob(JSON.parse(text));
    JSON.stringify(plan);
  });
  const whole = timeOf(() => JSON.stringify(planCalibrations(JSON.parse(text) as Job, { rulebook })));
  print(`${name}: one plan`, `${ms(ours)}, ${Math.round(1000 / ours)} plans a second`);
  print(`${name}: from JSON text to JSON text`, ms(whole));
  print(`${name}: the limit (parse and check the job, print the finished plan)`, ms(limit));
  print(`${name}: how far from the limit`, times(whole / limit));
  const questions = questionsOf(job, { rulebook });
  const deciding = timeOf(() => decide(questions));
  print(`${name}: our decisions alone (${questions.length} questions)`, ms(deciding));
  const expected = answersOf(questions).map((answer) => answer.split(",").sort().join());
  for (const [label, use] of [
    ["as documented", DOCUMENTED],
    ["tuned: indexed, constant facts", TUNED],
  ] as const) {
    const engine = await runEngines(questions, use);
    engine.answers.forEach((answer, at) => {
      if (answer !== expected[at])
        throw new Error(`${label}: question ${at}: ${answer} instead of ${expected[at] ?? ""}`);
    });
    print(`${name}: json-rules-engine, ${label} (same answers)`, ms(engine.milliseconds));
    print(`${name}: our decisions are faster by`, times(engine.milliseconds / deciding));
    print(`${name}: our whole plan is faster than its decisions by`, times(engine.milliseconds / ours));
  }
}

compileRulebook(rulebook);
console.log(`${rulebook.rules.length} rules in force; Node ${process.version}`);
await compare("8 operations, 22 sensors", TYPICAL);
await compare("40 operations, 22 sensors", LONG);

const tenfold = withUnrelatedRules(10);
const plain = timeOf(() => planCalibrations(TYPICAL, { rulebook }));
const crowded = timeOf(() => planCalibrations(TYPICAL, { rulebook: tenfold }));
print(
  `${tenfold.rules.length} rules instead of ${rulebook.rules.length}: a plan takes`,
  times(crowded / plain),
);

const lengths = [10, 20, 40, 80, 160, 320];
const base = timeOf(() => planCalibrations(jobOfLength(10), { rulebook })) / 10;
for (const length of lengths) {
  const job = jobOfLength(length);
  const each = timeOf(() => planCalibrations(job, { rulebook }), 200, 5) / job.operations.length;
  print(`${job.operations.length} operations: for one operation, against 10 operations`, times(each / base));
}

const { empty, loaded } = startUp();
print("start: import the package and load the rulebook, above an empty Node", ms(loaded - empty));
