import { formula, mm, type Working } from "../../measure/index.js";
import type { Missing } from "../answer.js";
import type { Point, Scene } from "../scene.js";
import type { Setup } from "../shape.js";
import { fitPlane, scatterOf, workPlaneUncertainty, type PlaneSpread, type Spot } from "./plane-fit.js";
import { placeSpots } from "./place-spots.js";

/** One cause of an uncertainty, with its own part of it in the unit of the whole. */
export interface Part {
  readonly of: string;
  readonly u: number;
}

/** How well the floor and the plane of the wheels are known; each null where it is not. */
export interface FloorSpread {
  readonly floor: PlaneSpread | null;
  readonly wheels: PlaneSpread | null;
  /** Standard deviation of the floor's spots about their plane: how far it lies elsewhere at any one place; mm. */
  readonly unevenness: number;
}

/** Law of propagation (JCGM 100:2008, 5.1.2; from memory). The two surveys are taken to be read independently. */
export const heightCorrectionUncertainty = formula({
  id: "height-correction-uncertainty",
  gives: "standard uncertainty of the plane of the wheels above the floor",
  text: "sqrt(uWheels^2 + uFloor^2 + unevenness^2)",
  inputs: { uWheels: "mm", uFloor: "mm", unevenness: "mm" },
  result: "mm",
  compute: ({ uWheels, uFloor, unevenness }) => Math.hypot(uWheels, uFloor, unevenness),
});

export const FORMULAS = [heightCorrectionUncertainty] as const;

/** How well the two planes of a surveyed floor are known; null without a survey that lays one. */
export function findFloorSpread(setup: Setup, scene: Scene): FloorSpread | null {
  const spots = placeSpots(setup.floor ?? [], scene);
  if (spots === null || spots.length < 4) return null;
  const fit = fitPlane(spots);
  const contacts = placeContacts(setup, scene);
  return {
    floor: fit.spread,
    wheels: contacts === null ? null : fitPlane(contacts).spread,
    unevenness: scatterOf(fit.residuals) ?? 0,
  };
}

/** The contacts with the uncertainties of their heights; null unless all four have height and uncertainty. */
function placeContacts({ wheelCentres = [] }: Setup, { wheels }: Scene): readonly Spot[] | null {
  const contacts = wheelCentres.flatMap(({ axle, side, z, u, uZ = u }): readonly Spot[] => {
    const wheel = wheels?.find((each) => each.axle === axle && each.side === side);
    if (wheel === undefined || z === undefined || uZ === undefined) return [];
    return [{ x: wheel.x, y: wheel.y, z: mm(z), u: mm(uZ) }];
  });
  return contacts.length === 4 ? contacts : null;
}

/** The uncertainty of the height correction at a place, and what it is made of; null where some of that is not known. */
export function workHeightSpread(
  { floor, wheels, unevenness }: FloorSpread,
  at: Point,
  label: string,
): { readonly u: number; readonly parts: readonly Part[]; readonly workings: readonly Working[] } | null {
  if (floor === null || wheels === null) return null;
  const ofWheels = workPlaneUncertainty(
    wheels,
    at,
    `${label}: standard uncertainty of the plane of the wheels there`,
  );
  const ofFloor = workPlaneUncertainty(
    floor,
    at,
    `${label}: standard uncertainty of the floor's plane there`,
  );
  const whole = heightCorrectionUncertainty.work(
    { uWheels: mm(ofWheels.value), uFloor: mm(ofFloor.value), unevenness: mm(unevenness) },
    `${label}: standard uncertainty of the plane of the wheels above the floor`,
  );
  return {
    u: whole.value,
    parts: [
      { of: "the heights under the wheels", u: ofWheels.value },
      { of: "the survey of the floor", u: ofFloor.value },
      { of: "the unevenness of the floor", u: unevenness },
    ],
    workings: [ofWheels, ofFloor, whole],
  };
}

/** What keeps the uncertainty of a height correction open; null where nothing does. */
export function missHeightSpread({ floor, wheels }: FloorSpread, label: string): Missing | null {
  const what = `how well the height of ${label} above the floor is known`;
  if (wheels === null) {
    const needs = "the standard uncertainty of the heights under the wheels (uZ, or u)";
    return { for: what, needs, pointer: "/wheelCentres" };
  }
  if (floor !== null) return null;
  return { for: what, needs: "the standard uncertainty of the floor's spots (u)", pointer: "/floor" };
}
