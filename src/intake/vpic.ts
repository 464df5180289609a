import { readVin, type JobEquipment, type JobVehicle, type Warning } from "../job/index.js";
import { describeValue } from "../shapes/index.js";
import { capital, FEATURE_IDS, type FeatureId, type FeatureValue } from "../vocabulary/index.js";
import { readVpicAnswer, type VpicResult } from "./vpic-answer.js";
import {
  CLASS_OF_TYPE,
  DESTINATIONS,
  DRIVE_SIDES,
  ERRORS_OF_YEAR,
  ERROR_MEANINGS,
  KEY_OF_FEATURE,
  TYRE_PRESSURE_KINDS,
  VALUE_OF_FEATURE,
  type VpicKey,
} from "./vpic-words.js";

/** What a VIN decoder's answer says of a vehicle, as far as a job has a place for it. */
export interface DecodedVehicle {
  /** Ready for a job; lengths mm. What the answer does not say, or says in words not known here, is left out or unknown. */
  readonly vehicle: JobVehicle;
  /** Whether the decoder found nothing to object to: its error code is 0 and no other. */
  readonly clean: boolean;
  /** What to mind, each with the JSON pointer of the value that it is about. */
  readonly warnings: readonly Warning[];
}

/** What one part of the answer comes to. */
interface Stated {
  readonly part: JobVehicle;
  readonly warnings: readonly Warning[];
}

/**
 * Reads the flat answer of the VIN decoder that the United States government runs (NHTSA vPIC, DecodeVinValues): features
 * and identity, and of hardware only the kind of tyre-pressure monitoring. An empty value is unknown, never absent.
 * @param response the parsed JSON: the whole answer with its one result, or the result alone; other keys are passed over
 * @throws InputError where it is no such answer, holds not exactly one result, or a value read is no text
 * @see https://vpic.nhtsa.dot.gov/api/ for the service; keys and values as read in printed answers and an open client
 */
export function vehicleFromVpic(response: unknown): DecodedVehicle {
  const result = readVpicAnswer(response);
  const codes = errorCodesOf(result);
  const side = readWord(result, "SteeringLocation", DRIVE_SIDES);
  const market = readWord(result, "DestinationMarket", DESTINATIONS);
  const context: Stated = combine([
    { part: side.word === null ? {} : { driveSide: side.word }, warnings: side.warnings },
    { part: market.word === null ? {} : { market: market.word }, warnings: market.warnings },
    readClass(result),
  ]);
  const { part, warnings } = combine([
    { part: {}, warnings: warnOfErrors(result, codes) },
    readIdentity(result, codes),
    readOwnVin(result, context.part),
    context,
    readDimensions(result),
    readFeatures(result),
    { part: {}, warnings: warnOfNotes(result) },
  ]);
  return { vehicle: part, clean: codes.length === 1 && codes[0] === "0", warnings };
}

function combine(parts: readonly Stated[]): Stated {
  return {
    part: parts.reduce<JobVehicle>((all, { part }) => ({ ...all, ...part }), {}),
    warnings: parts.flatMap(({ warnings }) => warnings),
  };
}

function warn(result: VpicResult, key: VpicKey, says: string): Warning {
  return { about: result.pointerOf(key), says };
}

/** A value that stands for a word of ours; one that is not in the table is left out with a warning. */
function readWord<Word extends string>(
  result: VpicResult,
  key: VpicKey,
  words: ReadonlyMap<string, Word>,
): { readonly word: Word | null; readonly warnings: readonly Warning[] } {
  const text = result.textOf(key);
  const word = words.get(text) ?? null;
  if (word !== null || text === "") return { word, warnings: [] };
  return { word, warnings: [warnOfUnknown(result, key)] };
}

function warnOfUnknown(result: VpicResult, key: VpicKey): Warning {
  const text = describeValue(result.textOf(key));
  return warn(result, key, `What ${text} means here is not known; it counts as unknown.`);
}

function errorCodesOf(result: VpicResult): readonly string[] {
  const codes = result.textOf("ErrorCode").split(",");
  return [...new Set(codes.map((code) => code.trim()).filter((code) => code !== ""))];
}

function warnOfErrors(result: VpicResult, codes: readonly string[]): readonly Warning[] {
  const say = (says: string): Warning => warn(result, "ErrorCode", says);
  if (codes.length === 0) {
    return [
      say("The answer gives no error code, so that nothing says whether the VIN was read without fault."),
    ];
  }
  return codes
    .filter((code) => code !== "0")
    .map((code) => {
      const meaning = ERROR_MEANINGS.get(code);
      if (meaning !== undefined) return say(`Error code ${code}. ${meaning}`);
      return say(
        `The error code ${describeValue(code)} is not known here; the decoder's own text says more.`,
      );
    });
}

function readIdentity(result: VpicResult, codes: readonly string[]): Stated {
  const make = result.textOf("Make");
  const model = result.textOf("Model");
  const year = readModelYear(result, codes);
  return {
    part: { ...(make === "" ? {} : { make }), ...(model === "" ? {} : { model }), ...year.part },
    warnings: year.warnings,
  };
}

function readModelYear(result: VpicResult, codes: readonly string[]): Stated {
  const text = result.textOf("ModelYear");
  if (text === "") return { part: {}, warnings: [] };
  const year = Number(text);
  if (!/^[0-9]{4}$/.test(text) || year < 1886 || year > 2200) {
    return { part: {}, warnings: [warnOfUnknown(result, "ModelYear")] };
  }
  const doubt = codes.find((code) => ERRORS_OF_YEAR.includes(code));
  if (doubt === undefined) return { part: { modelYear: year }, warnings: [] };
  const says = `With error code ${doubt} the model year ${text} is not to be relied on; it counts as unknown.`;
  return { part: {}, warnings: [warn(result, "ModelYear", says)] };
}

