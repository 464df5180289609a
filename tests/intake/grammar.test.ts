import { describe, expect, it } from "vitest";
import { readEstimateLines, type LineOperation, type ReadLinesOptions } from "../../src/intake/index.js";

function say({ action, component, side, axle, sensor, position }: LineOperation): string {
  return [action, component, side, axle, sensor, position].filter((each) => each !== null).join(" ");
}

function read(text: string, options: ReadLinesOptions = {}) {
  const [line] = readEstimateLines([text], options).lines;
  if (line === undefined) throw new Error("no line");
  return { ...line, says: line.operations.map(say), offers: line.alternatives.map((each) => each.map(say)) };
}

describe("where action, part and place may stand", () => {
  it.each([
    ["R&I LT headlamp", ["remove-install headlamp left"]],
    ["LT headlamp R&I", ["remove-install headlamp left"]],
    ["LT R&I headlamp", ["remove-install headlamp left"]],
    ["headlamp, LT, R&I", ["remove-install headlamp left"]],
    ["R&I headlamp (LT)", ["remove-install headlamp left"]],
    ["Left: R&I headlamp", ["remove-install headlamp left"]],
    ["bumper cover, front - replace", ["replace front-bumper-cover"]],
  ])("%s", (text, says) => {
    expect(read(text).says).toEqual(says);
  });
});

describe("several places of a part", () => {
  it.each([
    ["Blend LT and RT front doors", ["blend front-door left", "blend front-door right"]],
    ["Blend LT front and rear doors", ["blend front-door left", "blend rear-door left"]],
    ["Blend doors LT front & rear", ["blend front-door left", "blend rear-door left"]],
    ["Blend LF and RF doors", ["blend front-door left", "blend front-door right"]],
    ["Rpl both headlamps", ["replace headlamp left", "replace headlamp right"]],
    ["Rpl struts LF, RF", ["replace strut left front", "replace strut right front"]],
  ])("%s", (text, says) => {
    expect(read(text).says).toEqual(says);
  });

  it.each(["Blend LT front and RT doors", "Rpl left right headlamp", "Rpl LT headlamp RT fender R&I LT"])(
    "is not guessed: %s",
    (text) => {
      expect(read(text).status).not.toBe("read");
    },
  );
});

describe("several works and parts", () => {
  it.each([
    ["R&I grille and hood", ["remove-install grille", "remove-install hood"]],
    ["R&R and refinish LT fender", ["replace fender left", "refinish fender left"]],
    ["Replace hood, blend RT fender", ["replace hood", "blend fender right"]],
    [
      "RT fender repair and refinish, hood blend",
      ["repair fender right", "refinish fender right", "blend hood"],
    ],
    ["Replace hood; fender liner LT R&I", ["replace hood", "remove-install wheel-arch-liner left"]],
    ["Rpl tie rod and wheel alignment", ["replace tie-rod", "adjust wheel-alignment"]],
    ["Rpl hood and scan", ["replace hood", "scan other"]],
    ["Rpl front radar and calibrate", ["replace sensor front-radar", "calibrate sensor front-radar"]],
    ["Rpl windshield and calibrate", ["replace windshield", "calibrate sensor"]],
  ])("%s", (text, says) => {
    expect(read(text).says).toEqual(says);
  });

  it("offer every reading where a work may go with the part on either side", () => {
    expect(read("Replace hood, refinish, R&I LT fender").offers).toEqual(
      expect.arrayContaining([
        ["replace hood", "refinish hood", "remove-install fender left"],
        ["replace hood", "refinish fender left", "remove-install fender left"],
      ]),
    );
  });

  it("offer both readings where a side may go for the next part as well", () => {
    expect(read("R&I LT headlamp and fender").offers).toEqual([
      ["remove-install headlamp left", "remove-install fender"],
      ["remove-install headlamp left", "remove-install fender left"],
    ]);
  });

  it.each([
    "Fender: R&I headlamp, refinish", // a heading, and the work is on what stands below it
    "Paint: R&I LT door handle", // a heading of another kind
    "R&I headlamp and LT, RT fender", // whose left is it?
    "R&I headlamp fender", // side by side, two names are one part
    "R&I R&R hood", // the same part cannot go back on and be replaced
    "Rpl LT front rail section",
  ])("are not read from %s", (text) => {
    expect(read(text)).toMatchObject({ status: "unread", operations: [], alternatives: [] });
  });

  it("are given up beyond what a line can hold, at once", () => {
    const long = Array.from({ length: 60 }, () => "R&I hood").join(", ");
    expect(read(long)).toMatchObject({ status: "unread", alternatives: [] });
  });
});

