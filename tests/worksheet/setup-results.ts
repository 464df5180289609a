import type { SetupResult } from "../../src/setup/index.js";

type Target = SetupResult["targets"][number];

const DEGREE = Math.PI / 180;
/** The thrust line of the full set-up points 0.12° to the right. */
const HEADING = -0.12;
const WHEELBASE = 2850;

const asked = (nominal: number, tolerance: number): { nominal: number; tolerance: number } => ({
  nominal,
  tolerance,
});

/** The ends of a bar that stands across its yaw. */
function barOf(x: number, y: number, yaw: number, width: number): Target["bar"] {
  const [ahead, aside] = [(Math.sin(yaw * DEGREE) * width) / 2, (Math.cos(yaw * DEGREE) * width) / 2];
  return { width, left: { x: x - ahead, y: y + aside }, right: { x: x + ahead, y: y - aside } };
}

const nothing = { requirements: [], measured: null, corrections: [], decisions: [], tapes: [] };

const board: Target = {
  ...nothing,
  key: "forward-camera/board-n1",
  requirements: ["forward-camera/calibration"],
  sensor: "forward-camera",
  position: null,
  id: "board-n1",
  name: "Board N1, chequered field 1200 by 800 mm",
  procedure: { pack: "norrvik-fjell", section: "F-3.1" },
  datum: "front-axle",
  referenceLine: "thrust-line",
  asked: {
    distance: asked(2650, 5),
    lateral: asked(0, 3),
    height: asked(1460, 5),
    yaw: asked(0, 0.3),
    pitch: asked(0, 0.5),
    roll: asked(0, 0.3),
  },
  stands: {
    x: 2649.99,
    y: -11.52,
    height: 1460,
    heightAboveFloor: 1464.2,
    yaw: HEADING,
    pitch: 0.1,
    roll: 0,
  },
  bar: barOf(2649.99, -11.52, HEADING, 2400),
  tapes: [
    {
      from: "front-axle",
      left: 2680.1,
      right: 2683.4,
      diagonals: { fromLeft: 3330.2, fromRight: 3316.4 },
      straightsPerDegree: -41.9,
      diagonalsPerMillimetre: -1.2,
    },
    {
      from: "rear-axle",
      left: 5514.3,
      right: 5517.6,
      diagonals: { fromLeft: 5854.1, fromRight: 5846.2 },
      straightsPerDegree: -41.9,
      diagonalsPerMillimetre: -0.7,
    },
  ],
  measured: {
    distance: { value: 2652.1, u: 0.6 },
    lateral: { value: -2.7, u: 0.5 },
    height: { value: 1285, u: null },
    yaw: { value: -0.21, u: 0.02 },
    pitch: null,
    roll: null,
    fit: {
      readings: 6,
      degreesOfFreedom: 3,
      chiSquared: 2.4,
      limit: 7.81,
      agree: true,
      residuals: [{ reading: "front axle, left", residual: 0.4 }],
    },
  },
  corrections: [
    { quantity: "lateral", amount: 2.7, says: "Move it 2.7 mm to the vehicle's left." },
    { quantity: "distance", amount: -2.1, says: "Move it 2.1 mm towards the vehicle." },
    { quantity: "yaw", amount: 0.21, says: "Turn it 0.21° counter-clockwise seen from above." },
    { quantity: "height", amount: 179.2, says: "Raise it by 179.2 mm." },
  ],
  decisions: [
    {
      quantity: "lateral",
      of: "lateral place of Board N1",
      value: -2.7,
      unit: "mm",
      low: -3,
      high: 3,
      u: 0.5,
      verdict: "cannot-be-decided",
      probability: 0.73,
      guardBand: 0.83,
      largestU: 0.36,
      says: "-2.7 mm lies within ±3 mm, but too close to a limit for its uncertainty of 1 mm (k = 2): cannot be decided with this instrument; an uncertainty of at most 0.36 mm (k = 2) would decide it.",
    },
    {
      quantity: "distance",
      of: "distance of Board N1",
      value: 2652.1,
      unit: "mm",
      low: 2645,
      high: 2655,
      u: 0.6,
      verdict: "conforms",
      probability: 0.999,
      guardBand: 1,
      largestU: 3.5,
      says: "2652.1 mm lies within 2645 to 2655 mm with room for its uncertainty of 1.2 mm (k = 2): conforms.",
    },
  ],
};

