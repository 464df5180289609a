import type { Plan } from "../../src/index.js";

/** Fields of a plan that hold words of its own closed lists or references within it, and no text from outside. */
const CLOSED = new Set([
  ...[
    "schema",
    "outcome",
    "id",
    "sensor",
    "position",
    "alsoFor",
    "task",
    "standing",
    "couldRiseTo",
    "fitted",
  ],
  ...[
    "value",
    "usual",
    "kind",
    "supports",
    "read",
    "applies",
    "datum",
    "referenceLine",
    "unit",
    "laneMarkings",
  ],
  ...[
    "roadClasses",
    "run",
    "operation",
    "finding",
    "implied",
    "disturbance",
    "preconditions",
    "after",
    "evidence",
  ],
  ...["features", "possibleFeatures", "questions", "wouldHaveBeen", "reason", "action", "component", "side"],
  ...["axle", "from", "fromAll", "fromRequirement", "requirement", "neededBy", "stage", "setup", "settles"],
  ...["couldAdd", "sensors", "sense", "question"],
]);
/** `because` holds features in one place, and `about` is a list in another; both are told apart by what is above. */
const CLOSED_IN: Readonly<Record<string, readonly string[]>> = { atLeastOneOf: ["because"] };

/** The plan with every text that may come from outside replaced. */
export function withTexts(plan: Plan, text: string): Plan {
  return replace(plan, text, "") as Plan;
}

function replace(value: unknown, text: string, above: string): unknown {
  if (typeof value === "string") return text;
  if (Array.isArray(value)) return value.map((each) => replace(each, text, above));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => {
      const isObjects = Array.isArray(inner) && inner.some((each) => typeof each === "object");
      const isClosed = !isObjects && (CLOSED.has(key) || (CLOSED_IN[above] ?? []).includes(key));
      const isNested = typeof inner === "object" && inner !== null && !Array.isArray(inner);
      return [key, isClosed && !isNested ? inner : replace(inner, text, key)];
    }),
  );
}

/** Texts that break a careless page: endless words, markup, other directions of writing, accents, hidden characters. */
export const HOSTILE_TEXTS: Readonly<Record<string, string>> = {
  "a word of 300 letters": "Windschutzscheibenrahmen".repeat(13).slice(0, 300),
  markup: `</style></title><script>fetch("//x.test")</script>"><img src="//x.test/i" onerror="alert(1)">`,
  entities: `&lt;b&gt; &amp;amp; &#60;script&#62; ' " \` {{x}} \${y}`,
  Arabic: "ورشة الصيانة — استبدال الزجاج الأمامي (معايرة الكاميرا)",
  Hebrew: "מוסך רמת־גן: החלפת שמשה קדמית, כיול מצלמה 12°",
  accents: "Żółć Čeněk Příšerně-Łódź, Atelier Bœuf & Fils, Ångström Ærø, Ñandú İzmir",
  "characters that hide": "a\u202eb\u2066c\u0000d\u001be\u2028f\ud800g",
};
