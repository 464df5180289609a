import type { Issue } from "../../errors.js";
import {
  atan,
  degrees,
  formatAngle,
  formula,
  mm,
  tan,
  type Degrees,
  type Millimetres,
} from "../../measure/index.js";
import { answer, type Answer, type Contradiction, type Missing } from "../answer.js";
import { answerScene } from "./frame.js";
import { readThrust, readToe, type Reading } from "./read-angles.js";
import type { AlignmentResult } from "../result.js";
import type { Setup } from "../shape.js";

type RearToe = NonNullable<Setup["rearToe"]>;
type StatedThrust = NonNullable<Setup["thrustAngle"]>;
type SetBack = NonNullable<Setup["setBack"]>;
type Thrust = NonNullable<AlignmentResult["thrust"]>;

/** The largest set-back that an axle of a car can have: beyond it a unit or a decimal point is wrong. */
const LARGEST_SET_BACK = { deg: 10, mm: 300 } as const;

/**
 * How far a printed thrust angle may lie from that of the printed toes without a stated uncertainty: two roundings, each
 * to hundredths of a degree (0.01° together) or to whole minutes (0.017° together), stay below it.
 */
const ROUNDING = 0.02;

/** Sum of both toes of an axle, toe-in positive. */
export const totalToe = formula({
  id: "total-toe",
  gives: "total rear toe, toe-in positive",
  text: "left + right",
  inputs: { left: "deg", right: "deg" },
  result: "deg",
  compute: ({ left, right }) => left + right,
});

/** A left wheel toed in points to the right, a right wheel toed in to the left; the thrust line bisects them. */
export const thrustHeading = formula({
  id: "thrust-heading",
  gives: "heading of the thrust line, to the left positive (ISO 8855)",
  text: "(right - left) / 2",
  inputs: { left: "deg", right: "deg" },
  result: "deg",
  compute: ({ left, right }) => (right - left) / 2,
});

/** The thrust angle as the trade prints it, to the right positive, from both rear toes (toe-in positive). */
export const thrustAsPrinted = formula({
  id: "thrust-as-printed",
  gives: "thrust angle as the trade prints it, to the right positive",
  text: "(left - right) / 2",
  inputs: { left: "deg", right: "deg" },
  result: "deg",
  compute: ({ left, right }) => (left - right) / 2,
});

/** From one sign to the other, either way. */
export const otherThrustSign = formula({
  id: "other-thrust-sign",
  gives: "thrust angle, the other side positive",
  text: "0 - thrust",
  inputs: { thrust: "deg" },
  result: "deg",
  // Not the unary minus, which would make -0 of a thrust line that runs straight ahead.
  compute: ({ thrust }) => 0 - thrust,
});

export const thrustUncertainty = formula({
  id: "thrust-uncertainty",
  gives: "standard uncertainty of the thrust angle, from that of each rear toe",
  text: "uToe / sqrt(2)",
  inputs: { uToe: "deg" },
  result: "deg",
  compute: ({ uToe }) => uToe / Math.SQRT2,
});

/** A set-back as the angle of its axle, from its length and the track. */
export const setBackAngle = formula({
  id: "set-back-angle",
  gives: "set-back as an angle, right wheel rearward positive",
  text: "atan(setBack / track)",
  inputs: { setBack: "mm", track: "mm" },
  result: "deg",
  compute: ({ setBack, track }) => atan(setBack / track),
});

export const setBackLength = formula({
  id: "set-back-length",
  gives: "set-back as a length, right wheel rearward positive",
  text: "track * tan(setBack)",
  inputs: { setBack: "deg", track: "mm" },
  result: "mm",
  compute: ({ setBack, track }) => track * tan(setBack),
});

/** The thrust line passes through the middle of the rear axle, at x = −wheelbase; the front axle is no pivot. */
export const lateralOnThrustLine = formula({
  id: "lateral-on-thrust-line",
  gives: "place of the thrust line to the left of the centre line",
  text: "(x + wheelbase) * tan(heading)",
  inputs: { x: "mm", wheelbase: "mm", heading: "deg" },
  result: "mm",
  compute: ({ x, wheelbase, heading }) => (x + wheelbase) * tan(heading),
});

