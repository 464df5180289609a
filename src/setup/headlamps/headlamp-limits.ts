import { type Millimetres, mm, type Percent, percent } from "../../measure/index.js";

/** How a number is known: the text was read, another text that quotes it was, or somebody remembers it. */
export type HowKnown = "read" | "second-hand" | "from-memory";

/** How a vehicle is laden while its headlamps are looked at. */
export type LoadState = "unladen" | "driver-75-kg" | "other";

/** Downwards positive; both belong to the range. */
interface Range {
  readonly low: Percent;
  readonly high: Percent;
}

/** Limits of the cut-off's inclination, and the settings marked on a vehicle that mean that they were chosen. */
export interface HeadlampRange extends Range {
  readonly marked?: Range;
}

/** A height at which a band begins or ends, and whether it is in the band. */
interface Edge {
  readonly at: Millimetres;
  readonly included: boolean;
}

/** The limits for lamps of certain heights. */
export interface HeadlampBand {
  readonly from?: Edge;
  readonly to?: Edge;
  /** More than one where the vehicle's maker chooses among them. */
  readonly ranges: readonly [HeadlampRange, ...HeadlampRange[]];
  readonly known: HowKnown;
}

/** The limits of one rule for the aim of a dipped beam. */
export interface HeadlampLimits {
  readonly id: string;
  /** What it is and whose, in words. */
  readonly name: string;
  readonly document: string;
  readonly section: string;
  readonly known: HowKnown;
  /** From and until which day it counts, as far as known; ISO 8601, the last day excluded. */
  readonly from: string | null;
  readonly until: string | null;
  /** Which height above the ground sorts a lamp into its band. */
  readonly height: "lower-edge-of-apparent-surface" | "lamp-centre";
  /** How the vehicle has to be laden; null where the text as known names no load. */
  readonly load: LoadState | null;
  /** Empty where no tolerance is known well enough to decide by. */
  readonly bands: readonly HeadlampBand[];
  /** What has to be known beside the numbers. */
  readonly note: string | null;
}

const range = (low: number, high: number): Range => ({ low: percent(low), high: percent(high) });
const below = (at: number): Edge => ({ at: mm(at), included: false });
const upTo = (at: number): Edge => ({ at: mm(at), included: true });
const from = upTo;
const above = below;

const LOW_INITIAL = range(1, 1.5);
const HIGH_INITIAL = range(1.5, 2);

const UN_R48 = {
  document: "UN Regulation No. 48",
  known: "from-memory",
  from: null,
  until: null,
  height: "lower-edge-of-apparent-surface",
  load: "driver-75-kg",
} as const;

const UK_PERIODIC = {
  document: "DVSA, Matters of Testing, and its inspection manual",
  height: "lamp-centre",
  load: null,
} as const;

/**
 * Every rule that a headlamp can be held against. Per cent, downwards positive: 1 % is 100 mm at 10 m. A number known
 * from memory or second-hand says so beside every result.
 */
