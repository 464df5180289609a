// Checks one pack folder and prints every issue: `npx tsx .ci/check-rules.ts rules/common-practice`.
import { InputError, formatIssue } from "../src/errors.js";
import { checkPack, layerPacks } from "../src/rulebook/index.js";
import { readPackFolder } from "./read-pack.js";

const folder = process.argv[2] ?? "rules/common-practice";
try {
  const book = layerPacks([checkPack(readPackFolder(folder))]);
  console.log(`${folder}: ${book.byId.size} rules, nothing to object to`);
} catch (error) {
  if (!(error instanceof InputError)) throw error;
  for (const issue of error.issues) console.error(formatIssue(issue));
  console.error(`${error.issues.length} issues`);
  process.exitCode = 3;
}
