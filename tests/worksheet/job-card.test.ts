import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  EVIDENCE,
  INSPECTIONS,
  PRECONDITIONS,
  SENSORS,
  TASKS,
  renderHtml,
  type Plan,
} from "../../src/index.js";
import { check } from "../properties.js";
import { LINES, aPlan } from "../report/a-plan.js";
import { readDemoCards } from "./demo-cards.js";
import { HOSTILE_TEXTS, withTexts } from "./hostile.js";
import { readTags, readText, squeeze } from "./read-html.js";

const DEMOS = readDemoCards();

/** Every text of a plan that its card has to tell, gathered field by field. */
function textsOf(plan: Plan): readonly string[] {
  return [
    plan.reference,
    ...[plan.vehicle.make, plan.vehicle.model, plan.vehicle.vin].filter((each) => each !== null),
    ...plan.vehicle.modelYears.map(String),
    ...plan.questions.flatMap(({ id, ask, about, answers }) => [id, ask, about, ...answers]),
    ...plan.requirements.flatMap((each) => [
      SENSORS[each.sensor].label,
      TASKS[each.task].label,
      ...each.evidence.map((id) => EVIDENCE[id].label),
      ...(each.inspection ?? []).map(({ id }) => INSPECTIONS[id].lookAt),
      ...each.holds.flatMap(({ says, clearedBy, rule }) => [says, clearedBy, rule]),
      ...(each.procedure?.targets ?? []).flatMap(({ name, distance }) => [name, `${distance.nominal}`]),
      ...(each.procedure === null
        ? []
        : [each.procedure.pack, each.procedure.section, ...each.procedure.afterwards]),
    ]),
    ...[...plan.requirements, ...plan.waived].flatMap(({ because }) =>
      because.flatMap(({ rule, disturbanceRules, says, implied }) => [
        rule,
        ...disturbanceRules,
        ...says,
        ...implied,
      ]),
    ),
    ...plan.waived.flatMap(({ by, waives }) => [by.rule, by.says, by.source.section ?? "", ...waives]),
    ...plan.preconditions.flatMap(({ id, statement, notes, limits }) => [
      PRECONDITIONS[id].label,
      statement,
      ...notes.map(({ note }) => note),
      ...limits.flatMap(({ limit, note }) => [
        String(limit.sense === "between" ? Math.abs(limit.high ?? 0) : limit.value),
        note ?? "",
      ]),
    ]),
    ...plan.steps.map(({ says }) => says),
    ...plan.impliedOperations.flatMap(({ id, rules }) => [id, ...rules]),
    ...plan.notIndicated.flatMap(({ sensor, considered, wouldChange }) => [
      SENSORS[sensor].label,
      ...considered,
      ...wouldChange,
    ]),
    ...plan.claimed.flatMap(({ operation, text }) => [operation, text ?? ""]),
    ...plan.unread.flatMap(({ operation, text, why }) => [operation, text ?? "", why]),
    ...plan.contradictions.flatMap(({ says, about }) => [says, ...about]),
    ...plan.warnings.flatMap(({ says, about }) => [says, about]),
    ...plan.rulebook.packs.flatMap(({ id, version, digest }) => [id, version, digest]),
    ...plan.procedures.flatMap(({ id, version, digest, cite, issued }) => [
      id,
      version,
      digest,
      cite,
      issued,
    ]),
    ...plan.notes,
    ...plan.cautions,
  ];
}

/** The part of the card under one of its headings. */
function partOf(html: string, id: string): string {
  const from = html.indexOf(`aria-labelledby="${id}"><h2`);
  if (from < 0) throw new Error(`no part ${id}`);
  const next = html.indexOf('"><h2 id=', from + id.length + 20);
  return `<body>${html.slice(html.indexOf("<h2", from), next < 0 ? undefined : html.lastIndexOf("<section", next))}`;
}

const countBoxes = (html: string): number => html.split('type="checkbox"').length - 1;

