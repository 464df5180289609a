import * as z from "zod";
import { InputError, nearestOf, type Issue } from "../errors.js";
import { guardDocument, issuesOf } from "../shapes/index.js";
import { VPIC_KEYS, type VpicKey } from "./vpic-words.js";

/** The one result of an answer: what it says under each key that is read, and where in the answer. */
export interface VpicResult {
  /** Without blanks around it; "" where the answer says nothing. */
  readonly textOf: (key: VpicKey) => string;
  /** JSON pointer of a key. */
  readonly pointerOf: (key: VpicKey) => string;
}

const answerShape = z.looseObject({ Results: z.array(z.unknown()) });
const valueShape = z.string().max(2000).optional();
const resultShape = z.object(
  Object.fromEntries(VPIC_KEYS.map((key) => [key, valueShape])) as Readonly<
    Record<VpicKey, typeof valueShape>
  >,
);

const EXPECTED_KEYS = "the flat answer for one vehicle, with keys such as ErrorCode, VIN, Make and Model";

/**
 * Finds the one result in an answer of the decoder, or takes the object for the result itself.
 * @throws InputError where it is neither, or the result is not exactly one
 */
export function readVpicAnswer(response: unknown): VpicResult {
  const harmful = guardDocument(response);
  if (harmful.length > 0) throw new InputError("input", harmful);
  const isEnveloped = isObject(response) && Object.hasOwn(response, "Results");
  const result = isEnveloped ? takeOnlyResult(response) : response;
  const place = isEnveloped ? "/Results/0" : "";
  const parsed = resultShape.safeParse(result);
  if (!parsed.success) {
    const issues = issuesOf(parsed.error, resultShape, result);
    throw new InputError(
      "input",
      issues.map((issue) => ({ ...issue, pointer: place + issue.pointer })),
    );
  }
  if (!VPIC_KEYS.some((key) => parsed.data[key] !== undefined)) refuseStranger(result, place);
  return {
    textOf: (key) => parsed.data[key]?.trim() ?? "",
    pointerOf: (key) => `${place}/${key}`,
  };
}

function isObject(value: unknown): value is object {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

function takeOnlyResult(response: object): unknown {
  const parsed = answerShape.safeParse(response);
  if (!parsed.success) throw new InputError("input", issuesOf(parsed.error, answerShape, response));
  const { Results: results } = parsed.data;
  if (results.length === 1) return results[0];
  const isLong = results.some((each) => isObject(each) && Object.hasOwn(each, "Variable"));
  const issue: Issue = {
    code: results.length === 0 ? "invalid-value" : "too-many",
    pointer: "/Results",
    message: isLong
      ? "this is the long answer, with an entry for each variable"
      : `the answer holds ${results.length} results`,
    expected: isLong ? EXPECTED_KEYS : "exactly one: each vehicle has an answer of its own",
  };
  throw new InputError("input", [issue]);
}

/** An object without a single key of the decoder's would read as a vehicle of which nothing is known. */
function refuseStranger(result: unknown, place: string): never {
  const keys = isObject(result) ? Object.keys(result).slice(0, 20) : [];
  const nearest = keys.map((key) => nearestOf(key, VPIC_KEYS)).find((key) => key !== undefined);
  throw new InputError("input", [
    {
      code: "missing-key",
      pointer: place,
      message: "this holds none of the keys that the decoder answers with",
      expected: EXPECTED_KEYS,
      ...(nearest === undefined ? {} : { nearest }),
    },
  ]);
}