describe("names that stand for several parts", () => {
  it.each([
    ["R&I bumper cover", [["remove-install front-bumper-cover"], ["remove-install rear-bumper-cover"]]],
    ["Rpl front bumper", [["replace front-bumper-cover"], ["replace front-bumper-assembly"]]],
    ["Rpl mirror", [["replace door-mirror"], ["replace interior-mirror"]]],
    ["Rpl R strut", [["replace strut right"], ["replace strut rear"]]],
    ["Rpl RR door", [["replace rear-door right"], ["replace rear-door"]]],
    ["Remove hood", [["remove-install hood"], ["replace hood"]]],
    ["Refinish new hood", [["refinish hood"], ["refinish hood", "replace hood"]]],
  ])("%s", (text, offers) => {
    expect(read(text)).toMatchObject({ status: "ambiguous", offers });
  });

  it.each([
    ["O/H front bumper", ["overhaul front-bumper-assembly"]],
    ["Refinish front bumper", ["refinish front-bumper-cover"]],
    ["Rpl LT mirror", ["replace door-mirror left"]],
    ["R&I rear window", ["remove-install rear-glass"]],
    ["R&I LT rear window", ["remove-install door-glass left"]],
    ["Rpl LT R door", ["replace rear-door left"]],
    ["Rpl RR bumper cover", ["replace rear-bumper-cover"]],
    ["Rpl R headlamp", ["replace headlamp right"]],
    ["Rpl new hood", ["replace hood"]],
    ["Remove hood, replace", ["replace hood"]],
    ["Install lift kit", ["modify ride-height"]],
    ["Install roof rack", ["install roof-rack"]],
    ["Rpl tailgate", ["replace tailgate"]],
  ])("%s, where the rest of the line decides", (text, says) => {
    expect(read(text).says).toEqual(says);
  });

  it("differ between markets: a tailgate may be a liftgate", () => {
    expect(read("Rpl tailgate", { market: "us" }).says).toEqual(["replace tailgate"]);
    expect(read("Rpl tailgate", { market: "uk" }).offers).toEqual([
      ["replace tailgate"],
      ["replace liftgate"],
    ]);
  });
});

describe("sides from where the driver sits", () => {
  it.each([
    ["driver side", "left", "left"],
    ["driver side", "right", "right"],
    ["passenger side", "left", "right"],
    ["N/S", "right", "left"],
    ["N/S", "left", "right"],
    ["off side", "right", "right"],
  ] as const)("%s with the driver on the %s", (words, driveSide, side) => {
    expect(read(`Rpl ${words} headlamp`, { driveSide }).says).toEqual([`replace headlamp ${side}`]);
  });

  it("stay open where that is not said", () => {
    expect(read("Rpl driver side headlamp").offers).toEqual([
      ["replace headlamp left"],
      ["replace headlamp right"],
    ]);
  });

  it("stay closed where another word says the side", () => {
    expect(read("Rpl LT headlamp (driver side)").says).toEqual(["replace headlamp left"]);
    expect(read("Rpl LT headlamp (driver side)", { driveSide: "right" }).status).toBe("unread");
  });
});

describe("a side of a part that has none", () => {
  it("is offered without it, never taken", () => {
    expect(read("Rpl LT windshield")).toMatchObject({
      status: "ambiguous",
      offers: [["replace windshield"]],
    });
  });

  it("changes nothing where the vocabulary keeps several parts as one", () => {
    expect(read("Rpl RT wiper arm").says).toEqual(["replace wiper"]);
  });

  it("has no front where the part is at the rear", () => {
    expect(read("Rpl front liftgate").status).toBe("unread");
  });
});

describe("what describes a part", () => {
  const hints = (text: string) =>
    read(text).equipmentHints.map(({ sensor, position, fitted }) => [sensor, position, fitted]);

  it.each([
    ["Rpl windshield w/ cam", [["forward-camera", null, "yes"]]],
    ["Rpl RT mirror w/ camera", [["surround-camera", "right", "yes"]]],
    ["Rpl liftgate with camera", [["rear-camera", null, "yes"]]],
    ["Rpl grille w/o adaptive cruise", [["front-radar", null, "no"]]],
    ["Rpl LT mirror w/blind spot, heated", [["rear-corner-radar", null, "yes"]]],
    ["Rpl rear bumper cover w/ park sensors", [["parking-sensors", "rear", "yes"]]],
    [
      "Rpl windshield w/ rain sensor and cam",
      [
        ["rain-light-sensor", null, "yes"],
        ["forward-camera", null, "yes"],
      ],
    ],
    ["Rpl LT adaptive headlamp", [["adaptive-headlamp", "left", "yes"]]],
    ["Rpl hood", []],
  ])("%s", (text, expected) => {
    expect(read(text).status).toBe("read");
    expect(hints(text)).toEqual(expected);
  });

  it("leaves open whether a part after with goes along", () => {
    expect(read("O/H rear bumper w/ spoiler").offers).toEqual([
      ["overhaul rear-bumper-assembly"],
      ["overhaul rear-bumper-assembly", "overhaul spoiler"],
    ]);
  });

  it.each(["Rpl hood w/ camera", "R&I headliner w/ zest", "Rpl windshield w/ cam calibrate"])(
    "is not read where it means nothing known: %s",
    (text) => {
      expect(read(text).status).toBe("unread");
    },
  );
});

describe("what a line says it is done for", () => {
  it.each([
    "R&I hood for access",
    "R&I hood (for refinish)",
    "R&I hood to blend LT fender",
    "R&I hood for fender blend",
  ])("is no work of its own: %s", (text) => {
    expect(read(text).says).toEqual(["remove-install hood"]);
  });

  it.each([
    "R&I hood to replace LT headlamp",
    "R&I hood for LT headlamp",
    "R&I hood for access and refinish",
  ])("is not read where it may be work: %s", (text) => {
    expect(read(text).status).toBe("unread");
  });
});

describe("a line that takes back, doubts or asks", () => {
  it.each([
    "Do not replace hood",
    "Replace hood?",
    "Replace hood if needed",
    "Prior damage hood, replace",
    "Customer declined replace hood",
    "Replace hood -2.5",
    "Replace hood only",
  ])("is not read: %s", (text) => {
    expect(read(text)).toMatchObject({ status: "unread", operations: [], alternatives: [] });
  });
});