/** A VIN with gaps, or one that is wrong beyond doubt, would have the job refused. What the decoder suggests is a guess. */
function readOwnVin(result: VpicResult, { market, vehicleClass }: JobVehicle): Stated {
  const suggested =
    result.textOf("SuggestedVIN") === ""
      ? []
      : [
          warn(
            result,
            "SuggestedVIN",
            "The decoder suggests other characters for the VIN. They are not used: read it again from the vehicle.",
          ),
        ];
  const text = result.textOf("VIN");
  if (text === "") return { part: {}, warnings: suggested };
  const { vin, issues } = readVin(text, {
    market: market ?? "unknown",
    vehicleClass: vehicleClass ?? "unknown",
  });
  if (issues.length === 0) return { part: { vin }, warnings: suggested };
  const left = issues.map(({ message }) => warn(result, "VIN", `${capital(message)}; it is left out.`));
  return { part: {}, warnings: [...left, ...suggested] };
}

/** Classes 1 and 2 of the gross weight end at 10 000 lb (4536 kg), where "light" of 49 CFR 565.15 ends too. */
function readClass(result: VpicResult): Stated {
  const { word, warnings } = readWord(result, "VehicleType", CLASS_OF_TYPE);
  if (word === null) return { part: {}, warnings };
  if (word !== "by-weight") return { part: { vehicleClass: word }, warnings };
  const bounds = [result.textOf("GVWR"), result.textOf("GVWR_to")].filter((text) => text !== "");
  const weights = bounds.map((text) => /^Class ([1-8])[A-H]?:/.exec(text)?.[1] ?? null);
  if (weights.length === 0 || weights.includes(null)) return { part: {}, warnings };
  const areLight = weights.map((weight) => Number(weight) <= 2);
  if (areLight.every((isLight) => isLight)) {
    return { part: { vehicleClass: "light-multipurpose-or-truck" }, warnings };
  }
  return { part: areLight.includes(true) ? {} : { vehicleClass: "other" }, warnings };
}

const MM_PER_INCH = 25.4;
/** What a wheelbase can be, mm; common practice, no source. A number outside is in another unit, or mistyped. */
const WHEELBASES = { least: 1000, most: 10_000 };

/**
 * The shorter wheelbase is the variable "Wheel Base (inches) From", the longer "To". A printed answer has 106.30 for a
 * car of 2700 mm. Whole millimetres, since that is about as fine as hundredths of an inch that were rounded themselves.
 */
function readDimensions(result: VpicResult): Stated {
  const track =
    result.textOf("TrackWidth") === ""
      ? []
      : [
          warn(
            result,
            "TrackWidth",
            "One track width is stated without saying for which axle; it is left out.",
          ),
        ];
  const from = result.textOf("WheelBaseShort");
  const to = result.textOf("WheelBaseLong");
  if (from === "" && to === "") return { part: {}, warnings: track };
  const leave = (says: string): Stated => ({
    part: {},
    warnings: [warn(result, from === "" ? "WheelBaseLong" : "WheelBaseShort", says), ...track],
  });
  const lengths = [from, ...(to === "" ? [] : [to])].map(inchesToMillimetres);
  const [wheelbase = null, longest = wheelbase] = lengths;
  if (wheelbase === null || longest === null) {
    return leave("The wheelbase is not stated as a believable number of inches; it is left out.");
  }
  if (wheelbase !== longest) {
    return leave("A range of wheelbases is stated, and not which of them this vehicle has; it is left out.");
  }
  return { part: { dimensions: { wheelbase } }, warnings: track };
}

function inchesToMillimetres(text: string): number | null {
  if (!/^[0-9]{1,4}(\.[0-9]{1,6})?$/.test(text)) return null;
  const length = Math.round(Number(text) * MM_PER_INCH);
  return length < WHEELBASES.least || length > WHEELBASES.most ? null : length;
}

function readFeatures(result: VpicResult): Stated {
  const features: Partial<Record<FeatureId, FeatureValue>> = {};
  const warnings: Warning[] = [];
  for (const id of FEATURE_IDS) {
    const key = KEY_OF_FEATURE[id];
    if (key === null) continue;
    if (key === "TPMS" && TYRE_PRESSURE_KINDS.has(result.textOf(key))) {
      features[id] = "standard";
      continue;
    }
    const read = readWord(result, key, VALUE_OF_FEATURE);
    features[id] = read.word ?? "unknown";
    warnings.push(...read.warnings);
  }
  const variant = TYRE_PRESSURE_KINDS.get(result.textOf("TPMS"));
  if (variant === undefined) return { part: { features }, warnings };
  // No more than the feature proves by itself, since nothing else can serve it; the entry is there for the kind.
  const equipment: JobEquipment = { sensor: "tyre-pressure-sensors", fitted: "yes", variant };
  return { part: { features, equipment: [equipment] }, warnings };
}

/** Free text can say what no key says, such as which package brings a feature; it is for a person to read. */
function warnOfNotes(result: VpicResult): readonly Warning[] {
  return (["ActiveSafetySysNote", "AdditionalErrorText"] as const)
    .filter((key) => result.textOf(key) !== "")
    .map((key) =>
      warn(
        result,
        key,
        `The decoder adds a note, which is not evaluated: ${describeValue(result.textOf(key))}.`,
      ),
    );
}