describe.each(DEMOS)("the job card of $name", ({ job, plan, setup }) => {
  const html = renderHtml(plan, { operations: job.operations, findings: job.findings, setup });
  const tags = readTags(html);
  const starts = tags.filter(({ isEnd }) => !isEnd);

  it("tells all that the plan says", () => {
    const text = squeeze(readText(html)).toLowerCase();
    const missing = textsOf(plan).filter((each) => !text.includes(squeeze(each).toLowerCase()));
    expect(missing).toEqual([]);
  });

  it("has a box for every step, in the order of the plan", () => {
    const steps = partOf(html, "steps");
    expect(countBoxes(steps)).toBe(plan.steps.length);
    const text = squeeze(readText(steps));
    const places = plan.steps.map(({ says }) => text.indexOf(squeeze(says)));
    expect(places).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it("has a box and a line to write on for every precondition", () => {
    const part = partOf(html, "preconditions");
    expect(countBoxes(part)).toBe(plan.preconditions.length);
    expect(part.split('type="text"').length - 1).toBe(plan.preconditions.length);
  });

  it("has, for every requirement, a box for each record and lines for what was done", () => {
    const parts = ["required", "presumed", "inspect-first", "undetermined"]
      .filter((standing) => plan.requirements.some((each) => each.standing === standing))
      .map((standing) => partOf(html, standing))
      .join("");
    const records = plan.requirements.flatMap(({ evidence }) => evidence);
    expect(countBoxes(parts)).toBe(records.length);
    for (const label of ["Started", "Finished", "By whom", "Result", "Fault codes left"])
      expect(parts.split(`<span>${label}</span>`).length - 1, label).toBe(plan.requirements.length);
  });

  it("uses every id once, and leads every link and label to one", () => {
    const ids = starts.flatMap(({ attributes }) => attributes.get("id") ?? []);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    const targets = starts.flatMap(({ attributes }) => [
      ...(attributes.get("href")?.replace("#", "").split(" ") ?? []),
      ...(attributes.get("aria-labelledby")?.split(" ") ?? []),
      ...(attributes.get("for")?.split(" ") ?? []),
    ]);
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
  });

  it("names every box and line to write on", () => {
    const nameless = html
      .split("<input")
      .slice(1)
      .map((after, index) => ({
        own: /^[^>]*aria-label="[^"]+"/.test(after),
        before: html.split("<input")[index]!,
        after,
      }))
      .filter(({ own, before, after }) => {
        const isInLabel = before.lastIndexOf("<label") > before.lastIndexOf("</label>");
        const label = `${before.slice(before.lastIndexOf("<label"))}${after.slice(0, after.indexOf("</label>"))}`;
        return !own && !(isInLabel && /<span>.+<\/span>/.test(label));
      });
    expect(nameless).toEqual([]);
  });

  it("closes every element that it opens", () => {
    const open: string[] = [];
    for (const { name, isEnd, isAlone } of tags) {
      if (isAlone) continue;
      if (isEnd) expect(open.pop()).toBe(name);
      else open.push(name);
    }
    expect(open).toEqual([]);
  });

  it("goes down by one level of heading at a time", () => {
    const levels = starts
      .filter(({ name }) => /^h[1-6]$/.test(name))
      .map(({ name }) => Number(name.slice(1)));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level, index) => level > (levels[index - 1] ?? 0) + 1)).toEqual([]);
  });

  it("holds no script and asks for nothing from outside", () => {
    expect(starts.filter(({ name }) => ["script", "link", "iframe", "img", "object"].includes(name))).toEqual(
      [],
    );
    const asked = starts.flatMap(({ attributes }) =>
      [...attributes].filter(
        ([key, value]) => key.startsWith("on") || key === "src" || (key === "href" && !value.startsWith("#")),
      ),
    );
    expect(asked).toEqual([]);
    expect(html).not.toMatch(/url\(\s*["']?(?!#)/);
    expect(html).not.toContain("@import");
  });

  it("comes out the same every time", () => {
    expect(renderHtml(plan, { operations: job.operations, findings: job.findings, setup })).toBe(html);
  });
});

describe("the order of the card", () => {
  const html = renderHtml(aPlan(), { operations: LINES });

  it("is: questions, holds, oddities, what is due, what comes before, steps, what was left aside, appendix", () => {
    const ids = [...html.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids).toEqual([
      ...["questions", "holds", "contradictions", "warnings"],
      ...["required", "inspect-first", "inspections", "preconditions", "steps", "records"],
      ...["implied", "waived", "not-indicated", "claimed", "unread", "remarks", "cautions", "basis"],
      ...["signed", "reasons", "rules", "changes"],
    ]);
  });

  it("is that of the list of parts in its head", () => {
    const nav = html.slice(html.indexOf("<nav"), html.indexOf("</nav>"));
    const links = [...nav.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(links).toEqual([...html.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id));
  });

  it("begins the appendix on a page of its own, and nothing else", () => {
    expect([...html.matchAll(/class="new-page" aria-labelledby="([^"]+)"/g)].map(([, id]) => id)).toEqual([
      "reasons",
    ]);
  });
});

describe("what the card says of", () => {
  const plan = aPlan();
  const html = renderHtml(plan, { operations: LINES });
  const tell = (id: string): string => readText(partOf(html, id));

  it("the order: vehicle, outcome, what is due, what is on hold, what was made up", () => {
    const head = readText(`<body>${html.slice(html.indexOf("<header>"), html.indexOf("</header>"))}`);
    expect(head).toContain("Norrvik Skare, model year 2021 or 2022");
    expect(head).toContain("VIN not stated");
    expect(head).toContain("Needs answers: 1 question open.");
    expect(head).toContain("1 required, 1 to be inspected first.");
    expect(head).toContain("On hold calibration of forward camera");
    expect(head).toContain("INVENTED for demonstration: the procedures skare 2.0.0.");
  });

  it("an invented pack that is not for this vehicle: no notice, but INVENTED where it is listed", () => {
    const aside = {
      ...plan,
      procedures: plan.procedures.map((pack) => ({ ...pack, applies: "no" as const })),
    };
    const card = renderHtml(aside);
    expect(card.split("INVENTED")).toHaveLength(2);
    expect(readText(partOf(card, "basis"))).toContain("INVENTED for demonstration: Norrvik manual 7");
  });

  it("a question: a box for each answer, what it settles, what it could add, where it belongs", () => {
    expect(countBoxes(partOf(html, "questions"))).toBe(2);
    expect(tell("questions")).toContain("Settles calibration of front radar");
    expect(tell("questions")).toContain("Could add work on rear corner radar (left, right)");
    expect(tell("questions")).toContain("Belongs at /vehicle/equipment");
    expect(tell("questions")).toContain("At least one of these is fitted: front radar, lidar.");
  });

  it("a question without a closed set of answers: a line to write on", () => {
    const open = { ...plan, questions: plan.questions.map((each) => ({ ...each, answers: [] })) };
    const part = partOf(renderHtml(open), "questions");
    expect(countBoxes(part)).toBe(0);
    expect(part).toContain("<span>Answer</span><input");
  });

  it("a hold: what it keeps back, what clears it, and a box for that", () => {
    expect(tell("holds")).toContain("H1 The glass can still move.");
    expect(tell("holds")).toContain("Holds R1 Forward camera: calibration");
    expect(tell("holds")).toContain("Cleared by Wait for the cure.");
    expect(tell("holds")).toContain("Brought by line L1, remove and replace windshield uncured-holds");
    expect(countBoxes(partOf(html, "holds"))).toBe(1);
    expect(tell("required")).toContain("HOLD H1: not to be begun before it is cleared.");
  });

  it("a requirement: method, target, floor, drive, and the shortest chain behind it", () => {
    const text = tell("required");
    expect(text).toContain("Method Static (Norrvik manual 7, 7.2)");
    expect(text).toContain(
      "Camera board: 3000 ±5 mm from the front axle along the thrust line, 120 ±3 mm right of it, its centre 1350 ±2 mm above the floor, yaw 0 ±0.2°",
    );
    expect(text).toContain("6000 mm long, 3500 mm wide, 2200 mm high, from the front bumper");
    expect(text).toContain("60 to 100 km/h; 10 min; 12 km; roads: motorway, trunk road");
    expect(text).toContain("Line L1, remove and replace windshield (“Rpl W/S”)");
    expect(text).toContain("The new glass bends light.");
    expect(text).toContain("1 more reason in the appendix.");
    expect(tell("reasons")).toContain("R1 Forward camera: calibration Line L1");
    expect(tell("reasons")).toContain("camera-off, camera-off-asks");
  });

  it("a limit: its value, section and note, and the unit of what is to be measured", () => {
    expect(tell("preconditions")).toContain("Sections are those of Norrvik manual 7, issued 2026-01-10.");
    expect(tell("preconditions")).toMatch(/At most 3 mm\/m .*\(section 7\.2\)\. Under the targets too\./);
    expect(partOf(html, "preconditions")).toMatch(/aria-label="[^"]+: measured or found, mm\/m"/);
  });

  it("a step: its mark, what it comes after, its condition", () => {
    const text = tell("steps");
    expect(text).toContain("Forward camera: calibration. R1 After 1.");
    expect(text).toContain("Front radar: calibration. R2 After 1. Condition: The inspection fails.");
  });

  it("two places of a sensor: once what they share, and what is to be filled in for each", () => {
    const [camera, radar] = plan.requirements;
    const twins = (["left", "right"] as const).map((position) => ({
      ...radar!,
      id: `rear-corner-radar:${position}/calibration`,
      sensor: "rear-corner-radar" as const,
      position,
    }));
    const part = partOf(renderHtml({ ...plan, requirements: [camera!, ...twins] }), "inspect-first");
    expect(part.split("<article")).toHaveLength(2);
    expect(readText(part)).toContain("R2, R3 Rear corner radar (left, right): calibration");
    expect(part.split("<legend>")).toHaveLength(3);
    expect(part.split("<span>Started</span>")).toHaveLength(3);
  });
});

describe("inches", () => {
  // 3000 / 25.4 = 118.110…, 5 / 25.4 = 0.19685…, 1350 / 25.4 = 53.1496…, 6000 / 25.4 = 236.220…
  const html = renderHtml(aPlan(), { operations: LINES, units: "in" });

  it("stand before the stated millimetres, for targets and floor", () => {
    const text = readText(html);
    expect(text).toContain("118.11 ±0.197 in (3000 ±5 mm) from the front axle");
    expect(text).toContain("53.15 ±0.079 in (1350 ±2 mm) above the floor");
    expect(text).toContain("236.22 in (6000 mm) long");
  });

  it("stand before a limit in millimetres, and not before one in another unit", () => {
    const plan = aPlan();
    const [first] = plan.preconditions;
    const limit = { value: 10, unit: "mm", sense: "between" as const, low: -10, high: 10 };
    const limits = first!.limits.map((each) => ({ ...each, limit }));
    const card = renderHtml({ ...plan, preconditions: [{ ...first!, limit, limits }] }, { units: "in" });
    // 10 / 25.4 = 0.3937…
    expect(readText(partOf(card, "preconditions"))).toContain("Within ±0.394 in (within ±10 mm)");
    expect(card).toContain('measured or found, in"');
    expect(readText(partOf(html, "preconditions"))).toContain("At most 3 mm/m");
  });
});

describe("a plan in which nothing is due", () => {
  const plan: Plan = {
    ...aPlan(),
    ...{
      requirements: [],
      waived: [],
      notIndicated: [],
      impliedOperations: [],
      preconditions: [],
      steps: [],
    },
    ...{ questions: [], atLeastOneOf: [], claimed: [], unread: [], contradictions: [], warnings: [] },
    ...{ notes: [], outcome: "complete" },
  };

  it("has a card with head, cautions, digests and signatures, and no empty parts", () => {
    const html = renderHtml(plan);
    expect([...html.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id)).toEqual([
      "cautions",
      "basis",
      "signed",
    ]);
    expect(readText(html)).toContain("Nothing, as far as rules and stated facts go.");
  });
});

describe("text from outside", () => {
  const tagNames = (html: string): readonly string[] =>
    readTags(html).map(
      ({ name, isEnd, attributes }) => `${isEnd ? "/" : ""}${name} ${[...attributes.keys()].join()}`,
    );
  const linesWith = (text: string) => LINES.map((line) => ({ ...line, text }));
  const render = (plan: Plan, text: string): string =>
    renderHtml(withTexts(plan, text), { operations: linesWith(text) });

  it.each(Object.entries(HOSTILE_TEXTS))("stays text: %s", (_, text) => {
    for (const plan of [aPlan(), ...DEMOS.map((demo) => demo.plan)])
      expect(tagNames(render(plan, text))).toEqual(tagNames(render(plan, "x")));
  });

  it("stays text, whatever it is", () => {
    const expected = tagNames(render(aPlan(), "x"));
    const fragments = fc.constantFrom(
      "<",
      ">",
      '"',
      "'",
      "&",
      "</",
      "<!--",
      "]]>",
      "script",
      "on=",
      "\u0000",
      "x",
    );
    const text = fc.oneof(
      fc.string({ unit: "binary", minLength: 1 }),
      fc.array(fragments, { minLength: 1 }).map((all) => all.join("")),
    );
    check(
      fc.property(text, (hostile) => {
        // A text of blanks alone is left out, and so its quotation marks are.
        expect(tagNames(render(aPlan(), `${hostile}x`))).toEqual(expected);
      }),
      150,
    );
  });

  it("from right to left has no bearing on the numbers beside it", () => {
    const hebrew = HOSTILE_TEXTS["Hebrew"]!;
    const html = render(aPlan(), hebrew);
    expect(html).toContain(`<bdi>${hebrew}</bdi>: 3000 ±5 mm from the front axle`);
    expect(html).toContain(`</span> <bdi>${hebrew}.</bdi></h3>`);
  });

  it("is shown as it was written", () => {
    const text = readText(render(aPlan(), HOSTILE_TEXTS["markup"]!));
    expect(text).toContain(`Order ${HOSTILE_TEXTS["markup"]}`);
  });
});
