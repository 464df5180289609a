import type { Topic, Unknown } from "../facts/index.js";
import { SENSORS } from "../vocabulary/index.js";
import type { Draft } from "./draft.js";
import type { PlanQuestion } from "./shape.js";

/** Questions in their order, with the number that each open point got. */
export interface Questions {
  readonly list: readonly PlanQuestion[];
  /** The question of an open point, by its key; points that settle nothing have none. */
  readonly idOf: (unknown: Unknown) => string | undefined;
}

/** Among equals: whether a sensor is there comes before where it sits, and that before what carries the parts around it. */
const FIRST: readonly Topic[] = ["fitted", "mount", "looksThrough"];

function rankOf({ topic }: Unknown): number {
  if (topic === "carriedBy") return FIRST.length + 1;
  const rank = FIRST.indexOf(topic);
  return rank < 0 ? FIRST.length : rank;
}

/** A question about the whole job, and the sensors that its answer could add requirements for. */
export interface JobQuestion {
  readonly unknown: Unknown;
  readonly couldAdd: readonly string[];
}

/** How much a requirement weighs in the order of questions, by what an answer could raise it to. */
const WEIGHTS = { required: 3, presumed: 2, "inspect-first": 1 } as const;

/** What looks far ahead or behind does most harm when it is off, so what decides over it is asked before the rest. */
const AIM_CRITICAL = 3;

/**
 * Puts the open points as questions, the one that bears on most still unsettled requirements first, and so on:
 * a greedy cover, in which a requirement weighs more the firmer it could become. The list is short, not always the
 * shortest; where a requirement hangs on several points, each is asked.
 */
export function askQuestions(drafts: readonly Draft[], ofJob: readonly JobQuestion[]): Questions {
  const points = new Map<string, { readonly unknown: Unknown; readonly settles: string[] }>();
  const weightOf = new Map(
    drafts.map(({ key, sensor, couldRiseTo }) => {
      const weight = couldRiseTo === null ? 0 : WEIGHTS[couldRiseTo];
      return [key, SENSORS[sensor.sensor].aimCritical ? weight * AIM_CRITICAL : weight];
    }),
  );
  const weigh = (ids: readonly string[]): number => ids.reduce((sum, id) => sum + (weightOf.get(id) ?? 0), 0);
  for (const draft of drafts) {
    for (const unknown of draft.unknowns) {
      const point = points.get(unknown.key) ?? { unknown, settles: [] };
      point.settles.push(draft.key);
      points.set(unknown.key, point);
    }
  }
  const jobPoints = new Map(ofJob.map((question) => [question.unknown.key, question]));
  const waiting = [...points.values()].sort(
    (a, b) => rankOf(a.unknown) - rankOf(b.unknown) || (a.unknown.key < b.unknown.key ? -1 : 1),
  );
  const ordered: { readonly unknown: Unknown; readonly settles: readonly string[] }[] = [];
  const settled = new Set<string>();
  while (waiting.length > 0) {
    let best = 0;
    let most = -1;
    waiting.forEach(({ settles }, index) => {
      const fresh = weigh(settles.filter((id) => !settled.has(id)));
      // Among equals the one that bears on more goes first; the list is sorted, so ties are stable.
      const weight = fresh * 1000 + weigh(settles);
      if (weight > most) {
        most = weight;
        best = index;
      }
    });
    for (const next of waiting.splice(best, 1)) {
      ordered.push(next);
      for (const id of next.settles) settled.add(id);
    }
  }
  const rest = [...jobPoints.values()]
    .filter(({ unknown }) => !points.has(unknown.key))
    .sort((a, b) => b.couldAdd.length - a.couldAdd.length || (a.unknown.key < b.unknown.key ? -1 : 1))
    .map(({ unknown }) => ({ unknown, settles: [] as readonly string[] }));
  const list = [...ordered, ...rest].map(({ unknown, settles }, index) => ({
    id: `Q${index + 1}`,
    ask: unknown.ask,
    about: unknown.about,
    answers: [...unknown.answers],
    settles: [...settles].sort(),
    couldAdd: [...(jobPoints.get(unknown.key)?.couldAdd ?? [])],
  }));
  const ids = new Map([...ordered, ...rest].map(({ unknown }, index) => [unknown.key, `Q${index + 1}`]));
  return { list, idOf: (unknown) => ids.get(unknown.key) };
}
