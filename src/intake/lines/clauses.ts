import { PARTING } from "./items.js";
import type { Atom, PlacedAction, PlacedPart } from "./places.js";

/** Actions with the parts that every one of them is done to. */
export interface Clause {
  readonly actions: readonly PlacedAction[];
  readonly parts: readonly PlacedPart[];
}

/** A way of cutting a line into clauses. */
export interface Cut {
  readonly clauses: readonly Clause[];
  /** The strongest sign inside a clause, and the strongest between an action and its part. */
  readonly inside: number;
  readonly between: number;
  /** The weakest sign at which the line is cut. */
  readonly weakest: number;
  /** Claims or names of work that stand alone. */
  readonly alone: number;
}

/** Beyond this nobody writes one line, and the ways of cutting it grow without use. */
const ATOM_LIMIT = 12;

/** Every way of cutting a line into clauses; null where it holds more actions and parts than a line can. */
export function cutIntoClauses(atoms: readonly Atom[]): readonly Cut[] | null {
  return atoms.length > ATOM_LIMIT ? null : [...cutFrom(atoms, 0)];
}

/**
 * Of several cuts, those that the signs allow: a line is cut at its strongest signs. Works that name no part stand alone
 * only where they cannot be about a part of the line.
 */
export function chooseCuts<T extends { readonly cut: Cut }>(all: readonly T[]): readonly T[] {
  const whole = all.filter(({ cut }) => cut.inside < cut.weakest);
  const chosen = whole.length > 0 ? whole : all.filter(({ cut }) => cut.between <= cut.weakest);
  const fewest = Math.min(...chosen.map(({ cut }) => cut.alone));
  return chosen.filter(({ cut }) => cut.alone === fewest);
}

function* cutFrom(atoms: readonly Atom[], from: number): Generator<Cut> {
  for (let end = from + 1; end <= atoms.length; end += 1) {
    const clause = readClause(atoms.slice(from, end));
    if (clause === null) continue;
    if (end === atoms.length) {
      yield { ...clause, clauses: [clause.clause], weakest: Infinity };
      continue;
    }
    for (const rest of cutFrom(atoms, end)) {
      yield {
        clauses: [clause.clause, ...rest.clauses],
        inside: Math.max(clause.inside, rest.inside),
        between: Math.max(clause.between, rest.between),
        weakest: Math.min(atoms[end]?.gap ?? 0, rest.weakest),
        alone: clause.alone + rest.alone,
      };
    }
  }
}

interface OneClause {
  readonly clause: Clause;
  readonly inside: number;
  readonly between: number;
  readonly alone: number;
}

/** Reads atoms as one clause: actions before their parts, after them, or on both sides. */
function readClause(atoms: readonly Atom[]): OneClause | null {
  const actions = atoms.filter((atom) => atom.kind === "action");
  const parts = atoms.filter((atom) => atom.kind === "part");
  if (actions.length === 0 || parts.length === 0) return readLoneAtom(atoms);
  if (actions.some(isScan)) return null;
  const kinds = atoms.map(({ kind }) => kind);
  const first = kinds.indexOf("part");
  const last = kinds.lastIndexOf("part");
  const listed = atoms.slice(first, last + 1);
  const isSolid = listed.every(({ kind }) => kind === "part");
  // Two names side by side are one part that the lexicon lacks, not two.
  if (!isSolid || listed.slice(1).some(({ gap }) => gap === PARTING.bracket)) return null;
  // "Paint: R&I handle": the first word heads a section, and says nothing of the handle.
  if (atoms.slice(1, first).some(({ gap }) => gap >= PARTING.colon)) return null;
  const after = atoms[last + 1];
  if (parts.length > 1 && first > 0 && after !== undefined) {
    const list = Math.max(...listed.slice(1).map(({ gap }) => gap));
    if (list > PARTING.and && after.gap < list) return null;
  }
  const gaps = atoms.slice(1).map(({ gap }) => gap);
  return {
    clause: { actions, parts },
    inside: Math.max(...gaps),
    between: Math.max(first > 0 ? (atoms[first]?.gap ?? 0) : 0, after?.gap ?? 0),
    alone: 0,
  };
}

/** A scan or a calibration without its object, or a name that says by itself what is done. */
function readLoneAtom(atoms: readonly Atom[]): OneClause | null {
  const [atom] = atoms;
  if (atoms.length !== 1 || atom === undefined) return null;
  const none = { inside: 0, between: 0 };
  if (atom.kind === "part") {
    if (atom.item.means.implied === undefined) return null;
    return { clause: { actions: [], parts: [atom] }, ...none, alone: 1 };
  }
  if (isScan(atom)) return { clause: { actions: [atom], parts: [] }, ...none, alone: 0 };
  const isCalibration = atom.item.means.actions[0] === "calibrate" && atom.item.means.needsPart !== true;
  return isCalibration ? { clause: { actions: [atom], parts: [] }, ...none, alone: 1 } : null;
}

function isScan(atom: Atom): boolean {
  return atom.kind === "action" && atom.item.means.actions[0] === "scan";
}