export const HEADLAMP_LIMITS: readonly HeadlampLimits[] = [
  {
    ...UN_R48,
    id: "un-r48-dipped-beam",
    name: "UN type approval: range within which the dipped beam stays",
    section: "6.2.6.1.2",
    // From memory, the text asks for this range under every load of its Annex 5, of which a driver alone is one.
    note: "Newer series of amendments change the limits: the vehicle's own approval counts.",
    bands: [
      { to: below(800), ranges: [range(0.5, 2.5)], known: "second-hand" },
      {
        from: from(800),
        to: upTo(1000),
        ranges: [
          { ...range(0.5, 2.5), marked: LOW_INITIAL },
          { ...range(1, 3), marked: HIGH_INITIAL },
        ],
        known: "from-memory",
      },
      { from: above(1000), ranges: [range(1, 3)], known: "from-memory" },
    ],
  },
  {
    ...UN_R48,
    id: "un-r48-initial-aim",
    name: "UN type approval: initial aim of the dipped beam",
    section: "6.2.6.1.2",
    note: "Newer series of amendments change the limits: the vehicle's own approval counts.",
    bands: [
      { to: below(800), ranges: [LOW_INITIAL], known: "second-hand" },
      {
        from: from(800),
        to: upTo(1000),
        ranges: [
          { ...LOW_INITIAL, marked: LOW_INITIAL },
          { ...HIGH_INITIAL, marked: HIGH_INITIAL },
        ],
        known: "from-memory",
      },
      { from: above(1000), ranges: [HIGH_INITIAL], known: "from-memory" },
    ],
  },
  {
    ...UK_PERIODIC,
    id: "uk-periodic-test",
    name: "Great Britain, periodic test: dipped beam of European pattern",
    section: "headlamp aim, from 24 March 2016",
    known: "read",
    from: "2016-03-24",
    until: null,
    note: null,
    bands: [
      { to: upTo(850), ranges: [range(0.5, 2.75)], known: "read" },
      { from: above(850), ranges: [range(1.25, 2.75)], known: "second-hand" },
    ],
  },
  {
    ...UK_PERIODIC,
    id: "uk-periodic-test-before-2016-03-24",
    name: "Great Britain, periodic test until 23 March 2016: dipped beam of European pattern",
    section: "headlamp aim, until 23 March 2016",
    known: "read",
    from: null,
    until: "2016-03-24",
    note: null,
    // What counted for higher lamps at the time is not known.
    bands: [{ to: upTo(850), ranges: [range(0.5, 2)], known: "read" }],
  },
  {
    id: "de-periodic-inspection",
    name: "Germany, periodic inspection",
    document: "Guideline on headlamp inspection, VkBl. 23/2018 No. 174",
    section: "Annex 2",
    known: "second-hand",
    from: null,
    until: null,
    height: "lamp-centre",
    load: null,
    note: "The tolerances of the copies known contradict one another, so that none is used: hold the reading against the setting marked on the vehicle, with the tolerance of the guideline itself.",
    bands: [],
  },
  {
    id: "us-fmvss-108-visual",
    name: "United States, visually or optically aimed lamps",
    document: "FMVSS 108 (49 CFR 571.108)",
    section: "visual/optical aim",
    known: "from-memory",
    from: null,
    until: null,
    height: "lamp-centre",
    load: null,
    note: "A cut-off on the left of the beam (marked VOL) is aimed 0.4° below the horizontal, one on the right (VOR) at the horizontal; no tolerance is known well enough to decide by.",
    bands: [],
  },
];

export const HEADLAMP_RULE_IDS: readonly string[] = HEADLAMP_LIMITS.map(({ id }) => id);

/** The limits of a rule; undefined where there is none of that name. */
export function findHeadlampLimits(id: string): HeadlampLimits | undefined {
  return HEADLAMP_LIMITS.find((limits) => limits.id === id);
}

/** The band into which a lamp of that height falls; undefined where none is known. */
export function findBand({ bands }: HeadlampLimits, height: Millimetres): HeadlampBand | undefined {
  return bands.find(
    (band) =>
      (band.from === undefined || height > band.from.at || (band.from.included && height === band.from.at)) &&
      (band.to === undefined || height < band.to.at || (band.to.included && height === band.to.at)),
  );
}

/** The ranges that a marked setting leaves open, out of those among which the vehicle's maker chooses. */
export function chooseRanges(band: HeadlampBand, marked: number | undefined): readonly HeadlampRange[] {
  if (band.ranges.length === 1 || marked === undefined) return band.ranges;
  const chosen = band.ranges.filter(
    ({ marked: of }) => of !== undefined && marked >= of.low && marked <= of.high,
  );
  // A setting that belongs to none of them tells nothing of the choice.
  return chosen.length === 0 ? band.ranges : chosen;
}

/** A load in words, to follow "a vehicle". */
export const LOADS: Readonly<Record<LoadState, string>> = {
  unladen: "unladen",
  "driver-75-kg": "with one person (75 kg) in the driver's seat",
  other: "laden in another way",
};

const KNOWN: Readonly<Record<HowKnown, string>> = {
  read: "read at the source",
  "second-hand": "known second-hand: the text itself was not read",
  "from-memory": "from memory: the text itself was not read",
};

const HEIGHTS: Readonly<Record<HeadlampLimits["height"], string>> = {
  "lower-edge-of-apparent-surface": "height of the lower edge of the apparent surface",
  "lamp-centre": "height of the lamp's centre",
};

/** The document of some limits, how they are known, and what they presume. */
export function describeSource(limits: HeadlampLimits, known: HowKnown): string {
  return [
    `${limits.name}: ${limits.document}, ${limits.section} (${KNOWN[known]})`,
    HEIGHTS[limits.height],
    limits.load === null ? "the text as known names no load" : `vehicle ${LOADS[limits.load]}`,
    ...(limits.from === null ? [] : [`from ${limits.from}`]),
    ...(limits.until === null ? [] : [`before ${limits.until}`]),
  ].join("; ");
}
