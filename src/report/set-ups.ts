import { InputError, nearestOf } from "../errors.js";
import type { SetupResult } from "../setup/index.js";

export type TargetResult = SetupResult["targets"][number];
/** Whether a value lies within its limits, of a target, a headlamp or a condition alike. */
export type SetupDecision = SetupResult["conditions"][number]["decision"];
type Fit = NonNullable<SetupResult["bay"]>["setUps"][number];

/** One stand of the vehicle with the targets that are used from it, as sheets and reports show it. */
export interface SetUpView {
  /** "S1"; null where no bay was asked about, so that nothing parts the targets. */
  readonly id: string | null;
  readonly title: string;
  /** How the bay fit places it; null where none does. */
  readonly fit: Fit | null;
  readonly targets: readonly TargetResult[];
}

/** The set-ups of a result in order; targets that belong to none of them come last, together. */
export function listSetUps(result: SetupResult): readonly SetUpView[] {
  const fits = result.bay?.setUps ?? [];
  const views = fits.map((fit): SetUpView => {
    const targets = result.targets.filter(({ key }) => fit.targets.includes(key));
    return { id: fit.id, title: `Set-up ${fit.id}`, fit, targets };
  });
  const rest = result.targets.filter(({ key }) => !fits.some(({ targets }) => targets.includes(key)));
  if (views.length > 0 && rest.length === 0) return views;
  const title = views.length === 0 ? "Set-up" : "Targets outside of the set-ups";
  return [...views, { id: null, title, fit: null, targets: rest }];
}

/** The set-up of an id, or the first one; an `InputError` (unknown-reference) if there is none of that id. */
export function findSetUp(result: SetupResult, id: string | undefined): SetUpView {
  const views = listSetUps(result);
  const found = id === undefined ? views[0] : views.find((view) => view.id === id);
  if (found !== undefined) return found;
  const ids = views.flatMap((view) => view.id ?? []);
  const nearest = nearestOf(id ?? "", ids);
  throw new InputError("input", [
    {
      code: "unknown-reference",
      pointer: "",
      message: `no set-up is called ${JSON.stringify(id)}`,
      expected: ids.length === 0 ? "no id, since no bay parts the set-ups" : ids.join(", "),
      ...(nearest === undefined ? {} : { nearest }),
    },
  ]);
}

/** The number of a target on drawings and in tables: its place in the result, from 1. */
export function numberOf(result: SetupResult, target: TargetResult): number {
  return result.targets.findIndex(({ key }) => key === target.key) + 1;
}
