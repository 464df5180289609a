import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ERROR_CODES } from "../../src/errors.js";
import { degrees, mm } from "../../src/measure/index.js";
import { answerAlignment, checkAlignment, lateralOnThrustLine } from "../../src/setup/vehicle/alignment.js";
import { setupShape, type Setup } from "../../src/setup/shape.js";
import { check } from "../properties.js";

/** Parsed, so that no test rests on a document that could not be read. */
function setupOf(parts: Omit<Setup, "schema">): Setup {
  return setupShape.parse({ schema: "repair-calibration/setup@1", ...parts });
}

function align(parts: Omit<Setup, "schema">) {
  return answerAlignment(setupOf(parts));
}

function issuesOf(parts: Omit<Setup, "schema">) {
  return checkAlignment(setupOf(parts)).map(({ code, pointer }) => ({ code, pointer }));
}

describe("thrust line from the rear toes", () => {
  it("points to the right where the left wheel is toed in more", () => {
    const { value, missing, contradictions } = align({ rearToe: { left: 0.3, right: 0.1, unit: "deg" } });
    expect(value?.totalRearToe).toBeCloseTo(0.4, 12);
    expect(value?.thrust).toMatchObject({ pointsTo: "right", from: "rear-toe", u: null });
    expect(value?.thrust?.heading).toBeCloseTo(-0.1, 12);
    expect(value?.thrust?.trade).toBeCloseTo(0.1, 12);
    expect(missing).toEqual([]);
    expect(contradictions).toEqual([]);
  });

  it("runs straight ahead with equal toes, without a minus zero", () => {
    const { value } = align({ rearToe: { left: 0.1, right: 0.1, unit: "deg" } });
    expect(value?.thrust?.pointsTo).toBe("straight-ahead");
    expect(Object.is(value?.thrust?.heading, 0)).toBe(true);
    expect(Object.is(value?.thrust?.trade, 0)).toBe(true);
  });

  it("reads degrees and minutes: 0°12′ is 0.20°", () => {
    const { value } = align({ rearToe: { left: "0°12′", right: "-0°06'" } });
    expect(value?.totalRearToe).toBeCloseTo(0.1, 12);
    expect(value?.thrust?.trade).toBeCloseTo(0.15, 12);
  });

  it("reads minutes from bare numbers, and a text beside them by its own unit", () => {
    const { value } = align({ rearToe: { left: 30, right: "0.10°", unit: "min" } });
    expect(value?.totalRearToe).toBeCloseTo(0.6, 12);
  });

  it("takes 1/√2 of a toe's uncertainty for the thrust angle's", () => {
    const { value } = align({ rearToe: { left: 0.3, right: 0.1, unit: "deg", u: 0.02 } });
    expect(value?.thrust?.u).toBeCloseTo(0.014142, 6);
  });

  it("shows its arithmetic, from the rim to the thrust line", () => {
    const { workings } = align({
      rearToe: { left: 2, right: 1, unit: "mm", rimDiameter: 400, convention: "across-rim", u: 0.02 },
    });
    expect(workings.map(({ gives }) => gives)).toEqual([
      "toe of the left rear wheel",
      "toe of the right rear wheel",
      "total rear toe, toe-in positive",
      "heading of the thrust line, to the left positive (ISO 8855)",
      "thrust angle as the trade prints it, to the right positive",
      "standard uncertainty of the thrust angle, from that of each rear toe",
    ]);
    // asin r is r + r³/6 here, times 57.29578: 0.28647890 + 0.00000119, 0.14323945 + 0.00000015.
    expect(workings[0]?.value).toBeCloseTo(0.28648009, 7);
    expect(workings[1]?.value).toBeCloseTo(0.1432396, 7);
  });
});

