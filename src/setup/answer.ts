import type { Working } from "../measure/index.js";

/** What a part of the set-up came to, with its arithmetic and with what stood in the way. */
export interface Answer<T> {
  /** Null where it could not be computed; `missing` then says why, unless nobody asked. */
  readonly value: T | null;
  readonly workings: readonly Working[];
  readonly missing: readonly Missing[];
  readonly contradictions: readonly Contradiction[];
  readonly warnings: readonly SetupWarning[];
}

export interface Missing {
  /** What could not be computed: "marks for Board N1". */
  readonly for: string;
  /** What it would take: "the front overhang, or the place of the front bumper". */
  readonly needs: string;
  /** Where it would stand in the document. */
  readonly pointer: string;
}

export interface Contradiction {
  readonly about: readonly string[];
  readonly says: string;
}

export interface SetupWarning {
  readonly about: string;
  readonly says: string;
}

/** An answer that always has its value. */
export interface KnownAnswer<T> extends Answer<T> {
  readonly value: T;
}

/** An answer with some of its parts; the rest is empty. */
export function answer<T>(parts: Partial<Answer<T>> & { readonly value: T }): KnownAnswer<T>;
export function answer<T>(parts: Partial<Answer<T>>): Answer<T>;
export function answer<T>(parts: Partial<Answer<T>>): Answer<T> {
  return { value: null, workings: [], missing: [], contradictions: [], warnings: [], ...parts };
}
