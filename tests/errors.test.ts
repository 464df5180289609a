import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ERROR_CODES, formatIssue, InputError, nearestOf, type Issue } from "../src/errors.js";

const misspelt: Issue = {
  code: "unknown-id",
  pointer: "/operations/0/component",
  message: '"windsheild" is not a component',
  expected: "a component",
  nearest: "windshield",
  file: "job.json",
};

describe("formatIssue", () => {
  it("names file, place, fault, what was expected and the nearest word in one line", () => {
    expect(formatIssue(misspelt)).toBe(
      'job.json: /operations/0/component: "windsheild" is not a component; expected a component; did you mean "windshield"?',
    );
  });

  it("leaves out what the issue does not hold", () => {
    expect(formatIssue({ code: "missing-key", pointer: "/vehicle", message: '"market" is missing' })).toBe(
      '/vehicle: "market" is missing',
    );
  });

  it("leaves out the pointer when the whole document is meant", () => {
    expect(formatIssue({ code: "not-json", pointer: "", message: "not JSON", file: "job.json" })).toBe(
      "job.json: not JSON",
    );
  });

  it("lets no line break or terminal command of the input through", () => {
    const forged: Issue = { code: "unknown-key", pointer: "/a\nb", message: "\u001b[31mred\u2028next" };
    expect(formatIssue(forged)).toBe("/a\\u000ab: \\u001b[31mred\\u2028next");
  });
});

describe("InputError", () => {
  it("has the single issue as its message", () => {
    const error = new InputError("input", [{ code: "empty-file", pointer: "", message: "nothing in it" }]);
    expect(error.message).toBe("nothing in it");
    expect(error).toBeInstanceOf(Error);
    expect(error.name).toBe("InputError");
  });

  it("has the first issue and the number of the others as its message, and keeps them all in order", () => {
    const second: Issue = { code: "missing-key", pointer: "/vehicle", message: '"make" is missing' };
    const third: Issue = { code: "unknown-key", pointer: "/vehcle", message: '"vehcle" has no meaning' };
    const error = new InputError("rule-pack", [second, misspelt, third]);
    expect(error.message).toBe('/vehicle: "make" is missing (and 2 more)');
    expect(error.kind).toBe("rule-pack");
    expect(error.issues).toEqual([second, misspelt, third]);
  });

  it("keeps its issues when the list it was given changes afterwards", () => {
    const issues = [misspelt];
    const error = new InputError("procedure-pack", issues);
    issues.pop();
    expect(error.issues).toEqual([misspelt]);
    expect(Object.isFrozen(error.issues)).toBe(true);
  });

  it("says what was refused even without an issue", () => {
    expect(new InputError("procedure-pack", []).message).toBe("the procedure pack was refused");
  });
});

describe("ERROR_CODES", () => {
  it.each(Object.entries(ERROR_CODES))(
    "%s has a code in kebab case and whole sentences",
    (code, { says, hint }) => {
      expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      for (const sentence of [says, hint]) expect(sentence).toMatch(/^[A-Z].*[.]$/);
      expect(hint).not.toBe(says);
    },
  );
});

describe("nearestOf", () => {
  const sensors = ["forward-camera", "front-radar", "front-corner-radar", "rear-corner-radar", "rear-camera"];

  it.each([
    ["a letter left out", "forwad-camera", "forward-camera"],
    ["a letter too many", "front-raddar", "front-radar"],
    ["another letter", "rear-camara", "rear-camera"],
    ["two letters swapped", "front-raadr", "front-radar"],
    ["the word itself", "front-radar", "front-radar"],
  ])("finds the word with %s", (_, word, meant) => {
    expect(nearestOf(word, sensors)).toBe(meant);
  });

  it("counts a swap of neighbours as one change, where three letters allow but one", () => {
    expect(nearestOf("eys", ["yes"])).toBe("yes");
    expect(nearestOf("sey", ["yes"])).toBeUndefined();
  });

  it("lets one letter of a very short word differ", () => {
    expect(nearestOf("uk", ["us", "eu"])).toBe("us");
    expect(nearestOf("xx", ["us", "eu"])).toBeUndefined();
  });

  it("lets a third of the word differ and no more", () => {
    expect(nearestOf("abcdef", ["abcdXY"])).toBe("abcdXY");
    expect(nearestOf("abcdef", ["abcXYZ"])).toBeUndefined();
    expect(nearestOf("abcde", ["abcXY"])).toBeUndefined();
  });

  it("prefers the nearer word to the earlier one", () => {
    expect(nearestOf("right", ["bight", "righty", "right"])).toBe("right");
    expect(nearestOf("abcdef", ["abcdXY", "abcdeZ"])).toBe("abcdeZ");
  });

  it("takes the first by code unit among equally near words, however they are listed", () => {
    expect(nearestOf("xeft", ["left", "heft", "Reft"])).toBe("Reft");
    expect(nearestOf("xeft", ["Reft", "heft", "left"])).toBe("Reft");
  });

  it("finds nothing in nothing", () => {
    expect(nearestOf("left", [])).toBeUndefined();
    expect(nearestOf("", ["left"])).toBeUndefined();
  });

  it("finds a known word again after any one letter was lost", () => {
    fc.assert(
      fc.property(fc.constantFrom(...sensors), fc.nat(), (sensor, index) => {
        const place = index % sensor.length;
        const misspelled = sensor.slice(0, place) + sensor.slice(place + 1);
        expect(nearestOf(misspelled, sensors)).toBe(sensor);
      }),
    );
  });

  it("does not labour over a word of absurd length", () => {
    expect(nearestOf("x".repeat(1_000_000), sensors)).toBeUndefined();
  });
});
