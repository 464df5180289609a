import type { Plan } from "../plan/index.js";
import { joinWords, tellSetup, type LengthUnits, type MaterialOptions } from "../report/index.js";
import type { SetupResult } from "../setup/index.js";
import { STANDING_IDS } from "../vocabulary/index.js";
import { writeChanges, writeReasons, writeRules } from "./appendix.js";
import { arithmeticAppendix } from "./arithmetic.js";
import { layCard, type Card, type CardPart, type CardSection } from "./card.js";
import { field, fields, pageSection, section } from "./form.js";
import { writeHead } from "./head.js";
import { writeHolds } from "./holds.js";
import {
  writeBasis,
  writeCautions,
  writeClaimed,
  writeImplied,
  writeNotIndicated,
  writeRemarks,
  writeUnread,
  writeWaived,
} from "./left-aside.js";
import { markup, type Markup } from "./markup.js";
import { writePage } from "./page.js";
import { writeInspections, writePreconditions, writeRecords } from "./preconditions.js";
import { writeContradictions, writeQuestions, writeWarnings } from "./questions.js";
import { writeRequirements } from "./requirements.js";
import { setupSections } from "./setup-parts.js";
import { writeSteps } from "./steps.js";

/** What a job card may tell beside the plan, and how. */
export interface CardOptions extends MaterialOptions {
  /** Where the targets stand, what was measured and decided; its drawings and tables become part of the card. */
  readonly setup?: SetupResult | undefined;
}

/**
 * Writes a plan as a job card: one HTML document without script or network, to be printed or filled in on the screen.
 * Open questions come first, then holds, what is due, what has to be true before, the set-ups, the steps, and what was
 * left aside; reasons and arithmetic stand in an appendix.
 */
export function renderHtml(plan: Plan, options: CardOptions = {}): string {
  const card = layCard(plan, options);
  const setup = selectSetup(plan, options.setup);
  const parts = [
    ...toParts(sectionsOfWork(card)),
    ...writeSetUps(setup, card.units),
    ...toParts(sectionsOfRest(card)),
    ...toParts([writeReasons(card), writeRules(card), writeChanges(card)], true),
    ...writeArithmetic(setup),
  ];
  return writePage({
    title: `Job card ${plan.reference}`,
    head: writeHead(card, parts),
    body: parts.map(({ body }) => body),
  });
}

function sectionsOfWork(card: Card): readonly CardSection[] {
  return [
    writeQuestions(card),
    writeHolds(card),
    writeContradictions(card),
    writeWarnings(card),
    ...STANDING_IDS.map((standing) => writeRequirements(card, standing)),
    writeInspections(card),
    writePreconditions(card),
  ];
}

function sectionsOfRest(card: Card): readonly CardSection[] {
  return [
    writeSteps(card),
    writeRecords(card),
    writeImplied(card),
    writeWaived(card),
    writeNotIndicated(card),
    writeClaimed(card),
    writeUnread(card),
    writeRemarks(card),
    writeCautions(card),
    writeBasis(card),
    SIGNED,
  ];
}

const SIGNED: CardSection = {
  id: "signed",
  title: "Signed",
  content: ["Technician", "Reviewer"].map(
    (who): Markup =>
      markup`<fieldset class="sign"><legend>${who}</legend>${fields(
        field("Name"),
        field("Signature"),
        field("Date and time"),
      )}</fieldset>`,
  ),
};

/** Sections that have something to say; the first may start a page of its own. */
function toParts(sections: readonly CardSection[], startsPage = false): readonly CardPart[] {
  return sections
    .filter((each) => each !== null)
    .map(({ id, title, content }, index) => ({
      id,
      title,
      body: (startsPage && index === 0 ? pageSection : section)(id, title, content),
    }));
}

/** The set-up without what the plan says already; null where it has nothing to say. */
function selectSetup(plan: Plan, setup: SetupResult | undefined): SetupResult | null {
  if (setup === undefined) return null;
  const { alignment, centreLine, floor, attitude, bay } = setup;
  const { targets, headlamps, conditions, missing, contradictions } = setup;
  const isEmpty =
    [alignment, centreLine, floor, attitude, bay].every((part) => part === null) &&
    [targets, headlamps, conditions, missing, contradictions].every((list) => list.length === 0);
  const cautions = setup.cautions.filter((caution) => !plan.cautions.includes(caution));
  return isEmpty ? null : { ...setup, cautions };
}

function writeSetUps(setup: SetupResult | null, units: LengthUnits): readonly CardPart[] {
  if (setup === null) return [];
  const bodies = setupSections(setup, { units });
  return tellSetup(setup, units).flatMap(({ id, title }, index) => {
    const body = bodies[index];
    return body === undefined ? [] : [{ id, title: joinWords(title), body }];
  });
}

function writeArithmetic(setup: SetupResult | null): readonly CardPart[] {
  if (setup === null || setup.workings.length === 0) return [];
  return [{ id: "setup-arithmetic", title: "Arithmetic", body: arithmeticAppendix(setup) }];
}
