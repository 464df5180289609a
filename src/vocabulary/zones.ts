import { idsOf, type Term } from "./term.js";

/** Regions of the vehicle that an impact can reach. */
export const ZONES = {
  front: { label: "front", meaning: "The end of the vehicle ahead of the front wheels." },
  rear: { label: "rear", meaning: "The end of the vehicle behind the rear wheels." },
  left: { label: "left side", meaning: "The side on the left of a person who sits facing forward." },
  right: { label: "right side", meaning: "The side on the right of a person who sits facing forward." },
  roof: { label: "roof", meaning: "The roof, its edges and the upper ends of the pillars." },
  underside: { label: "underside", meaning: "The floor and the running gear, as seen from below." },
} as const satisfies Record<string, Term>;

export type Zone = keyof typeof ZONES;
export const ZONE_IDS: readonly Zone[] = idsOf(ZONES);

/** A market, and whether a wrong check digit there proves that the vehicle identification number is wrong. */
export interface MarketTerm extends Term {
  readonly checkDigitBinding: boolean;
}

/** Markets that a vehicle can be built for; the check digit binds in the United States and Canada (49 CFR 565.15). */
export const MARKETS = {
  us: { label: "United States", meaning: "Built for sale in the United States.", checkDigitBinding: true },
  ca: { label: "Canada", meaning: "Built for sale in Canada.", checkDigitBinding: true },
  uk: { label: "United Kingdom", meaning: "Built for sale in the United Kingdom.", checkDigitBinding: false },
  eu: { label: "European Union", meaning: "Built for sale in the European Union.", checkDigitBinding: false },
  au: { label: "Australia", meaning: "Built for sale in Australia.", checkDigitBinding: false },
  jp: { label: "Japan", meaning: "Built for sale in Japan.", checkDigitBinding: false },
  other: {
    label: "another market",
    meaning: "Built for a market that has no entry of its own.",
    checkDigitBinding: false,
  },
} as const satisfies Record<string, MarketTerm>;

export type Market = keyof typeof MARKETS;
export const MARKET_IDS: readonly Market[] = idsOf(MARKETS);
