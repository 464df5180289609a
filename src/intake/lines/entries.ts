import {
  COMPONENTS,
  COMPONENT_ALIASES,
  COMPONENT_IDS,
  SENSORS,
  SENSOR_IDS,
  type ComponentId,
  type SensorId,
} from "../../vocabulary/index.js";
import type { Entry, EquipmentWord, Meaning, PartChoice } from "./meanings.js";
import {
  ACTION_WORDS,
  GRAMMAR_WORDS,
  PLACE_WORDS,
  STOP_WORDS,
  WORDS_WITHOUT_BEARING,
} from "./other-words.js";
import {
  ALIGNMENT_WORDS,
  ANGLE_WORDS,
  PART_WORDS,
  RIDE_HEIGHT_WORDS,
  SHARED_PART_WORDS,
  TAILGATE_WORDS,
} from "./part-words.js";
import {
  EQUIPMENT_WORDS,
  PLAIN_FEATURE_WORDS,
  REAR_PARKING_WORDS,
  SENSOR_WORDS,
  SHARED_SENSOR_WORDS,
  sensorChoices,
} from "./sensor-words.js";

/** Components whose names are given elsewhere, or that no name of their own stands for. */
const NAMED_ELSEWHERE: ReadonlySet<ComponentId> = new Set([
  "other",
  "sensor",
  "sensor-bracket",
  "tailgate",
  "wheel-alignment",
]);

const entriesOf = (words: readonly string[], means: Meaning): readonly Entry[] =>
  words.map((each) => ({ words: each, means }));

const part = (...choices: readonly PartChoice[]): Meaning => ({ kind: "part", choices });

/** Every phrase that the library knows; whether a hatch is called a tailgate differs between markets. */
export function builtInEntries(hatchIsTailgate: boolean): readonly Entry[] {
  return [
    ...SHARED_PART_WORDS.flatMap(([words, choices]) => entriesOf(words, part(...choices))),
    ...COMPONENT_IDS.filter((component) => !NAMED_ELSEWHERE.has(component)).flatMap((component) =>
      entriesOf(namesOfComponent(component), part({ component })),
    ),
    ...entriesOf(
      TAILGATE_WORDS,
      hatchIsTailgate
        ? part({ component: "tailgate" }, { component: "liftgate" })
        : part({ component: "tailgate" }),
    ),
    ...chassisEntries(),
    ...sensorEntries(),
    ...ACTION_WORDS.flatMap(([words, means]) => entriesOf(words, means)),
    ...PLACE_WORDS.flatMap(([words, means]) => entriesOf(words, means)),
    ...GRAMMAR_WORDS.flatMap(([words, means]) => entriesOf(words, means)),
    ...entriesOf(WORDS_WITHOUT_BEARING, { kind: "nothing" }),
    ...STOP_WORDS.flatMap(([words, why]) => entriesOf(words, { kind: "stop", why })),
    ...EQUIPMENT_WORDS.flatMap(([words, equipment]) => entriesOf(words, { kind: "equipment", equipment })),
    ...entriesOf(PLAIN_FEATURE_WORDS, { kind: "equipment", equipment: null }),
  ];
}

function chassisEntries(): readonly Entry[] {
  const alignment: readonly PartChoice[] = [{ component: "wheel-alignment" }];
  return [
    ...entriesOf(ALIGNMENT_WORDS, { kind: "part", choices: alignment, implied: "adjust" }),
    ...entriesOf(ANGLE_WORDS, { kind: "part", choices: alignment }),
    ...entriesOf(RIDE_HEIGHT_WORDS, part({ component: "ride-height" })),
  ];
}

/** Label, aliases and trade names of a component, but for those that an end of the vehicle makes of a shared name. */
function namesOfComponent(component: ComponentId): readonly string[] {
  const aliases = Object.keys(COMPONENT_ALIASES).filter((alias) => COMPONENT_ALIASES[alias] === component);
  const names = [COMPONENTS[component].label, ...aliases, ...(PART_WORDS[component] ?? [])];
  return names.map((name) => name.replaceAll("-", " ")).filter((name) => !isShared(name));
}

const SHARED: ReadonlySet<string> = new Set(SHARED_PART_WORDS.flatMap(([words]) => words));

function isShared(name: string): boolean {
  const withoutEnd = name.replace(/^(front|rear) /, "").replace("windscreen", "windshield");
  return SHARED.has(withoutEnd);
}

function sensorEntries(): readonly Entry[] {
  return [
    ...SENSOR_IDS.flatMap((sensor) =>
      namesOfSensor(sensor).flatMap((words) => [
        { words, means: sensorPart(sensor) },
        { words: `${words} bracket`, means: bracketOf(sensor) },
      ]),
    ),
    ...entriesOf(REAR_PARKING_WORDS, {
      kind: "part",
      choices: [{ component: "sensor", sensor: "parking-sensors", position: "rear" }],
      equipment: "parking-sensors",
    }),
    ...SHARED_SENSOR_WORDS.flatMap(([words, choices, equipment]) =>
      entriesOf(words, { kind: "part", choices: sensorChoices(choices), equipment }),
    ),
  ];
}

function namesOfSensor(sensor: SensorId): readonly string[] {
  if (sensor === "adaptive-headlamp") return [];
  return [SENSORS[sensor].label.replaceAll("-", " "), sensor.replaceAll("-", " "), ...SENSOR_WORDS[sensor]];
}

function sensorPart(sensor: SensorId): Meaning {
  const equipment: EquipmentWord = sensor;
  return { kind: "part", choices: [{ component: "sensor", sensor }], equipment };
}

/** The brackets of the windshield's camera and of the front radar are components of their own. */
function bracketOf(sensor: SensorId): Meaning {
  if (sensor === "forward-camera") return part({ component: "camera-bracket" });
  if (sensor === "front-radar") return part({ component: "radar-bracket" });
  return part({ component: "sensor-bracket", sensor });
}
