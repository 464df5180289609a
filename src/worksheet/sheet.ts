import { formatNumber, formatTrimmed, MILLIMETRES_IN_AN_INCH } from "../measure/index.js";
import { overlap } from "./lettering.js";
import type { Box } from "./svg.js";

/** How a drawing is to be made. */
export interface DrawingOptions {
  /** Which set-up; the first one if left out. */
  readonly setUp?: string | undefined;
  /** Of the dimensions; mm if left out. */
  readonly units?: Units | undefined;
  /** Of the drawing on paper; 180 mm if left out, which A4 and Letter both hold. */
  readonly width?: number | undefined;
}
export type Units = "mm" | "in";

/** The width of a sheet on paper, never so narrow that no lettering fits. */
export function sheetWidth(width: number | undefined): number {
  return Math.max(120, width ?? 180);
}

const SCALES = [40, 50, 60, 75, 80, 100, 125, 150, 200, 250, 300, 400, 500];

/** The largest of the usual scales (1 : N) in which a length fits into the room on paper; both mm. */
export function chooseScale(fits: readonly { readonly length: number; readonly room: number }[]): number {
  const least = Math.max(...fits.map(({ length, room }) => length / room));
  return SCALES.find((scale) => scale >= least) ?? Math.ceil(least / 100) * 100;
}

const FACTORS = [1000, 500, 200, 100, 50, 20, 10, 5, 2, 1];

/** How often a rise on paper is to be enlarged so that it can be seen and stays within `most`; both mm on paper. */
export function chooseFactor(rise: number, most: number): number {
  return FACTORS.find((factor) => Math.abs(rise) * factor <= most) ?? 1;
}

/** A dimension as it stands on a drawing that names its unit once. */
export function writeDimension(length: number, units: Units): string {
  return units === "mm" ? formatTrimmed(length, 1) : formatNumber(length / MILLIMETRES_IN_AN_INCH, 2);
}

/** What stands below every drawing first: one that goes round alone still says what comes before it. */
export const DIMENSIONS_IN: Readonly<Record<Units, string>> = {
  mm: "The vehicle maker's procedure governs. Dimensions in millimetres.",
  in: "The vehicle maker's procedure governs. Dimensions in inches.",
};

/** Keeps account of what is taken on a sheet, so that no lettering stands on another or on what it speaks of. */
export class Occupancy {
  readonly #taken: Box[] = [];

  take(box: Box): void {
    this.#taken.push(box);
  }

  isFree(box: Box): boolean {
    return !this.#taken.some((taken) => overlap(taken, box));
  }

  /** Takes the first of the boxes that is free, or none. */
  takeFirst(boxes: Iterable<Box>): Box | null {
    for (const box of boxes) {
      if (this.isFree(box)) {
        this.take(box);
        return box;
      }
    }
    return null;
  }
}
