import { describe, expect, it } from "vitest";
import {
  LABOUR_OPERATIONS,
  LABOUR_TYPES,
  PART_TYPES,
  actionOfLabourCode,
} from "../../src/intake/labour-codes.js";

// The codes of the estimate exchange standard (CIECA EMS and BMS). The document of the standard was not read. Lists:
// published, second-hand (classes that an open project generated from the BMS schema: pstephenmurphy/cieca, commit
// 28ac691, LaborOperationEnum, LaborTypeEnum, PartTypeEnum). Meanings: second-hand, the names that its developer gave;
// those marked "two" are read alike by an open parser of EMS files that was tried on a real export. Which of our actions
// a meaning is: derived.

/** Code, what has to be among the words of its meaning, what is done, and who says so. */
const OPERATIONS: readonly (readonly [string, RegExp, readonly string[], "one" | "two"])[] = [
  ["OP2", /install/, ["remove-install"], "two"],
  ["OP4", /alignment/, ["adjust"], "two"],
  ["OP5", /overhaul/, ["overhaul"], "one"],
  ["OP6", /refinish/, ["refinish"], "one"],
  ["OP7", /inspect/, ["inspect"], "one"],
  ["OP9", /repair/, ["repair"], "two"],
  ["OP10", /partial repair/, ["repair"], "one"],
  ["OP11", /replace/, ["replace"], "two"],
  ["OP15", /blend/, ["blend"], "two"],
  ["OP20", /reinstall/, ["remove-install"], "one"],
  ["OP21", /remove and repair/, ["remove-install", "repair"], "one"],
  ["OP25", /two-tone/, ["refinish"], "one"],
  ["OP26", /paintless/, ["paintless-repair"], "one"],
];

/** Codes that leave two actions open. */
const OPEN: readonly (readonly [string, RegExp, readonly string[]])[] = [
  ["OP1", /refinish or repair/, ["repair", "refinish"]],
  ["OP8", /check or adjust/, ["adjust", "inspect"]],
  ["OP12", /partial/, ["replace", "section"]],
  ["OP22", /repair first/, ["replace", "repair"]],
];

/** Codes that say nothing of what is done: sublet is a way of buying, an additional cost can be any. */
const TEXT = ["OP0", "OP3", "OP13", "OP14", "OP16", "OP23", "OP24"];

/** Damage from before, and money in place of a repair: nobody touches the part because of these. */
const NO_WORK: readonly (readonly [string, RegExp])[] = [
  ["OP17", /related prior damage/],
  ["OP18", /appearance allowance/],
  ["OP19", /unrelated prior damage/],
];

describe("the operation codes", () => {
  it("are OP0 to OP26, as in the schema", () => {
    const expected = Array.from({ length: 27 }, (_, number) => `OP${number}`);
    expect(Object.keys(LABOUR_OPERATIONS)).toEqual(expected);
  });

  it("are all spoken of below", () => {
    const below = [...OPERATIONS.map(([code]) => code), ...OPEN.map(([code]) => code), ...TEXT];
    const spoken = [...below, ...NO_WORK.map(([code]) => code)];
    expect(spoken.sort()).toEqual(Object.keys(LABOUR_OPERATIONS).sort());
  });

  it.each(OPERATIONS)("%s, whose meaning has %s, is work: %j", (code, words, actions, sources) => {
    const read = actionOfLabourCode(code);
    expect(read).toMatchObject({
      standing: "work",
      actions,
      support: `${sources}-source${sources === "two" ? "s" : ""}`,
    });
    expect(read?.meaning).toMatch(words);
  });

  it.each(OPEN)("%s, whose meaning has %s, leaves open: %j", (code, words, actions) => {
    const read = actionOfLabourCode(code);
    expect(read).toMatchObject({ standing: "one-of", actions });
    expect(read?.meaning).toMatch(words);
  });

  it.each(TEXT)("%s leaves everything to the words of the line", (code) => {
    expect(actionOfLabourCode(code)).toMatchObject({ standing: "text", actions: [] });
  });

  it.each(NO_WORK)("%s, whose meaning has %s, is no work", (code, words) => {
    const read = actionOfLabourCode(code);
    expect(read).toMatchObject({ standing: "no-work", actions: [] });
    expect(read?.meaning).toMatch(words);
  });
});

describe("the kinds of labour", () => {
  // Bare three-letter codes: second-hand. Suffixes: nothing found.
  const KNOWN = {
    LAB: "body",
    LAD: "diagnostic",
    LAE: "electrical",
    LAF: "frame",
    LAG: "glass",
    LAM: "mechanical",
    LAR: "refinish",
    LAS: "structural",
    LAU: "defined by the user",
  };
  const LISTED =
    "LA1 LA2 LA3 LA4 LA2S LA2U LA3S LA3U LAB LABA LABR LABS LACG LAD LADT LAE LAE2 LAE3 LAET LAF LAFA LAFS LAG LAGA LAGS LAI LAM LAMA LAMS LAP LAR LARA LARN LARS LAS LASA LASS LASU LATT LATU LAU LAUT";

  it("are the list of the schema", () => {
    expect([...LABOUR_TYPES.keys()].sort()).toEqual(LISTED.split(" ").sort());
  });

  it("have a meaning where one is certain enough, and a reason where none is", () => {
    const meanings = [...LABOUR_TYPES].filter(([, { meaning }]) => meaning !== null);
    expect(Object.fromEntries(meanings.map(([code, { meaning }]) => [code, meaning]))).toEqual(KNOWN);
    for (const { meaning, why } of LABOUR_TYPES.values()) expect(why === null).toBe(meaning !== null);
  });
});

describe("the kinds of parts", () => {
  it.each([
    ["PAN", /new/],
    ["PAA", /aftermarket/],
    ["PAL", /recycled/],
    ["PAO", /other/],
  ])("%s is %s", (code, words) => {
    expect(PART_TYPES.get(code)).toMatchObject({
      why: null,
      meaning: expect.stringMatching(words) as string,
    });
  });

  // From memory one thing, in an open parser another: whichever were taken would be wrong for half of the readers.
  it.each([
    ["PAM", /remanufactured/],
    ["PAR", /recored.*remanufactured/],
    ["PAC", /rechromed.*certified/],
  ])("%s decides nothing, since sources contradict one another: %s", (code, why) => {
    expect(PART_TYPES.get(code)?.meaning).toBeNull();
    expect(PART_TYPES.get(code)?.why).toMatch(why);
  });

  it.each(["PAD", "PAE", "PAG", "PAGN", "PAND", "PAP", "PAS"])("%s is listed without a meaning", (code) => {
    expect(PART_TYPES.get(code)?.meaning).toBeNull();
    expect(PART_TYPES.get(code)?.why).not.toBeNull();
  });
});