describe("toe as a length at the rim", () => {
  const twoMillimetres = { left: 2, right: 2, unit: "mm", rimDiameter: 406.4 } as const;

  it("counts the whole rim or one edge, which is half of it", () => {
    const across = align({ rearToe: { ...twoMillimetres, convention: "across-rim" } });
    const edge = align({ rearToe: { ...twoMillimetres, convention: "one-edge" } });
    expect(across.value?.totalRearToe).toBeCloseTo(0.5639, 4);
    expect(edge.value?.totalRearToe).toBeCloseTo(1.1279, 4);
  });

  it("reads inches with a rim in mm", () => {
    const { value } = align({
      rearToe: { left: 0.0625, right: 0, unit: "in", rimDiameter: 660.4, convention: "across-rim" },
    });
    expect(value?.totalRearToe).toBeCloseTo(0.13773, 5);
  });

  it("asks for the diameter and for the convention", () => {
    expect(issuesOf({ rearToe: { left: 2, right: 2, unit: "mm", convention: "one-edge" } })).toEqual([
      { code: "missing-measurement", pointer: "/rearToe/rimDiameter" },
    ]);
    expect(issuesOf({ rearToe: twoMillimetres })).toEqual([
      { code: "missing-measurement", pointer: "/rearToe/convention" },
    ]);
  });

  it("asks for neither where texts name degrees", () => {
    expect(issuesOf({ rearToe: { left: "0.10°", right: "0.10°", unit: "mm" } })).toEqual([]);
  });

  it("refuses a toe longer than its rim and one beyond ten degrees", () => {
    const rim = { rimDiameter: 406.4, convention: "across-rim", unit: "mm" } as const;
    expect(issuesOf({ rearToe: { left: 500, right: 1, ...rim } })).toEqual([
      { code: "out-of-range", pointer: "/rearToe/left" },
    ]);
    // 406.4 · sin 10° = 70.57
    expect(issuesOf({ rearToe: { left: 70.5, right: -70.7, ...rim } })).toEqual([
      { code: "out-of-range", pointer: "/rearToe/right" },
    ]);
  });
});

describe("angles that cannot be", () => {
  it("asks once for the unit of two bare numbers", () => {
    expect(issuesOf({ rearToe: { left: 0.1, right: 0.1 } })).toEqual([
      { code: "missing-measurement", pointer: "/rearToe/unit" },
    ]);
    expect(issuesOf({ thrustAngle: { value: 0.1, sign: "right-positive" } })).toEqual([
      { code: "missing-measurement", pointer: "/thrustAngle/unit" },
    ]);
  });

  it("refuses texts without a unit, and says what it expects", () => {
    const [issue, ...others] = checkAlignment(setupOf({ rearToe: { left: "0.12", right: "0.10°" } }));
    expect(others).toEqual([]);
    expect(issue).toMatchObject({ code: "invalid-value", pointer: "/rearToe/left" });
    expect(issue?.expected).toContain("0°12′");
  });

  it.each([
    [10, []],
    [10.01, ["/rearToe/left"]],
    [-10.01, ["/rearToe/left"]],
  ])("toe of %d°", (left, refused) => {
    expect(issuesOf({ rearToe: { left, right: 0, unit: "deg" } }).map(({ pointer }) => pointer)).toEqual(
      refused,
    );
  });

  it.each([
    ["5°", []],
    ["5°01′", ["/thrustAngle/value"]],
    ["-5.2°", ["/thrustAngle/value"]],
  ])("thrust angle of %s", (value, refused) => {
    const issues = issuesOf({ thrustAngle: { value, sign: "left-positive" } });
    expect(issues.map(({ pointer }) => pointer)).toEqual(refused);
  });

  it("refuses a set-back that is no set-back", () => {
    const setBack = { sign: "right-rearward-positive", axle: "front" } as const;
    expect(issuesOf({ setBack: { ...setBack, value: 90, unit: "deg" } })).toEqual([
      { code: "out-of-range", pointer: "/setBack/value" },
    ]);
    expect(issuesOf({ setBack: { ...setBack, value: 90, unit: "mm" } })).toEqual([]);
  });

  it("calls what it cannot read missing, if it is asked all the same", () => {
    const { value, missing } = align({
      rearToe: { left: "0.12", right: "0.10°" },
      thrustAngle: { value: 0.1, sign: "right-positive" },
    });
    expect(value).toEqual({ totalRearToe: null, thrust: null, setBack: null });
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/rearToe/left", "/thrustAngle/unit"]);
  });
});

