import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import { readEstimateLines, type Synonym } from "../../src/intake/index.js";
import { builtInEntries } from "../../src/intake/lines/entries.js";
import { describeConflict, layLexicon, phraseOf } from "../../src/intake/lines/lexicon.js";
import { SPELLINGS } from "../../src/intake/lines/spellings.js";
import {
  COMPONENTS,
  COMPONENT_ALIASES,
  COMPONENT_IDS,
  SENSORS,
  SENSOR_IDS,
} from "../../src/vocabulary/index.js";

const { lexicon } = layLexicon(builtInEntries(false));

/** The part that a line names, read with an action that goes with nearly everything. */
function partOf(words: string): string | null {
  const [line] = readEstimateLines([`inspect ${words}`]).lines;
  const [operation] = line?.operations ?? [];
  return operation?.sensor ?? operation?.component ?? null;
}

function refusalOf(synonyms: readonly unknown[]): readonly (readonly [string, string])[] {
  try {
    readEstimateLines([], { synonyms: synonyms as readonly Synonym[] });
  } catch (error) {
    if (error instanceof InputError) return error.issues.map(({ code, pointer }) => [code, pointer] as const);
    throw error;
  }
  return [];
}

describe("the lexicon", () => {
  it("gives no phrase two meanings, in any market", () => {
    for (const market of [false, true])
      expect(layLexicon(builtInEntries(market)).conflicts.map(describeConflict)).toEqual([]);
  });

  it("names both entries where a phrase would have two meanings", () => {
    const { conflicts } = layLexicon([
      { words: "nose cover", means: { kind: "part", choices: [{ component: "grille" }] } },
      { words: "nose cvr", means: { kind: "part", choices: [{ component: "hood" }] } },
    ]);
    expect(conflicts.map(describeConflict)).toEqual([
      'the lexicon reads "nose cvr" as the part hood, and "nose cover", which is the same phrase, as the part grille',
    ]);
  });

  it("knows every label of the vocabulary as the component that it is", () => {
    // An end of the vehicle makes one part of these names, and a sensor has to be named.
    const others = new Set(["other", "sensor", "sensor-bracket"]);
    const lost = COMPONENT_IDS.filter((id) => !others.has(id) && partOf(COMPONENTS[id].label) !== id);
    expect(lost).toEqual([]);
  });

  it("knows every other word of the vocabulary for a component", () => {
    const lost = Object.entries(COMPONENT_ALIASES)
      .filter(([alias, id]) => partOf(alias.replaceAll("-", " ")) !== id)
      .map(([alias]) => alias);
    expect(lost).toEqual([]);
  });

  it("knows every sensor by its label", () => {
    // The label of an adaptive headlamp is the name of a part.
    const lost = SENSOR_IDS.filter((id) => partOf(SENSORS[id].label) !== id);
    expect(lost).toEqual(["adaptive-headlamp"]);
  });

  it("spells no word in two ways at once", () => {
    for (const [other, words] of SPELLINGS) expect(phraseOf(words.join(" ")), other).toBe(words.join(" "));
  });

  it("uses every other spelling for a word that stands in a phrase", () => {
    const idle = [...SPELLINGS].filter(([, words]) => !words.every((word) => lexicon.words.has(word)));
    expect(idle).toEqual([]);
  });
});

describe("words of the caller's own", () => {
  it("are read like the others", () => {
    const synonyms: readonly Synonym[] = [
      { words: "nose cone", means: { component: "front-bumper-cover" } },
      { words: "swap", means: { action: "replace" } },
      { words: "eye", means: { sensor: "surround-camera", position: "front" } },
      { words: "port", means: { side: "left" } },
      { words: "aft", means: { axle: "rear" } },
      { words: "shop 7", means: "nothing" },
    ];
    const { lines } = readEstimateLines(["swap nose cones shop 7", "swap eye", "swap aft port strut"], {
      synonyms,
    });
    expect(lines.map(({ status }) => status)).toEqual(["read", "read", "read"]);
    expect(lines.map(({ operations: [first] }) => first)).toMatchObject([
      { action: "replace", component: "front-bumper-cover" },
      { component: "sensor", sensor: "surround-camera", position: "front" },
      { component: "strut", side: "left", axle: "rear" },
    ]);
  });

  it("leave no trace in a later reading", () => {
    readEstimateLines(["x"], { synonyms: [{ words: "swap", means: { action: "replace" } }] });
    expect(readEstimateLines(["swap hood"]).lines[0]?.status).toBe("unread");
  });

  it("are refused where they contradict the lexicon or each other", () => {
    expect(refusalOf([{ words: "bonnets", means: { component: "grille" } }])).toEqual([
      ["invalid-value", "/synonyms/0/words"],
    ]);
    expect(
      refusalOf([
        { words: "nose", means: { component: "grille" } },
        { words: "Nose", means: { component: "hood" } },
      ]),
    ).toEqual([["invalid-value", "/synonyms/1/words"]]);
  });

  it("may say what the lexicon says already", () => {
    expect(refusalOf([{ words: "bonnet", means: { component: "hood" } }])).toEqual([]);
  });

  it.each([
    [{ words: "nose", means: { component: "grile" } }, "unknown-id", "/component"],
    [{ words: "nose", means: { action: "swap" } }, "unknown-id", "/action"],
    [{ words: "nose", means: { sensor: "front-radar", position: "left" } }, "invalid-position", "/position"],
    [{ words: "nose", means: { side: "port" } }, "unknown-id", "/side"],
    [{ words: "nose", means: { axle: "mid" } }, "unknown-id", "/axle"],
    [{ words: "nose", means: { part: "hood" } }, "unknown-key", "/part"],
    [{ words: "nose", means: { component: "hood", action: "replace" } }, "invalid-value", ""],
    [{ words: "nose", means: 7 }, "wrong-type", ""],
  ])("are refused where they mean nothing known: %j", (synonym, code, at) => {
    expect(refusalOf([synonym])).toEqual([[code, `/synonyms/0/means${at}`]]);
  });

  it.each([[{ words: "  ", means: "nothing" }], [{ words: "a,b", means: "nothing" }]])(
    "are refused where they cannot stand on a line: %j",
    (synonym) => {
      expect(refusalOf([synonym])).toEqual([["invalid-value", "/synonyms/0/words"]]);
    },
  );

  it("name the nearest word", () => {
    try {
      readEstimateLines([], { synonyms: [{ words: "nose", means: { component: "grile" as "grille" } }] });
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      expect((error as InputError).issues[0]?.nearest).toBe("grille");
    }
  });
});
