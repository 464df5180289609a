import { describe, expect, it } from "vitest";
import { mm } from "../../src/measure/index.js";
import { answerBay, checkBay } from "../../src/setup/bay/bay.js";
import { leastBay } from "../../src/setup/bay/least.js";
import type { BayResult } from "../../src/setup/result.js";
import type { Scene } from "../../src/setup/scene.js";
import type { Bay } from "../../src/setup/shape.js";
import { FJELL, stepOf, targetAt, type Case } from "./bay-cases.js";

const AHEAD = { datum: "front-bumper", length: 4500, width: 3000, height: 2000 } as const;
const BEHIND = { datum: "rear-bumper", length: 4500, width: 3000, height: 2000 } as const;
const CAMERA = stepOf("forward-camera/calibration", AHEAD);
const RADAR = stepOf("rear-corner-radar:left/calibration", BEHIND);
const BAY = { length: 10_000, width: 5000, height: 3000 } as const;
const COLUMN = { id: "column", x: 0, y: 0, length: 300, width: 300 } as const;

function ask(bay: Bay, rest: Partial<Omit<Case, "bay">> = {}): BayResult {
  const { value } = answerBay({ scene: FJELL, steps: [CAMERA], targets: [], ...rest, bay });
  if (value === null) throw new Error("no answer");
  return value;
}

function first({ setUps }: BayResult): BayResult["setUps"][number] {
  const [setUp] = setUps;
  if (setUp === undefined) throw new Error("no set-up");
  return setUp;
}

// The vehicle, nose in, and the clear area ahead of it; x from the door, the front axle at A:
//
//   0 ------- rear bumper ------- A ---- front bumper ------------ end of area
//                    |<-- 3775 -->|<- 900 ->|<------- 4500 ------->|      = 9175
describe("an empty bay", () => {
  it("has 825 mm to spare where 9175 are needed and 10 m are there", () => {
    const result = ask(BAY);
    expect(result.verdict).toBe("fits");
    expect(result.least).toEqual({ length: 9175, width: 3000, height: 2000 });
    expect(first(result).spare).toEqual({ length: 825, width: 2000, height: 1000 });
    expect(first(result).covers).toEqual({ front: 5400, rear: 3775, left: 1500, right: 1500, height: 2000 });
    expect(result.says).toBe("It fits in one set-up, with 825 mm to spare along the bay and 2000 mm across.");
  });

  // Along it may stand from 3775 to 4600: in the middle of that it may be off by 412.5 either way.
  it("puts the vehicle where it may be off most", () => {
    expect(first(ask(BAY))).toMatchObject({ noseIn: true, fits: true, vehicleAt: { x: 4187.5, y: 0 } });
    expect(first(ask({ ...BAY, noseIn: false })).vehicleAt).toEqual({ x: 5812.5, y: 0 });
  });

  it("lacks 175 mm where 9 m are there", () => {
    const result = ask({ ...BAY, length: 9000 });
    expect(result.verdict).toBe("does-not-fit");
    expect(first(result)).toMatchObject({ fits: false, vehicleAt: null, inTheWay: [] });
    expect(first(result).spare.length).toBe(-175);
    expect(result.says).toBe("It does not fit. S1: 175 mm of length are missing.");
  });

  it("lacks width and height", () => {
    const result = ask({ length: 10_000, width: 2900, height: 1950 });
    expect(result.verdict).toBe("does-not-fit");
    expect(first(result).spare).toEqual({ length: 825, width: -100, height: -50 });
  });

  it("does not judge heights where its own is not stated", () => {
    const result = ask({ length: 10_000, width: 5000 });
    expect(result.verdict).toBe("fits");
    expect(first(result).spare.height).toBeNull();
  });

  // Around the vehicle's middle, which lies (900 − 3775)/2 = −1437.5 from the front axle.
  it("lays a clear area around the middle between the bumpers", () => {
    const around = stepOf("surround-camera:front/calibration", {
      datum: "vehicle-centre",
      length: 6000,
      width: 7000,
    });
    const result = ask({ length: 6000, width: 7000 }, { steps: [around] });
    expect(result.verdict).toBe("fits");
    expect(first(result).clearAreas).toEqual([
      {
        requirement: "surround-camera:front/calibration",
        area: { x: -4437.5, y: -3500, length: 6000, width: 7000 },
        height: null,
      },
    ]);
    expect(first(result).vehicleAt).toEqual({ x: 4437.5, y: 0 });
    expect(first(ask({ length: 6000, width: 6000 }, { steps: [around] })).spare.width).toBe(-1000);
  });

  // 1300 ahead of the axle, its bar from 900 right to 1500 left of the centre line: the vehicle is 920 wide to the right.
  it("counts the place of a target and the width of its bar", () => {
    const steps = [stepOf("front-corner-radar:left/calibration", null, { targets: ["board"] })];
    const targets = [targetAt("board", { x: 1300, y: 300, width: 2400 })];
    const result = ask({ length: 5075, width: 2420 }, { steps, targets });
    expect(result.verdict).toBe("fits");
    expect(result.least).toEqual({ length: 5075, width: 2420, height: 1500 });
    expect(first(result).covers).toMatchObject({ left: 1500, right: 920 });
    expect(first(result).vehicleAt).toEqual({ x: 3775, y: -290 });
  });

  it("prints the arithmetic of what it says", () => {
    const { workings } = answerBay({ bay: BAY, scene: FJELL, steps: [CAMERA], targets: [] });
    const values = new Map(workings.map(({ id, gives, value }) => [`${id}: ${gives}`, value]));
    expect(values.get("bay-rear-end: from the middle of the front axle back to the rear bumper")).toBe(3775);
    expect(values.get("bay-least-length: least length of the bay for S1")).toBe(9175);
    expect(values.get("bay-least-width: least width of the bay for S1")).toBe(3000);
    expect(values.get("bay-spare: length to spare in S1")).toBe(825);
  });

  it("takes the vehicle alone where nothing asks for room", () => {
    const result = ask({ length: 4700, width: 2000 }, { steps: [] });
    expect(result.verdict).toBe("fits");
    expect(first(result)).toMatchObject({ requirements: [], spare: { length: 25, width: 160 } });
  });

  it("has no answer without a bay, and misses nothing", () => {
    const answer = answerBay({ bay: undefined, scene: FJELL, steps: [CAMERA], targets: [] });
    expect(answer).toEqual({ value: null, workings: [], missing: [], contradictions: [], warnings: [] });
  });
});

