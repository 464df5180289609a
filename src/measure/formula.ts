import type { Unit, UnitTypes } from "./quantity.js";

/** The names of a formula's inputs, each with its unit. */
type InputUnits = Readonly<Record<string, Unit>>;
type InputsOf<I extends InputUnits> = { readonly [K in keyof I]: UnitTypes[I[K]] };

/** One computed number with all that somebody needs to compute it again. */
export interface Working {
  /** Which formula: a stable id. */
  readonly id: string;
  /** What the number is, in the trade's words. */
  readonly gives: string;
  /** The formula over the names of its inputs; angles in degrees. */
  readonly formula: string;
  readonly inputs: readonly { readonly name: string; readonly value: number; readonly unit: Unit }[];
  readonly value: number;
  readonly unit: Unit;
}

/** A formula that computes, and that can say what it computed from what. */
export interface Formula<I extends InputUnits, R extends Unit> {
  (inputs: InputsOf<I>): UnitTypes[R];
  readonly id: string;
  readonly gives: string;
  readonly text: string;
  readonly inputs: I;
  readonly result: R;
  /** The arithmetic of one use; `gives` names what it was used for, where the formula's own words are too general. */
  readonly work: (inputs: InputsOf<I>, gives?: string) => Working;
}

/**
 * Makes a formula. `text` is printed beside the numbers, written with + - * / ^, parentheses, sqrt, abs, min, max and
 * trigonometric functions of degrees, over the names of the inputs; tests evaluate it with a general-purpose library
 * and hold it against `compute`.
 */
export function formula<const I extends InputUnits, const R extends Unit>(definition: {
  readonly id: string;
  readonly gives: string;
  readonly text: string;
  readonly inputs: I;
  readonly result: R;
  readonly compute: (inputs: InputsOf<I>) => number;
}): Formula<I, R> {
  const { id, gives, text, inputs, result, compute } = definition;
  const apply = (values: InputsOf<I>): UnitTypes[R] => compute(values) as UnitTypes[R];
  const names = Object.entries<Unit>(inputs);
  const work = (values: InputsOf<I>, what = gives): Working => ({
    id,
    gives: what,
    formula: text,
    inputs: names.map(([name, unit]) => ({ name, value: values[name] as number, unit })),
    value: apply(values),
    unit: result,
  });
  return Object.assign(apply, { id, gives, text, inputs, result, work });
}
