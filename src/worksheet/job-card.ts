import type { Plan } from "../plan/index.js";
import type { MaterialOptions } from "../report/index.js";
import { STANDING_IDS } from "../vocabulary/index.js";
import { writeChanges, writeReasons, writeRules } from "./appendix.js";
import { layCard, type Card, type CardSection } from "./card.js";
import { field, fields, section } from "./form.js";
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
import { writeSteps } from "./steps.js";

/** What a job card may tell beside the plan, and how. */
export type CardOptions = MaterialOptions;

/**
 * Writes a plan as a job card: one HTML document without script or network, to be printed or filled in on the screen.
 * Open questions come first, then holds, what is due, what has to be true before, the steps, and what was left aside.
 */
export function renderHtml(plan: Plan, options: CardOptions = {}): string {
  const card = layCard(plan, options);
  const sections = writeSections(card);
  const firstAppendix = sections[sections.indexOf(SIGNED) + 1]?.id;
  return writePage({
    title: `Job card ${plan.reference}`,
    head: writeHead(card, sections),
    body: sections.map(({ id, title, content }) => section(id, title, content, id === firstAppendix)),
  });
}

type Section = NonNullable<CardSection>;

function writeSections(card: Card): readonly Section[] {
  const sections = [
    writeQuestions(card),
    writeHolds(card),
    writeContradictions(card),
    writeWarnings(card),
    ...STANDING_IDS.map((standing) => writeRequirements(card, standing)),
    writeInspections(card),
    writePreconditions(card),
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
    writeReasons(card),
    writeRules(card),
    writeChanges(card),
  ];
  return sections.filter((each) => each !== null);
}

const SIGNED: Section = {
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