describe("obstacles", () => {
  // The column stands in the far left corner, 9700 to 10000 along, −200 … hence from 1300 to 2500 across. The area ahead
  // (900 to 5400 from the axle, 1500 to either side) meets it with the axle beyond 4300 and further left than −200.
  // The axle may be from 3775 to 4600 and from −1000 to 1000: beside the column 262.5 either way, below it 400.
  it("keeps clear of a column in a corner", () => {
    const result = ask({ ...BAY, noseIn: true, obstacles: [{ ...COLUMN, x: 9700, y: 1300, width: 1200 }] });
    expect(result.verdict).toBe("fits");
    expect(first(result).vehicleAt).toEqual({ x: 4175, y: -600 });
  });

  // A bay of just 9175 × 3000, a column at its far end from 1000 to 1500 across: in the area, but beside the tail (920).
  const TIGHT = {
    length: 9175,
    width: 3000,
    obstacles: [{ ...COLUMN, x: 8800, y: 1000, length: 375, width: 500 }],
  };
  it("turns the vehicle where only nose out fits", () => {
    expect(first(ask(TIGHT))).toMatchObject({ noseIn: false, fits: true, vehicleAt: { x: 5400, y: 0 } });
  });

  // Nose in, bound: along the bay it could only go to the door's side of the area, 8800 + 375 − (3775 + 900) = 4500; the
  // shorter ways (375 further in, 500 to the left) lead through a wall.
  it("does not turn it where the direction is bound, and says how far the column would have to go", () => {
    const result = ask({ ...TIGHT, noseIn: true });
    expect(result.verdict).toBe("does-not-fit");
    expect(first(result).spare).toEqual({ length: 0, width: 0, height: null });
    expect(first(result).inTheWay).toEqual([
      {
        obstacle: "column",
        move: 4500,
        says: "column is in the way: it would have to go 4500 mm towards the door (seen from the door).",
      },
    ]);
    expect(result.says).toBe("It does not fit. S1: column is in the way.");
  });

  // The column at 9000 to 9300. As near the door as it goes (3775) the area ends at 9175: 175 to go.
  it("finds the least move with the vehicle out of its way as far as can be", () => {
    const bay = { ...BAY, obstacles: [{ ...COLUMN, name: "Column 4", x: 9000, y: -100 }] };
    expect(first(ask({ ...bay, noseIn: true })).inTheWay).toEqual([
      {
        obstacle: "column",
        move: 175,
        says: "Column 4 is in the way: it would have to go 175 mm further in (seen from the door).",
      },
    ]);
    // Nose out the tail (920 to either side) reaches 9175. As far right as the area lets it (−1000) it ends at −80:
    // the column, which begins at −100, has 20 to go to the left.
    expect(first(ask({ ...bay, noseIn: false })).inTheWay).toMatchObject([{ obstacle: "column", move: 20 }]);
    expect(first(ask(bay))).toMatchObject({ noseIn: false, fits: false });
  });

  // A wall-to-wall beam cannot be got out of the way inside of the bay.
  it("says so where an obstacle has nowhere to go", () => {
    const beam = { id: "beam", x: 4000, y: -2500, length: 6000, width: 5000 };
    const [way] = first(ask({ ...BAY, obstacles: [beam] })).inTheWay;
    expect(way?.says).toContain("beyond the wall");
  });

  it("drives under what hangs higher than what passes below it", () => {
    const lamp = { id: "lamp", x: 8000, y: -300, length: 200, width: 600 };
    expect(ask({ ...BAY, noseIn: true, obstacles: [{ ...lamp, from: 2000 }] }).verdict).toBe("fits");
    expect(ask({ ...BAY, noseIn: true, obstacles: [{ ...lamp, from: 1999 }] }).verdict).toBe("does-not-fit");
  });

  // A beam over the whole width near the door: over the tail only, which is 1500 high.
  it("counts the vehicle's own height", () => {
    const beam = { id: "beam", x: 0, y: -2500, length: 1000, width: 5000, from: 1600 };
    const bay = { length: 9300, width: 5000, noseIn: true, obstacles: [beam] };
    expect(ask(bay).verdict).toBe("fits");
    expect(ask(bay, { scene: { ...FJELL, height: mm(1650) } }).verdict).toBe("does-not-fit");
    const unknown = answerBay({ bay, scene: { ...FJELL, height: null }, steps: [CAMERA], targets: [] });
    expect(unknown.value?.verdict).toBe("cannot-be-told");
    expect(unknown.value?.says).toBe("Whether it fits cannot be told: S1: beam is in the way.");
    expect(unknown.missing).toMatchObject([
      {
        for: "whether everything passes below beam",
        needs: "the vehicle's height, and the height that the procedure asks to be free there",
        pointer: "/vehicle/dimensions/height",
      },
    ]);
    expect(unknown.warnings).toMatchObject([{ about: "beam" }]);
  });

  it("asks for the height of an area below something that hangs, where only that is not known", () => {
    const lamp = { id: "lamp", x: 8000, y: -300, length: 200, width: 600, from: 2000 };
    const low = stepOf("front-radar/calibration", { datum: "front-bumper", length: 4500, width: 3000 });
    const { value, missing } = answerBay({
      bay: { ...BAY, noseIn: true, length: 9200, obstacles: [lamp] },
      scene: FJELL,
      steps: [low],
      targets: [],
    });
    expect(value?.verdict).toBe("cannot-be-told");
    expect(missing).toEqual([
      {
        for: "whether everything passes below lamp",
        needs: "the height that the procedure asks to be free there",
        pointer: "",
      },
    ]);
  });

  // The areas of the radar are 1500 high; a board 1000 high at its middle, alone, could reach up to 2000.
  it("takes the procedure's height for a target that stands on the very edges of its clear area", () => {
    const area = { datum: "front-bumper", length: 2100, width: 2000, height: 1500 } as const;
    const steps = [stepOf("front-radar/calibration", area, { targets: ["board"] })];
    // The front axle stands 3775 to 3800 from the door, so that the duct hangs above the board wherever that is.
    const verdict = (x: number, width: number) => {
      const duct = { id: "duct", x: 3775 + x - 75, y: -1100, length: 100, width: 2200, from: 1600 };
      const targets = [targetAt("board", { x, y: 0, width, height: 1000 })];
      return ask({ length: 6800, width: 2200, noseIn: true, obstacles: [duct] }, { steps, targets }).verdict;
    };
    for (const edge of [900, 3000]) expect(verdict(edge, 2000)).toBe("fits");
    expect(verdict(899, 2000)).toBe("cannot-be-told");
    expect(verdict(3000, 2002)).toBe("cannot-be-told");
  });

  // The panel stands 2000 mm beside the vehicle, whose own side is 920 from its middle. A low wall takes 500 mm of the
  // bay on that side: the panel could stand beyond it only in the wall of the bay itself. A shelf on the other side lets
  // the vehicle's middle come no nearer to it than 20 mm from that of the bay.
  it.each(["left", "right"] as const)(
    "sets no panel without a depth behind an obstacle on its %s",
    (side) => {
      const sign = side === "left" ? 1 : -1;
      const panel = targetAt("panel", { x: 0, y: sign * 2000 });
      const bar = { width: 1000, left: { x: -500, y: sign * 2000 }, right: { x: 500, y: sign * 2000 } };
      const steps = [stepOf("surround-camera:left/calibration", null, { targets: ["panel"] })];
      const along = { x: 0, length: 10_000 };
      const low = { id: "wall", ...along, y: sign === 1 ? 2000 : -2500, width: 500 };
      const shelf = { id: "shelf", ...along, y: sign === 1 ? -2500 : 900, width: 1600 };
      const bay = { length: 10_000, width: 5000, noseIn: true };
      const targets = [{ ...panel, bar }];
      expect(ask({ ...bay, obstacles: [low] }, { steps, targets }).verdict).toBe("fits");
      expect(ask({ ...bay, obstacles: [low, shelf] }, { steps, targets }).verdict).toBe("does-not-fit");
    },
  );

  // A board stands 3000 mm ahead, or 5000 behind; a low wall takes 500 mm of the bay at that end, so that the board could
  // stand beyond it only in the bay's own wall: the front axle at 7000, or at 5000. Another wall at the other end leaves
  // the vehicle, from 3775 behind that axle to 900 ahead of it, places from 6510 on, or up to 5490.
  it.each([
    ["ahead", 3000, { x: 9500, length: 500 }, { x: 0, length: 2735 }],
    ["behind", -5000, { x: 0, length: 500 }, { x: 6390, length: 3610 }],
  ])("sets no board without a depth behind an obstacle %s", (_, x, atBoard, atOtherEnd) => {
    const wall = { id: "wall", y: -2500, width: 5000, ...atBoard };
    const other = { id: "other", y: -2500, width: 5000, ...atOtherEnd };
    const steps = [stepOf("front-radar/calibration", null, { targets: ["board"] })];
    const targets = [targetAt("board", { x, y: 0, width: 2000 })];
    const bay = { length: 10_000, width: 5000, noseIn: true };
    expect(ask({ ...bay, obstacles: [wall] }, { steps, targets }).verdict).toBe("fits");
    expect(ask({ ...bay, obstacles: [wall, other] }, { steps, targets }).verdict).toBe("does-not-fit");
  });

  it("names what is in the way in the order of the document", () => {
    const left = { id: "left", x: 8800, y: 1000, length: 300, width: 300 };
    const right = { id: "right", x: 8800, y: -1300, length: 300, width: 300 };
    const bay = { length: 9175, width: 3000, noseIn: true };
    for (const obstacles of [
      [left, right],
      [right, left],
    ]) {
      const { inTheWay } = first(ask({ ...bay, obstacles }));
      expect(inTheWay.map(({ obstacle }) => obstacle)).toEqual(obstacles.map(({ id }) => id));
    }
  });

  // A board whose middle is 1000 high cannot reach above 2000, since it does not reach into the floor.
  it("lets a target stand below what it cannot reach", () => {
    const steps = [stepOf("front-radar/calibration", null, { targets: ["board"] })];
    const targets = [targetAt("board", { x: 3000, y: 0, width: 2000, height: 1000 })];
    const under = (from: number): Bay => ({
      length: 6800,
      width: 2200,
      noseIn: true,
      obstacles: [{ id: "duct", x: 6700, y: -1100, length: 100, width: 2200, from }],
    });
    expect(ask(under(2000), { steps, targets }).verdict).toBe("fits");
    expect(ask(under(1999), { steps, targets }).verdict).toBe("cannot-be-told");
    expect(ask(under(1000), { steps, targets }).verdict).toBe("cannot-be-told");
    expect(ask(under(999), { steps, targets }).verdict).toBe("does-not-fit");
  });
});