const reflector: Target = {
  ...nothing,
  key: "front-radar/reflector-n4",
  requirements: ["front-radar/calibration"],
  sensor: "front-radar",
  position: null,
  id: "reflector-n4",
  name: "Corner reflector N4, edge 150 mm",
  procedure: { pack: "norrvik-fjell", section: "F-3.2" },
  datum: "front-bumper",
  referenceLine: "thrust-line",
  asked: {
    distance: asked(2000, 10),
    lateral: asked(0, 3),
    height: asked(512, 5),
    yaw: asked(0, 0.5),
    pitch: asked(0, 0.5),
    roll: asked(0, 2),
  },
  stands: { x: 2905, y: -12.05, height: 512, heightAboveFloor: 516.7, yaw: HEADING, pitch: 0.1, roll: 0 },
  bar: barOf(2905, -12.05, HEADING, 212),
};

function simulator(side: "left" | "right", sign: 1 | -1, y: number): Target {
  const yaw = sign * 32 + HEADING;
  return {
    ...nothing,
    key: `rear-corner-radar:${side}/simulator-n6-${side}`,
    requirements: [`rear-corner-radar:${side}/calibration`],
    sensor: "rear-corner-radar",
    position: side,
    id: `simulator-n6-${side}`,
    name: `Moving-target simulator N6, ${side} place`,
    procedure: { pack: "norrvik-fjell", section: "F-3.4" },
    datum: "rear-axle",
    referenceLine: "thrust-line",
    asked: {
      distance: asked(2350, 15),
      lateral: asked(sign * 1480, 10),
      height: asked(640, 10),
      yaw: asked(sign * 32, 1),
      pitch: asked(0, 1),
      roll: asked(0, 2),
    },
    stands: { x: -5200, y, height: 640, heightAboveFloor: 631.1, yaw, pitch: 0.1, roll: 0 },
    bar: barOf(-5200, y, yaw, 420),
  };
}

function mat(place: "front" | "rear", x: number): Target {
  const yaw = place === "front" ? 0 : 180;
  return {
    ...nothing,
    key: `surround-camera/mat-s-${place}`,
    requirements: ["surround-camera/calibration"],
    sensor: "surround-camera",
    position: null,
    id: `mat-s-${place}`,
    name: `Mat S, ${place}`,
    procedure: { pack: "norrvik-fjell", section: "F-3.5" },
    datum: place === "front" ? "front-axle" : "rear-axle",
    referenceLine: "centre-line",
    asked: {
      distance: asked(place === "front" ? 1700 : 1800, 20),
      lateral: asked(0, 10),
      height: asked(0, 3),
      yaw: asked(yaw, 0.5),
      pitch: asked(0, 0.5),
      roll: asked(0, 0.5),
    },
    stands: { x, y: 0, height: 0, heightAboveFloor: 0, yaw, pitch: 0, roll: 0 },
    bar: barOf(x, 0, 0, 3000),
  };
}

type SetUp = NonNullable<SetupResult["bay"]>["setUps"][number];

const setUpAhead: SetUp = {
  id: "S1",
  requirements: ["forward-camera/calibration", "front-radar/calibration"],
  targets: ["forward-camera/board-n1", "front-radar/reflector-n4"],
  noseIn: true,
  fits: true,
  vehicleAt: { x: 4400, y: 100 },
  covers: { front: 6905, rear: -3870, left: 1800, right: -1800, height: 2200 },
  least: { length: 10_775, width: 3600, height: 2200 },
  spare: { length: 725, width: 1900, height: 1000 },
  inTheWay: [],
  clearAreas: [
    {
      requirement: "forward-camera/calibration",
      area: { x: 905, y: -1800, length: 4500, width: 3600 },
      height: 2200,
    },
    {
      requirement: "front-radar/calibration",
      area: { x: 905, y: -1500, length: 6000, width: 3000 },
      height: 1500,
    },
  ],
  says: "Set-up S1 fits with 725 mm of length and 1900 mm of width to spare.",
};

const setUpAround: SetUp = {
  id: "S2",
  requirements: [
    "surround-camera/calibration",
    "rear-corner-radar:left/calibration",
    "rear-corner-radar:right/calibration",
  ],
  targets: [
    "rear-corner-radar:left/simulator-n6-left",
    "rear-corner-radar:right/simulator-n6-right",
    "surround-camera/mat-s-front",
    "surround-camera/mat-s-rear",
  ],
  noseIn: false,
  fits: false,
  vehicleAt: { x: 4200, y: 0 },
  covers: { front: 3325, rear: -7370, left: 3000, right: -3000, height: 1500 },
  least: { length: 10_695, width: 6000, height: 1500 },
  spare: { length: 805, width: -500, height: 1700 },
  inTheWay: [{ obstacle: "column", move: 250, says: "Column, grey: 250 mm to the left wall." }],
  clearAreas: [
    {
      requirement: "surround-camera/calibration",
      area: { x: -6175, y: -3000, length: 9500, width: 6000 },
      height: null,
    },
    {
      requirement: "rear-corner-radar:left/calibration",
      area: { x: -7370, y: -3000, length: 3500, width: 6000 },
      height: 1500,
    },
  ],
  says: "Set-up S2 does not fit: 500 mm of width are missing.",
};