describe("a stated thrust angle", () => {
  it("is used alone, in either sign", () => {
    const right = align({ thrustAngle: { value: 0.12, unit: "deg", sign: "right-positive", u: 0.01 } });
    const left = align({ thrustAngle: { value: "0.12°", sign: "left-positive" } });
    expect(right.value).toEqual({
      totalRearToe: null,
      thrust: { heading: -0.12, trade: 0.12, pointsTo: "right", u: 0.01, from: "thrust-angle" },
      setBack: null,
    });
    expect(left.value?.thrust).toEqual({
      heading: 0.12,
      trade: -0.12,
      pointsTo: "left",
      u: null,
      from: "thrust-angle",
    });
  });

  const toes = { left: 0.3, right: 0.1, unit: "deg" } as const;

  it.each([
    [0.1, "right-positive"],
    [0.12, "right-positive"],
    [0.08, "right-positive"],
    [-0.1, "left-positive"],
  ] as const)("of %d (%s) agrees with toes that give 0.10 to the right", (value, sign) => {
    const {
      value: aligned,
      contradictions,
      missing,
    } = align({
      rearToe: toes,
      thrustAngle: { value, unit: "deg", sign },
    });
    expect(contradictions).toEqual([]);
    expect(missing).toEqual([]);
    expect(aligned?.thrust?.from).toBe("rear-toe");
  });

  it.each([
    [0.13, "right-positive"],
    [0.1, "left-positive"],
  ] as const)("of %d (%s) contradicts them, and the thrust line is unknown", (value, sign) => {
    const answer = align({ rearToe: toes, thrustAngle: { value, unit: "deg", sign } });
    expect(answer.value?.thrust).toBeNull();
    expect(answer.value?.totalRearToe).toBeCloseTo(0.4, 12);
    expect(answer.contradictions).toHaveLength(1);
    expect(answer.contradictions[0]?.about).toEqual(["/rearToe", "/thrustAngle"]);
    expect(answer.contradictions[0]?.says).toContain("0.10°");
    expect(answer.missing.map((each) => each.for)).toEqual(["the thrust line"]);
  });

  it("may differ by three standard uncertainties where they are stated", () => {
    // Of the toes' 0.02/√2 = 0.0141; with 0.01 √(0.0002 + 0.0001) = 0.01732, three times 0.052.
    const differing = (value: number) =>
      align({
        rearToe: { ...toes, u: 0.02 },
        thrustAngle: { value, unit: "deg", sign: "right-positive", u: 0.01 },
      }).contradictions.length;
    expect(differing(0.151)).toBe(0);
    expect(differing(0.153)).toBe(1);
  });

  it("rounded to whole minutes never contradicts toes rounded to whole minutes", () => {
    const toe = fc.double({ min: -2, max: 2, noNaN: true });
    check(
      fc.property(toe, toe, (left, right) => {
        const minutes = (angle: number) => Math.round(angle * 60);
        const { contradictions } = align({
          rearToe: { left: minutes(left), right: minutes(right), unit: "min" },
          thrustAngle: { value: minutes((left - right) / 2), unit: "min", sign: "right-positive" },
        });
        expect(contradictions).toEqual([]);
      }),
    );
  });
});

describe("set-back", () => {
  const dimensions = { trackFront: 1550, trackRear: 1540 };
  const tenMillimetres = { value: 10, unit: "mm", sign: "right-rearward-positive", axle: "front" } as const;

  it("of 10 mm on a track of 1550 mm is 0.37°", () => {
    const { value } = align({ vehicle: { dimensions }, setBack: tenMillimetres });
    expect(value?.setBack).toMatchObject({ axle: "front", mm: 10 });
    expect(value?.setBack?.deg).toBeCloseTo(0.3696, 4);
    expect(value?.thrust).toBeNull();
  });

  it("goes over into the trade's sign", () => {
    const { value } = align({
      vehicle: { dimensions },
      setBack: { ...tenMillimetres, sign: "left-rearward-positive" },
    });
    expect(value?.setBack?.mm).toBe(-10);
    expect(value?.setBack?.deg).toBeCloseTo(-0.3696, 4);
  });

  it("in degrees becomes a length through the track of its own axle", () => {
    const { value } = align({
      vehicle: { dimensions },
      setBack: { value: 0.5, unit: "deg", sign: "right-rearward-positive", axle: "rear" },
    });
    // 1540 · tan 0.5°
    expect(value?.setBack?.mm).toBeCloseTo(13.4394, 4);
  });

  it("takes the track from the wheels where they were measured", () => {
    const { value } = align({
      wheelCentres: [
        { axle: "front", side: "left", x: 0, y: 1000 },
        { axle: "front", side: "right", x: 0, y: -1000 },
        { axle: "rear", side: "left", x: -2700, y: 1000 },
        { axle: "rear", side: "right", x: -2700, y: -1000 },
      ],
      setBack: { ...tenMillimetres, value: 20 },
    });
    // atan(20/2000)
    expect(value?.setBack?.deg).toBeCloseTo(0.57294, 5);
  });

  it("stays in its own unit without a track, and says what is missing", () => {
    const { value, missing } = align({ setBack: tenMillimetres });
    expect(value?.setBack).toEqual({ axle: "front", mm: 10, deg: null });
    expect(missing.map(({ pointer }) => pointer)).toEqual(["/vehicle/dimensions/trackFront"]);
  });

  it("of the rear axle in degrees asks for the rear track, though the front one is known", () => {
    const { value, missing } = align({
      vehicle: { dimensions: { trackFront: 1550 } },
      setBack: { value: 0.5, unit: "deg", sign: "left-rearward-positive", axle: "rear" },
    });
    expect(value?.setBack).toEqual({ axle: "rear", mm: null, deg: -0.5 });
    expect(missing).toEqual([
      {
        for: "set-back of the rear axle in mm",
        needs: "the rear track",
        pointer: "/vehicle/dimensions/trackRear",
      },
    ]);
  });
});