describe("set-ups", () => {
  // Both areas with the vehicle between them take 4500 + 4675 + 4500 = 13675; each alone 9175.
  it("makes two where front and rear together exceed the bay", () => {
    const result = ask(BAY, { steps: [CAMERA, RADAR] });
    expect(result.verdict).toBe("fits");
    expect(result.setUps.map(({ requirements }) => requirements)).toEqual([
      [CAMERA.requirement],
      [RADAR.requirement],
    ]);
    expect(result.least).toMatchObject({ length: 9175 });
    expect(result.says).toContain("All from one set-up would take a bay of 13675 × 3000 mm");
    expect(ask({ ...BAY, length: 13_675 }, { steps: [CAMERA, RADAR] }).setUps).toHaveLength(1);
    expect(ask({ ...BAY, length: 13_674 }, { steps: [CAMERA, RADAR] }).setUps).toHaveLength(2);
  });

  it("says the least that any of them leaves", () => {
    // Ahead 10000 − 9175 and 5000 − 3000; behind, 4000 long and 3200 wide, 10000 − 8675 and 5000 − 3200.
    const behind = stepOf(RADAR.requirement, { ...BEHIND, length: 4000, width: 3200 });
    const { says, setUps } = ask(BAY, { steps: [CAMERA, behind] });
    expect(setUps.map(({ spare }) => [spare.length, spare.width])).toEqual([
      [825, 2000],
      [1325, 1800],
    ]);
    expect(says).toContain("It fits in 2 set-ups, with 825 mm to spare along the bay and 1800 mm across.");
  });

  it("keeps the order of the steps that wait for each other", () => {
    const late = { ...CAMERA, after: [RADAR.requirement] };
    expect(ask(BAY, { steps: [late, RADAR] }).setUps.map(({ requirements }) => requirements)).toEqual([
      [RADAR.requirement],
      [CAMERA.requirement],
    ]);
  });

  // Camera, radar behind, then another step ahead that waits for the radar: three turns are two too many, but the camera
  // can wait, and so two do.
  it("lets a step wait where that saves a set-up", () => {
    const last = stepOf("front-radar/calibration", AHEAD, { after: [RADAR.requirement] });
    expect(ask(BAY, { steps: [CAMERA, RADAR, last] }).setUps.map(({ requirements }) => requirements)).toEqual(
      [[RADAR.requirement], [CAMERA.requirement, last.requirement]],
    );
  });

  it("does not turn the vehicle between them without need", () => {
    // Nose out, the area behind would have more room from this column than nose in; but the area ahead has none.
    const column = { ...COLUMN, x: 0, y: 1300, length: 400, width: 1200 };
    const result = ask({ ...BAY, obstacles: [column] }, { steps: [CAMERA, RADAR] });
    expect(new Set(result.setUps.map(({ noseIn }) => noseIn)).size).toBe(1);
  });

  it("keeps apart what fits and what does not", () => {
    const long = stepOf("front-radar/calibration", { ...AHEAD, length: 6000 });
    const result = ask(BAY, { steps: [CAMERA, long] });
    expect(result.verdict).toBe("does-not-fit");
    expect(result.setUps.map(({ requirements, fits }) => ({ requirements, fits }))).toEqual([
      { requirements: [CAMERA.requirement], fits: true },
      { requirements: [long.requirement], fits: false },
    ]);
    expect(result.least).toMatchObject({ length: 10_675 });
  });

  it("keeps what does not fit for one reason in one set-up", () => {
    const narrow = stepOf("front-radar/calibration", { ...AHEAD, width: 2000 });
    const result = ask({ ...BAY, length: 9000 }, { steps: [CAMERA, narrow] });
    expect(result.setUps).toHaveLength(1);
    expect(first(result).spare.length).toBe(-175);
  });
});