/** Everything is known of the invented Norrvik Fjell, and something is wrong with nearly all of it. */
export const FULL: SetupResult = {
  schema: "repair-calibration/setup-result@1",
  reference: "RO-4711",
  vehicle: {
    make: "Norrvik",
    model: "Fjell",
    wheelbase: WHEELBASE,
    trackFront: 1600,
    trackRear: 1605,
    frontOverhang: 905,
    rearOverhang: 1020,
    width: 1860,
    height: 1650,
  },
  procedures: [
    {
      id: "norrvik-fjell",
      version: "1.0.0",
      digest: "sha256:aa",
      cite: "Norrvik Fjell service information, invented.",
      issued: "2024-03-01",
      invented: true,
    },
  ],
  decisionRule: {
    kind: "guarded",
    conformance: 0.9515,
    guardFactor: 0.83,
    says: "A value conforms only if it does so with a probability of at least 95.2 %.",
  },
  alignment: {
    totalRearToe: 0.24,
    thrust: { heading: HEADING, trade: 0.12, pointsTo: "right", u: 0.014, from: "rear-toe" },
    setBack: { axle: "front", mm: 4.2, deg: 0.15 },
  },
  centreLine: {
    length: 4000,
    yaw: 0.031,
    uYaw: 0.0203,
    atTargets: [
      { target: "forward-camera/board-n1", beyond: 1800, lateral: 1.2, uLateral: 1.89 },
      { target: "front-radar/reflector-n4", beyond: 2055, lateral: null, uLateral: null },
    ],
  },
  floor: {
    spots: 9,
    plane: { along: -1.6, across: 0.4, atOrigin: 12.3 },
    steepest: 1.65,
    uAlong: 0.12,
    uAcross: 0.2,
    flatness: 3.1,
    degreesOfFreedom: 6,
    residuals: [
      { x: 0, y: 800, residual: 1.2 },
      { x: 0, y: -800, residual: -1.9 },
    ],
    wheels: {
      plane: { along: -1.6, across: 0.5, atOrigin: 12 },
      twist: 0.6,
      shims: [
        { axle: "front", side: "left", thickness: 4.1 },
        { axle: "front", side: "right", thickness: 4.9 },
        { axle: "rear", side: "left", thickness: 0 },
        { axle: "rear", side: "right", thickness: 0.8 },
      ],
    },
  },
  attitude: {
    front: 2,
    rear: -8.5,
    pitch: -0.2111,
    rollFront: 0.05,
    rollRear: null,
    says: "nose up 0.21°, left side high 0.05° at the front",
    tyres: {
      front: { diameter: 701.8, specified: 701.8, raises: 0 },
      rear: { diameter: 701.8, specified: 711.3, raises: -4.75 },
      counted: true,
    },
    aim: [{ range: 50_000, vertical: 184.2 }],
  },
  targets: [
    board,
    reflector,
    simulator("left", 1, 1484.9),
    simulator("right", -1, -1475.1),
    mat("front", 1700),
    mat("rear", -4650),
  ],
  bay: {
    length: 11_500,
    width: 5500,
    height: 3200,
    obstacles: [
      { id: "column", name: "Column, grey", x: 8000, y: 2300, length: 400, width: 450, from: 0, to: null },
      { id: "lamp", name: null, x: 3000, y: -400, length: 1500, width: 300, from: 2600, to: null },
    ],
    verdict: "does-not-fit",
    says: "Set-up S2 does not fit: 500 mm of width are missing.",
    least: { length: 10_775, width: 6000, height: 2200 },
    setUps: [setUpAhead, setUpAround],
  },
  headlamps: [
    {
      position: "left",
      rule: "un-r48-dipped-beam",
      source: "UN Regulation No. 48, 6.2.6.1.2; from memory",
      load: "driver-75-kg",
      percent: 1.1,
      deg: 0.63,
      dropAtTenMetres: 110,
      decision: null,
      says: "Left headlamp: 1.1 % down, 110 mm on 10 m.",
    },
  ],
  conditions: [
    {
      precondition: "thrust-angle-in-range",
      requirements: ["forward-camera/calibration"],
      decision: {
        of: "thrust angle",
        value: -0.12,
        unit: "deg",
        low: -0.15,
        high: 0.15,
        u: 0.014,
        verdict: "conforms",
        probability: 0.98,
        guardBand: 0.023,
        largestU: 0.036,
        says: "Thrust angle: -0.12° lies within ±0.15° with room for its uncertainty of 0.03° (k = 2): conforms.",
      },
    },
  ],
  workings: [
    {
      about: "Thrust line",
      id: "thrust-heading",
      gives: "heading of the thrust line, left positive",
      formula: "(right - left) / 2",
      inputs: [
        { name: "left", value: 0.24, unit: "deg" },
        { name: "right", value: 0, unit: "deg" },
      ],
      value: -0.12,
      unit: "deg",
    },
    {
      about: "Board N1, chequered field 1200 by 800 mm",
      id: "target-x",
      gives: "its middle along the vehicle",
      formula: "datum + distance * cos(heading) - lateral * sin(heading)",
      inputs: [
        { name: "datum", value: 0, unit: "mm" },
        { name: "distance", value: 2650, unit: "mm" },
        { name: "heading", value: HEADING, unit: "deg" },
        { name: "lateral", value: 0, unit: "mm" },
      ],
      value: 2649.9941877,
      unit: "mm",
    },
    {
      about: "Thrust line",
      id: "total-toe",
      gives: "total rear toe",
      formula: "left + right",
      inputs: [
        { name: "left", value: 0.24, unit: "deg" },
        { name: "right", value: 0, unit: "deg" },
      ],
      value: 0.24,
      unit: "deg",
    },
  ],
  missing: [
    {
      for: "pitch of Board N1",
      needs: "a reading of the board against the plumb line",
      pointer: "/targets/0/measured/pitch",
    },
  ],
  contradictions: [
    {
      about: ["/thrustAngle", "/rearToe"],
      says: "The printed thrust angle disagrees with the toes beside it.",
    },
  ],
  warnings: [{ about: "/floor", says: "The floor was surveyed with nine spots only." }],
  cautions: ["The maker's procedure goes before all of this."],
};