it("answers nothing where nothing was stated, and misses nothing", () => {
  expect(align({})).toEqual({ value: null, workings: [], missing: [], contradictions: [], warnings: [] });
});

describe("laws", () => {
  const toe = fc.double({ min: -4, max: 4, noNaN: true });

  it("exchanging left and right turns the thrust line to the other side and leaves the total", () => {
    check(
      fc.property(toe, toe, (left, right) => {
        const one = align({ rearToe: { left, right, unit: "deg" } }).value;
        const other = align({ rearToe: { left: right, right: left, unit: "deg" } }).value;
        expect(other?.totalRearToe).toBeCloseTo(one!.totalRearToe!, 12);
        expect(other?.thrust?.heading).toBeCloseTo(one!.thrust!.trade, 12);
      }),
    );
  });

  it("toeing both wheels in alike leaves the thrust line", () => {
    check(
      fc.property(toe, toe, toe, (left, right, both) => {
        const before = align({ rearToe: { left, right, unit: "deg" } }).value?.thrust?.heading;
        const after = align({ rearToe: { left: left + both, right: right + both, unit: "deg" } }).value;
        expect(after?.thrust?.heading).toBeCloseTo(before!, 10);
        expect(after?.totalRearToe).toBeCloseTo(left + right + 2 * both, 10);
      }),
    );
  });

  it("a toe laid off at a rim comes back as the angle it was", () => {
    const rim = fc.double({ min: 300, max: 900, noNaN: true });
    check(
      fc.property(toe, rim, fc.constantFrom("across-rim", "one-edge"), (angle, rimDiameter, convention) => {
        const radius = convention === "across-rim" ? rimDiameter : rimDiameter / 2;
        const length = radius * Math.sin((angle / 180) * Math.PI);
        const { value } = align({ rearToe: { left: length, right: 0, unit: "mm", rimDiameter, convention } });
        expect(value?.totalRearToe).toBeCloseTo(angle, 9);
      }),
    );
  });

  it("refuses only with codes of the list, and reads what it does not refuse", () => {
    const angle = fc.oneof(
      fc.double({ min: -20, max: 20, noNaN: true }),
      fc.constantFrom("0.20°", "0°12′", "0°75′", "0.12", "12°", "x", "-0°06'"),
    );
    const rearToe = fc.record(
      {
        left: angle,
        right: angle,
        unit: fc.constantFrom("deg", "min", "mm", "in"),
        rimDiameter: fc.double({ min: 200, max: 1000, noNaN: true }),
        convention: fc.constantFrom("across-rim", "one-edge"),
      },
      { requiredKeys: ["left", "right"] },
    );
    check(
      fc.property(rearToe, (given) => {
        const setup = setupOf({ rearToe: given });
        const issues = checkAlignment(setup);
        for (const { code } of issues) expect(Object.keys(ERROR_CODES)).toContain(code);
        const thrust = answerAlignment(setup).value?.thrust ?? null;
        expect(thrust === null).toBe(issues.length > 0);
        if (thrust !== null) expect(Math.abs(thrust.heading)).toBeLessThanOrEqual(10);
      }),
      500,
    );
  });
});

describe("the place of a point on the thrust line", () => {
  it("is nothing at the rear axle, whatever the heading, and not at the front axle", () => {
    const heading = degrees(0.25);
    expect(lateralOnThrustLine({ x: mm(-2700), wheelbase: mm(2700), heading })).toBe(0);
    // 2700 · tan 0.25°
    expect(lateralOnThrustLine({ x: mm(0), wheelbase: mm(2700), heading })).toBeCloseTo(11.781, 3);
  });
});
