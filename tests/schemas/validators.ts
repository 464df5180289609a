import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Ajv2020, type AnySchema, type ValidateFunction } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { generateSchemas } from "../../.ci/schemas.js";

/** A file of the repository, parsed. */
export function readJson(path: string): unknown {
  return JSON.parse(readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)), "utf8"));
}

export const generated = generateSchemas();
export const NAMES = Object.keys(generated).sort();

/** Compiles a published schema as any user of it would, in strict mode: an unknown keyword or format throws. */
export function validatorOf(name: string): ValidateFunction {
  const ajv = new Ajv2020({
    strict: true,
    allowUnionTypes: true,
    strictRequired: false,
    strictTuples: false,
    allErrors: true,
  });
  formats.default(ajv);
  return ajv.compile(readJson(`schemas/${name}.schema.json`) as AnySchema);
}

/** What a validator objects to in a document, one line each. */
export function objectionsOf(validate: ValidateFunction, document: unknown): readonly string[] {
  if (validate(document)) return [];
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message ?? ""}`);
}
