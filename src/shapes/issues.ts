import type { z } from "zod";
import { nearestOf, type ErrorCode, type Issue } from "../errors.js";

/** Writes a path of keys and indices as a JSON pointer (RFC 6901). */
export function pointerOf(path: readonly PropertyKey[]): string {
  return path.map((key) => `/${String(key).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

/** What the converter has to know of a schema to name the keys that a place accepts. */
type Schema = z.core.$ZodType;

/**
 * Turns the findings of a schema into issues: one sentence each, with the pointer, what was expected and the
 * nearest name. `shapeCode` replaces the code of findings about form, for documents that have one of their own.
 */
export function issuesOf(
  error: z.core.$ZodError,
  schema: Schema,
  input: unknown,
  shapeCode?: ErrorCode,
): readonly Issue[] {
  const issues = error.issues.flatMap((issue) => convert(issue, [], schema, input));
  // Of a document of another kind the rest of this schema has nothing to say.
  const ofAnotherKind = issues.filter(({ code }) => code === "unknown-schema");
  if (ofAnotherKind.length > 0) return ofAnotherKind;
  if (shapeCode === undefined) return issues;
  return issues.map((issue) => ({ ...issue, code: shapeCode }));
}

function convert(
  issue: z.core.$ZodIssue,
  above: readonly PropertyKey[],
  schema: Schema,
  input: unknown,
): readonly Issue[] {
  const path = [...above, ...issue.path];
  const pointer = pointerOf(path);
  switch (issue.code) {
    case "unrecognized_keys": {
      const accepted = keysAt(schema, path, input);
      return issue.keys.map((key) => {
        // In a union, a key can belong to another of the alternatives than the one meant: it is no hint for itself.
        const nearest = nearestOf(
          key,
          accepted.filter((each) => each !== key),
        );
        return {
          code: "unknown-key" as const,
          pointer: pointerOf([...path, key]),
          message: `the key ${JSON.stringify(key)} has no meaning here`,
          ...(nearest === undefined ? {} : { nearest }),
        };
      });
    }
    case "invalid_type": {
      const found = valueAt(input, path);
      if (found === undefined) {
        return [
          {
            code: "missing-key",
            pointer,
            message: "this is missing",
            expected: `${describeType(issue.expected)}${acceptsNull(schema, path) ? " or null" : ""}`,
          },
        ];
      }
      return [
        {
          code: "wrong-type",
          pointer,
          message: `this is ${describeValue(found)}`,
          expected: `${describeType(issue.expected)}${acceptsNull(schema, path) ? " or null" : ""}`,
        },
      ];
    }
    case "invalid_value":
      return [
        pointer === "/schema"
          ? unknownSchema(pointer, valueAt(input, path), issue.values.map(String))
          : unknownWord(pointer, valueAt(input, path), issue.values.map(String)),
      ];
    case "invalid_union":
      return closest(issue, path, schema, input);
    case "invalid_key":
      return [
        {
          ...unknownWord(pointer, issue.path.at(-1), wordsOfKeys(issue)),
          code: "unknown-key",
        },
      ];
    case "too_small":
    case "too_big":
      return [
        {
          code: codeOfSize(issue, valueAt(input, path)),
          pointer,
          message: describeSize(issue, valueAt(input, path)),
          expected: describeBound(issue),
        },
      ];
    case "invalid_format":
      return [
        {
          code: "invalid-value",
          pointer,
          message: `${describeValue(valueAt(input, path))} does not have the right form`,
          expected: describeFormat(issue.format, "pattern" in issue ? issue.pattern : undefined),
        },
      ];
    default:
      return [{ code: "invalid-value", pointer, message: issue.message }];
  }
}

/** Of the alternatives of a union, tells about the one that the input was closest to. */
function closest(
  issue: z.core.$ZodIssueInvalidUnion,
  path: readonly PropertyKey[],
  schema: Schema,
  input: unknown,
): readonly Issue[] {
  if (issue.errors.length === 0) {
    // A discriminated union whose discriminator is wrong.
    const key = issue.discriminator ?? "";
    const value = valueAt(input, path);
    const nearby = discriminatorsAt(schema, path.slice(0, key === "" ? undefined : -1), key);
    if (value === undefined) {
      return [
        {
          code: "missing-key",
          pointer: pointerOf(path),
          message: "this is missing",
          expected: listWords(nearby),
        },
      ];
    }
    return [unknownWord(pointerOf(path), value, nearby)];
  }
  const ranked = issue.errors.map((errors, index) => ({ errors, index, atRoot: mismatches(errors) }));
  ranked.sort((a, b) => a.atRoot - b.atRoot || a.errors.length - b.errors.length || a.index - b.index);
  const best = ranked[0];
  if (best === undefined) return [];
  const wholly = issue.errors.every((errors) =>
    errors.every((each) => each.path.length === 0 && isKindOfValue(each)),
  );
  if (wholly) {
    return [
      {
        code: "wrong-type",
        pointer: pointerOf(path),
        message: `this is ${describeValue(valueAt(input, path))}`,
        expected: [...new Set(issue.errors.flatMap((errors) => errors.map(describeAlternative)))].join(
          " or ",
        ),
      },
    ];
  }
  return best.errors.flatMap((each) => convert(each, path, schema, input));
}

function isKindOfValue(issue: z.core.$ZodIssue): boolean {
  return issue.code === "invalid_type" || issue.code === "invalid_value";
}

function describeAlternative(issue: z.core.$ZodIssue): string {
  if (issue.code === "invalid_type") return describeType(issue.expected);
  if (issue.code === "invalid_value") return listWords(issue.values.map(String));
  return issue.message;
}

function mismatches(errors: readonly z.core.$ZodIssue[]): number {
  return errors.filter(
    (each) =>
      (each.code === "unrecognized_keys" && each.path.length === 0) ||
      (each.code === "invalid_type" && each.path.length <= 1) ||
      (each.code === "invalid_value" && each.path.length === 0),
  ).length;
}

/** The name and version of a document: the commonest reason is a version that this release does not read. */
function unknownSchema(pointer: string, found: unknown, words: readonly string[]): Issue {
  if (typeof found !== "string") return unknownWord(pointer, found, words);
  return {
    code: "unknown-schema",
    pointer,
    message: `${describeValue(found)} is no schema that this release reads here`,
    expected: listWords(words),
  };
}

function unknownWord(pointer: string, found: unknown, words: readonly string[]): Issue {
  if (found === undefined) {
    return { code: "missing-key", pointer, message: "this is missing", expected: listWords(words) };
  }
  if (typeof found !== "string") {
    return {
      code: "wrong-type",
      pointer,
      message: `this is ${describeValue(found)}`,
      expected: listWords(words),
    };
  }
  const nearest = nearestOf(found, words);
  return {
    code: "unknown-id",
    pointer,
    message: `${describeValue(found)} is not in the list`,
    // Where no word is near, the person needs the list itself, as long as it can be read at one look.
    expected: nearest === undefined && words.length <= 24 ? `one of ${words.join(", ")}` : listWords(words),
    ...(nearest === undefined ? {} : { nearest }),
  };
}

function wordsOfKeys(issue: z.core.$ZodIssueInvalidKey): readonly string[] {
  return issue.issues.flatMap((each) => (each.code === "invalid_value" ? each.values.map(String) : []));
}

function listWords(words: readonly string[]): string {
  if (words.length === 1) return JSON.stringify(words[0]);
  if (words.length <= 8) return `one of ${words.join(", ")}`;
  return `one of the ${words.length} words of this list`;
}

function describeType(type: string): string {
  switch (type) {
    case "string":
      return "a text";
    case "number":
      return "a number";
    case "int":
      return "a whole number";
    case "boolean":
      return "true or false";
    case "array":
      return "a list";
    case "object":
    case "record":
      return "an object";
    case "null":
      return "null";
    default:
      return type;
  }
}

type OutOfBounds = z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig;

function codeOfSize(issue: { readonly code: string }, value: unknown): ErrorCode {
  if (typeof value === "number") return "out-of-range";
  return Array.isArray(value) && issue.code === "too_big" ? "too-many" : "invalid-value";
}

function describeSize(issue: OutOfBounds, found: unknown): string {
  const isLow = issue.code === "too_small";
  if (Array.isArray(found))
    return found.length === 0 ? "the list is empty" : `the list is too ${isLow ? "short" : "long"}`;
  if (typeof found === "string")
    return found === "" ? "the text is empty" : `${describeValue(found)} is too ${isLow ? "short" : "long"}`;
  return `${describeValue(found)} is too ${isLow ? "small" : "large"}`;
}

function describeBound(issue: OutOfBounds): string {
  const isLow = issue.code === "too_small";
  const bound = isLow ? issue.minimum : issue.maximum;
  const isOne = Number(bound) === 1;
  const unit =
    issue.origin === "string"
      ? isOne
        ? " character"
        : " characters"
      : issue.origin === "array"
        ? isOne
          ? " entry"
          : " entries"
        : "";
  return isLow
    ? `${issue.inclusive === false ? "more than" : "at least"} ${String(bound)}${unit}`
    : `${issue.inclusive === false ? "less than" : "at most"} ${String(bound)}${unit}`;
}

function describeFormat(format: string, pattern: string | undefined): string {
  if (format === "datetime") return "a time such as 2026-03-02T09:10:00Z";
  if (format === "date") return "a date such as 2026-03-02";
  if (pattern === undefined) return `the format ${format}`;
  return PATTERNS[pattern] ?? `text of the form ${pattern}`;
}

/** What the commonest patterns ask for, in words. */
const PATTERNS: Readonly<Record<string, string>> = {
  "/^[a-z0-9]+(-[a-z0-9]+)*$/": "words of small letters and digits, joined by hyphens",
  "/^\\d+\\.\\d+\\.\\d+$/": "a version such as 1.0.0",
  "/^[^\\u0000-\\u001f\\u007f]*$/": "text without line breaks or other control characters",
  "/^[a-z-]+(:[a-z-]+)?$/": "a sensor, with its position after a colon where only one is meant",
};

/** A value in a few words, shortened so that a message stays one line. */
export function describeValue(value: unknown): string {
  if (value === null) return "null";
  if (Array.isArray(value)) return "a list";
  switch (typeof value) {
    case "string":
      return value.length > 60 ? `"${value.slice(0, 57)}..."` : JSON.stringify(value);
    case "number":
    case "boolean":
      return String(value);
    case "undefined":
      return "missing";
    default:
      return "an object";
  }
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = input;
  for (const key of path) {
    if (value === null || typeof value !== "object" || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

interface Inner {
  readonly type: string;
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly element?: Schema;
  readonly innerType?: Schema;
  readonly keyType?: Schema;
  readonly valueType?: Schema;
  readonly entries?: Readonly<Record<string, string>>;
  readonly options?: readonly Schema[];
  readonly getter?: () => Schema;
  readonly values?: readonly unknown[];
}

function innerOf(schema: Schema): Inner {
  return schema._zod.def;
}

/** The schemas that a value at `path` may be held against; several inside a union. */
function schemasAt(schema: Schema, path: readonly PropertyKey[]): readonly Schema[] {
  const inner = innerOf(schema);
  if (inner.innerType !== undefined) return schemasAt(inner.innerType, path);
  if (inner.getter !== undefined) return schemasAt(inner.getter(), path);
  if (inner.options !== undefined) return inner.options.flatMap((option) => schemasAt(option, path));
  const [first, ...rest] = path;
  if (first === undefined) return [schema];
  if (inner.shape !== undefined) {
    const next = inner.shape[String(first)];
    return next === undefined ? [] : schemasAt(next, rest);
  }
  if (inner.element !== undefined) return schemasAt(inner.element, rest);
  if (inner.valueType !== undefined) return schemasAt(inner.valueType, rest);
  return [];
}

/** Whether a place takes null as well as what it mainly asks for. */
function acceptsNull(schema: Schema, path: readonly PropertyKey[]): boolean {
  const key = path.at(-1);
  if (key === undefined) return false;
  return schemasAt(schema, path.slice(0, -1)).some((each) => {
    const field = innerOf(each).shape?.[String(key)];
    return field !== undefined && isNullable(field);
  });
}

function isNullable(schema: Schema): boolean {
  const { type, innerType } = innerOf(schema);
  if (type === "nullable") return true;
  return type === "optional" && innerType !== undefined && isNullable(innerType);
}

/** Keys accepted at a place; inside a union, those of the alternatives that share a key with the input. */
function keysAt(schema: Schema, path: readonly PropertyKey[], input: unknown): readonly string[] {
  const value = valueAt(input, path);
  const given = new Set(value !== null && typeof value === "object" ? Object.keys(value) : []);
  const shapes = schemasAt(schema, path).flatMap((each) => {
    const { shape, keyType } = innerOf(each);
    if (keyType !== undefined) return [wordsOf(keyType)];
    return shape === undefined ? [] : [Object.keys(shape)];
  });
  const sharing = shapes.filter((keys) => keys.some((key) => given.has(key)));
  return [...new Set((sharing.length > 0 ? sharing : shapes).flat())];
}

/** The words of an enum, which a record takes as its keys; none for any other schema. */
function wordsOf(schema: Schema): readonly string[] {
  return Object.values(innerOf(schema).entries ?? {});
}

function discriminatorsAt(schema: Schema, path: readonly PropertyKey[], key: string): readonly string[] {
  return schemasAt(schema, path).flatMap((each) => {
    const field = innerOf(each).shape?.[key];
    return field === undefined ? [] : (innerOf(field).values ?? []).map(String);
  });
}
