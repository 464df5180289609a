import { isFitSettled } from "../facts/index.js";
import { FALSE } from "../logic/index.js";
import { COMPONENTS, nameOfSensor } from "../vocabulary/index.js";
import type { Draft, Waiver } from "./draft.js";
import type { PlanInput } from "./input.js";
import type { Plan } from "./shape.js";

export function writeNotIndicated(
  input: PlanInput,
  drafts: readonly Draft[],
  waivers: readonly Waiver[],
): Plan["notIndicated"] {
  const asked = new Set([
    ...drafts.flatMap((draft) => [draft.sensor.key, ...draft.alsoFor]),
    ...waivers.map((waiver) => waiver.sensor.key),
  ]);
  const considered = input.causes.flatMap((cause) => (cause.operation === null ? [] : [cause.key])).sort();
  return input.vehicle.sensors
    .filter((sensor) => !asked.has(sensor.key))
    .map((sensor) => {
      const name = nameOfSensor(sensor.sensor, sensor.position);
      const touching = `Work on the ${name} itself, on what it is mounted on (${sensor.mountParts.map(labelOf).join(", ")}) or on what carries that.`;
      const looks = (sensor.facts.looksThrough.candidates ?? []).filter((look) => look !== "nothing");
      const covering =
        looks.length > 0
          ? [`Work on what it looks through (${looks.map((look) => labelOf(String(look))).join(", ")}).`]
          : [];
      const fit =
        sensor.isFitted === FALSE
          ? [`It counts as not fitted; if it is fitted after all, the order has to be read again.`]
          : [];
      return {
        sensor: sensor.sensor,
        position: sensor.position,
        reason:
          sensor.isFitted === FALSE
            ? ("not-fitted" as const)
            : isFitSettled(sensor)
              ? ("no-rule-asks-for-it" as const)
              : ("fitment-unknown-but-no-rule-asks-for-it" as const),
        considered,
        wouldChange: sensor.isFitted === FALSE ? fit : [touching, ...covering],
      };
    });
}

function labelOf(component: string): string {
  return (COMPONENTS as Readonly<Record<string, { readonly label: string }>>)[component]?.label ?? component;
}