export const FORMULAS = [
  totalToe,
  thrustHeading,
  thrustAsPrinted,
  otherThrustSign,
  thrustUncertainty,
  setBackAngle,
  setBackLength,
  lateralOnThrustLine,
] as const;

/**
 * Works out total rear toe, thrust line (from the rear toes, or as stated where they are not) and set-back.
 *
 * A stated thrust angle that the toes beside it contradict leaves the thrust line unknown. Angles in degrees, lengths mm.
 */
export function answerAlignment(setup: Setup): Answer<AlignmentResult> {
  const { rearToe, thrustAngle, setBack } = setup;
  if (rearToe === undefined && thrustAngle === undefined && setBack === undefined) return answer({});
  const toes = rearToe === undefined ? NOTHING : answerToes(rearToe);
  const stated = thrustAngle === undefined ? NOTHING : answerStatedThrust(thrustAngle);
  const contradictions = compareThrusts(toes.value?.thrust, stated.value);
  const agreed = contradictions.length === 0;
  const back = setBack === undefined ? NOTHING : answerSetBack(setBack, setup);
  // The arithmetic of a thrust line is printed for the one that counts.
  const counted = toes.value === null ? [toes, stated, back] : [toes, back];
  return answer({
    value: {
      totalRearToe: toes.value?.total ?? null,
      thrust: agreed ? (toes.value?.thrust ?? stated.value) : null,
      setBack: back.value,
    },
    workings: counted.flatMap(({ workings }) => workings),
    missing: [...toes.missing, ...stated.missing, ...(agreed ? [] : [ONE_THRUST_LINE]), ...back.missing],
    contradictions,
  });
}

const NOTHING = answer<never>({});

const ONE_THRUST_LINE: Missing = {
  for: "the thrust line",
  needs: "rear toes and a thrust angle that agree, or one of the two",
  pointer: "/thrustAngle",
};

function answerToes(rearToe: RearToe): Answer<{ readonly total: Degrees; readonly thrust: Thrust }> {
  const readings = [readToe(rearToe, "left"), readToe(rearToe, "right")] as const;
  const [left, right] = readings;
  if ("issue" in left || "issue" in right) {
    return answer({ missing: readings.flatMap((each) => unread("rear toe and thrust line", each)) });
  }
  const toes = { left: left.angle, right: right.angle };
  const u = rearToe.u === undefined ? null : { uToe: degrees(rearToe.u) };
  return answer({
    value: {
      total: totalToe(toes),
      thrust: {
        ...describeHeading(thrustHeading(toes)),
        trade: thrustAsPrinted(toes),
        u: u === null ? null : thrustUncertainty(u),
        from: "rear-toe",
      },
    },
    workings: [
      ...left.workings,
      ...right.workings,
      totalToe.work(toes),
      thrustHeading.work(toes),
      thrustAsPrinted.work(toes),
      ...(u === null ? [] : [thrustUncertainty.work(u)]),
    ],
  });
}

function answerStatedThrust(stated: StatedThrust): Answer<Thrust> {
  const reading = readThrust(stated);
  if ("issue" in reading) return answer({ missing: unread("the thrust line", reading) });
  const given = { thrust: reading.angle };
  const isTrade = stated.sign === "right-positive";
  const other = otherThrustSign(given);
  return answer({
    value: {
      ...describeHeading(isTrade ? other : reading.angle),
      trade: isTrade ? reading.angle : other,
      u: stated.u ?? null,
      from: "thrust-angle",
    },
    workings: [otherThrustSign.work(given, isTrade ? thrustHeading.gives : thrustAsPrinted.gives)],
  });
}

function describeHeading(heading: Degrees): Pick<Thrust, "heading" | "pointsTo"> {
  if (heading === 0) return { heading, pointsTo: "straight-ahead" };
  return { heading, pointsTo: heading > 0 ? "left" : "right" };
}