describe("what is not known", () => {
  const without = (part: Partial<Scene>): Partial<Omit<Case, "bay">> => ({ scene: { ...FJELL, ...part } });

  // Without the front overhang 3775 + 4500 = 8275 are needed at least.
  it("leaves open what an overhang would decide, and only that", () => {
    const open = answerBay({
      bay: BAY,
      scene: { ...FJELL, frontOverhang: null },
      steps: [CAMERA],
      targets: [],
    });
    expect(open.value).toMatchObject({ verdict: "cannot-be-told", least: null });
    expect(open.value?.says).toBe("Whether it fits cannot be told: not all that has to be free is known.");
    expect(open.value?.setUps).toMatchObject([{ fits: null, vehicleAt: null, least: { length: 8275 } }]);
    expect(open.missing.map(({ pointer }) => pointer)).toContain("/vehicle/dimensions/frontOverhang");
    expect(ask({ ...BAY, length: 8275 }, without({ frontOverhang: null })).verdict).toBe("cannot-be-told");
    expect(ask({ ...BAY, length: 8274 }, without({ frontOverhang: null })).verdict).toBe("does-not-fit");
  });

  it("takes the place of a bumper for its overhang", () => {
    const places = [
      { datum: "front-bumper", sensor: null, position: null, x: mm(900), y: mm(0), z: null },
      { datum: "rear-bumper", sensor: null, position: null, x: mm(-3775), y: mm(0), z: null },
    ] as const;
    const result = ask(BAY, without({ frontOverhang: null, rearOverhang: null, wheelbase: null, places }));
    expect(result.verdict).toBe("fits");
    expect(first(result).spare.length).toBe(825);
  });

  it("warns where a bumper's place and its overhang differ, and takes the longer", () => {
    const places = [
      { datum: "front-bumper", sensor: null, position: null, x: mm(950), y: mm(0), z: null },
    ] as const;
    const { value, warnings } = answerBay({
      bay: BAY,
      scene: { ...FJELL, places },
      steps: [CAMERA],
      targets: [],
    });
    expect(value?.setUps[0]?.spare.length).toBe(775);
    expect(warnings).toMatchObject([{ about: "bay" }]);
  });

  // A vehicle is as wide as its tracks at least: 1580.
  it("leaves open what the width would decide", () => {
    const steps = [stepOf("front-radar/calibration", { ...AHEAD, width: 1000 })];
    expect(ask({ ...BAY, width: 1580 }, { steps, ...without({ width: null }) }).verdict).toBe(
      "cannot-be-told",
    );
    expect(ask({ ...BAY, width: 1579 }, { steps, ...without({ width: null }) }).verdict).toBe("does-not-fit");
  });

  // Wherever its middle lies, a clear area of 7000 needs a bay of 7000.
  it("knows the least length of an area around a vehicle whose ends are unknown", () => {
    const steps = [
      stepOf("surround-camera:rear/calibration", { datum: "vehicle-centre", length: 7000, width: 3000 }),
    ];
    const scene = without({ rearOverhang: null });
    for (const end of ["frontOverhang", "rearOverhang"] as const) {
      const { value, missing } = answerBay({
        bay: BAY,
        scene: { ...FJELL, [end]: null },
        steps,
        targets: [],
      });
      expect(value?.setUps[0]?.clearAreas).toEqual([]);
      expect(missing.map((each) => each.for)).toContain(
        "the place of the clear area of surround-camera:rear/calibration",
      );
    }
    expect(ask({ ...BAY, length: 7000 }, { steps, ...scene }).verdict).toBe("cannot-be-told");
    expect(ask({ ...BAY, length: 6999 }, { steps, ...scene }).verdict).toBe("does-not-fit");
  });

  it("leaves open whether a vehicle of unknown height is lower than the bay", () => {
    const { value, missing } = answerBay({
      bay: BAY,
      scene: { ...FJELL, height: null },
      steps: [CAMERA],
      targets: [],
    });
    expect(value?.verdict).toBe("cannot-be-told");
    expect(value?.setUps[0]?.spare.height).toBeNull();
    expect(missing).toMatchObject([{ pointer: "/vehicle/dimensions/height" }]);
    // The area alone is too high for this one.
    expect(ask({ ...BAY, height: 1990 }, without({ height: null })).verdict).toBe("does-not-fit");
  });

  it("names a step of which nothing is known, and lets it go with the first set-up", () => {
    const unknown = stepOf("front-radar/calibration", null);
    const { value, missing } = answerBay({
      bay: BAY,
      scene: FJELL,
      steps: [CAMERA, RADAR, unknown],
      targets: [],
    });
    expect(value?.verdict).toBe("cannot-be-told");
    expect(value?.setUps.map(({ requirements, fits }) => ({ requirements, fits }))).toEqual([
      { requirements: [CAMERA.requirement, unknown.requirement], fits: null },
      { requirements: [RADAR.requirement], fits: true },
    ]);
    expect(missing).toMatchObject([{ for: "the room that front-radar/calibration takes in the bay" }]);
  });

  it("takes a target without a place to stand in its clear area, and says so", () => {
    const step = { ...CAMERA, targets: ["board"] };
    const { value, warnings } = answerBay({
      bay: BAY,
      scene: FJELL,
      steps: [step],
      targets: [targetAt("board", null)],
    });
    expect(value?.verdict).toBe("fits");
    expect(warnings).toMatchObject([{ about: "board" }]);
  });

  it("warns only of targets without a clear area, and only of those that stand somewhere", () => {
    const about = (clearArea: typeof AHEAD | null, place: Parameters<typeof targetAt>[1]) =>
      answerBay({
        bay: BAY,
        scene: FJELL,
        steps: [stepOf("front-radar/calibration", clearArea, { targets: ["board"] })],
        targets: [targetAt("board", place)],
      }).warnings.map((each) => each.about);
    const place = { x: 3000, y: 0, width: 2000 };
    expect(about(AHEAD, place)).toEqual([]);
    expect(about(null, null)).toEqual([]);
    expect(about(null, place)).toContain("front-radar/calibration");
  });

  it("misses the place of a target that has no clear area to stand in", () => {
    const step = stepOf("front-radar/calibration", null, { targets: ["board"] });
    const { value, missing } = answerBay({
      bay: BAY,
      scene: FJELL,
      steps: [step],
      targets: [targetAt("board", null)],
    });
    expect(value?.verdict).toBe("cannot-be-told");
    expect(missing).toMatchObject([{ needs: "the place of board, or a clear area" }]);
  });

  it("has no least bay for what it does not know", () => {
    const { value, missing } = leastBay({ scene: { ...FJELL, width: null }, steps: [CAMERA], targets: [] });
    expect(value).toBeNull();
    expect(missing).toMatchObject([{ pointer: "/vehicle/dimensions/width" }]);
  });
});

