// Speed of set-ups: how many a second in one process, against parsing and printing the same documents. `npm run bench:setup`.
import { readFileSync, readdirSync } from "node:fs";
import { checkSetup, loadProcedures, type Setup } from "../../src/index.js";
import { timeOf } from "./time.js";

const readJson = (path: string): unknown => JSON.parse(readFileSync(path, "utf8"));
const SETUPS = "docs/demo/setups";
const PROCEDURES = "docs/demo/procedures";
const procedures = readdirSync(PROCEDURES).map((file) =>
  loadProcedures(readJson(`${PROCEDURES}/${file}`), file),
);

for (const file of readdirSync(SETUPS).sort()) {
  const text = readFileSync(`${SETUPS}/${file}`, "utf8");
  const setup = JSON.parse(text) as Setup;
  const printed = JSON.stringify(checkSetup(setup, { procedures }));
  const whole = timeOf(() => JSON.stringify(checkSetup(JSON.parse(text) as Setup, { procedures })));
  const limit = timeOf(() => JSON.stringify([JSON.parse(text), JSON.parse(printed)]));
  console.log(
    `${file}: ${whole.toFixed(2)} ms each, ${Math.round(1000 / whole)} a second; ${(whole / limit).toFixed(1)} times parsing and printing alone`,
  );
}