/** Nothing is known but the wheelbase and where one target stands. */
export const POOR: SetupResult = {
  ...FULL,
  reference: null,
  vehicle: {
    make: null,
    model: null,
    wheelbase: 2700,
    trackFront: null,
    trackRear: null,
    frontOverhang: null,
    rearOverhang: null,
    width: null,
    height: null,
  },
  procedures: [],
  alignment: null,
  centreLine: null,
  floor: null,
  attitude: null,
  bay: null,
  headlamps: [],
  conditions: [],
  workings: [],
  contradictions: [],
  warnings: [],
  targets: [
    {
      ...reflector,
      procedure: null,
      referenceLine: "centre-line",
      datum: "front-axle",
      stands: { x: 2000, y: -120, height: 512, heightAboveFloor: null, yaw: 0, pitch: 0, roll: 0 },
      bar: null,
    },
    { ...board, stands: null, bar: null, tapes: [], measured: null, corrections: [], decisions: [] },
  ],
  missing: [{ for: "marks for Board N1", needs: "the toes of both rear wheels", pointer: "/rearToe" }],
};

/** Names that would break a page if they could. */
export const HOSTILE_NAMES = [
  `<script>alert("1")</script> & "quoted" 'names' ]]>`,
  "لوحة المعايرة الأمامية مع إطار قابل للتعديل ومقياس ليزر",
  `Kalibreringstavle${"n".repeat(300)}`,
  "לוח כיול 12 מ״מ (דגם ב׳)",
  "調整板調整板調整板調整板調整板調整板調整板調整板調整板調整板",
  "\u202eesrever\u202c \u0007 end",
] as const;

export const HOSTILE: SetupResult = {
  ...FULL,
  reference: HOSTILE_NAMES[0],
  vehicle: { ...FULL.vehicle, make: HOSTILE_NAMES[2], model: HOSTILE_NAMES[1] },
  targets: FULL.targets.map((target, index) => ({
    ...target,
    name: HOSTILE_NAMES[index % HOSTILE_NAMES.length] ?? "",
  })),
  bay:
    FULL.bay === null
      ? null
      : {
          ...FULL.bay,
          obstacles: FULL.bay.obstacles.map((each, index) => ({ ...each, name: HOSTILE_NAMES[index] ?? "" })),
        },
  missing: [{ for: HOSTILE_NAMES[0], needs: HOSTILE_NAMES[3], pointer: "/targets/0" }],
  cautions: [HOSTILE_NAMES[0]],
};