describe("a bay that cannot be", () => {
  const issuesOf = (...obstacles: NonNullable<Bay["obstacles"]>): readonly string[] =>
    checkBay({ length: 10_000, width: 5000, obstacles }).map(({ code, pointer }) => `${code} ${pointer}`);

  it("is one that is not there, or has nothing in it", () => {
    expect(checkBay(undefined)).toEqual([]);
    expect(checkBay({ length: 10_000, width: 5000 })).toEqual([]);
  });

  it("has obstacles wholly outside of it", () => {
    expect(issuesOf({ ...COLUMN, x: 10_000 })).toEqual(["invalid-value /bay/obstacles/0/x"]);
    expect(issuesOf({ ...COLUMN, x: -300 })).toEqual(["invalid-value /bay/obstacles/0/x"]);
    expect(issuesOf({ ...COLUMN, y: 2500 })).toEqual(["invalid-value /bay/obstacles/0/y"]);
    expect(issuesOf({ ...COLUMN, y: -2800 })).toEqual(["invalid-value /bay/obstacles/0/y"]);
    expect(issuesOf({ ...COLUMN, x: 9999, y: -2799 })).toEqual([]);
  });

  it("has obstacles that end below their beginning", () => {
    expect(issuesOf({ ...COLUMN, from: 2000, to: 1900 })).toEqual(["invalid-value /bay/obstacles/0/to"]);
    expect(issuesOf({ ...COLUMN, from: 2000, to: 2000 })).toEqual(["invalid-value /bay/obstacles/0/to"]);
    expect(issuesOf({ ...COLUMN, from: 2000, to: 2100 })).toEqual([]);
    // Where nothing else is said it begins on the floor.
    expect(issuesOf({ ...COLUMN, to: 0 })).toEqual(["invalid-value /bay/obstacles/0/to"]);
    expect(issuesOf({ ...COLUMN, to: 1 })).toEqual([]);
  });

  it("has two obstacles of one id", () => {
    expect(issuesOf(COLUMN, { ...COLUMN, x: 500 })).toEqual(["duplicate-id /bay/obstacles/1/id"]);
  });
});