function compareThrusts(ofToes: Thrust | undefined, stated: Thrust | null): readonly Contradiction[] {
  if (ofToes === undefined || stated === null) return [];
  const limit = Math.max(ROUNDING, 3 * Math.hypot(ofToes.u ?? 0, stated.u ?? 0));
  // In binary fractions 0.12 − 0.10 is a little less or more than 0.02.
  if (Math.abs(ofToes.heading - stated.heading) <= limit + 1e-9) return [];
  const isMirrored = Math.abs(ofToes.heading + stated.heading) <= limit + 1e-9;
  const [computed, printed, most] = [ofToes.trade, stated.trade, limit].map((each) =>
    formatAngle(degrees(each)),
  );
  return [
    {
      about: ["/rearToe", "/thrustAngle"],
      says:
        `The rear toes give a thrust angle of ${computed} (to the right positive) and ${printed} is stated: ` +
        `they lie more than ${most} apart, and the thrust line counts as unknown.` +
        (isMirrored
          ? " With the other sign the two would agree: look at which side the printout counts."
          : ""),
    },
  ];
}

function answerSetBack(setBack: SetBack, setup: Setup): Answer<SetBackResult> {
  const { axle, unit } = setBack;
  const value = setBack.sign === "right-rearward-positive" ? setBack.value : 0 - setBack.value;
  const track = trackOf(axle, setup);
  if (track === null) {
    return answer({
      value: { axle, mm: unit === "mm" ? value : null, deg: unit === "deg" ? value : null },
      missing: [
        {
          for: `set-back of the ${axle} axle in ${unit === "mm" ? "degrees" : "mm"}`,
          needs: `the ${axle} track`,
          pointer: axle === "front" ? "/vehicle/dimensions/trackFront" : "/vehicle/dimensions/trackRear",
        },
      ],
    });
  }
  if (unit === "mm") {
    const working = setBackAngle.work({ setBack: mm(value), track });
    return answer({ value: { axle, mm: value, deg: working.value }, workings: [working] });
  }
  const working = setBackLength.work({ setBack: degrees(value), track });
  return answer({ value: { axle, mm: working.value, deg: value }, workings: [working] });
}
type SetBackResult = NonNullable<AlignmentResult["setBack"]>;

function trackOf(axle: SetBack["axle"], setup: Setup): Millimetres | null {
  const { value } = answerScene(setup);
  return axle === "front" ? value.trackFront : value.trackRear;
}

function unread(what: string, reading: Reading): readonly Missing[] {
  if (!("issue" in reading)) return [];
  const { expected, message, pointer } = reading.issue;
  return [{ for: what, needs: expected ?? message, pointer }];
}

/** Finds the angles of an alignment that cannot be read, lack their unit, or lie beyond what a car can have. */
export function checkAlignment({ rearToe, thrustAngle, setBack }: Setup): readonly Issue[] {
  const readings = [
    ...(rearToe === undefined ? [] : [readToe(rearToe, "left"), readToe(rearToe, "right")]),
    ...(thrustAngle === undefined ? [] : [readThrust(thrustAngle)]),
  ];
  const issues = readings.flatMap((reading) => ("issue" in reading ? [reading.issue] : []));
  // Both toes lack the same unit or diameter: it is asked for once.
  const unique = issues.filter(
    (issue, index) => issues.findIndex(({ pointer }) => pointer === issue.pointer) === index,
  );
  return [...unique, ...(setBack === undefined ? [] : checkSetBack(setBack))];
}

function checkSetBack({ value, unit }: SetBack): readonly Issue[] {
  const most = LARGEST_SET_BACK[unit];
  return Math.abs(value) <= most
    ? []
    : [
        {
          code: "out-of-range",
          pointer: "/setBack/value",
          message: `a set-back of ${value} ${unit} is more than an axle can have`,
          expected: `at most ${most} ${unit} either way`,
        },
      ];
}
