import { readVin, type VinContext } from "../job/index.js";
import { nameOfRecord, type Case } from "./case.js";
import { aboutLine, listWords, makeFinding, type Draft } from "./finding.js";

/**
 * VINs that are not the job's, or not the document's where the job states none, and VINs that no vehicle of this market
 * can have. Where neither states one, records are held against one another: if they name several vehicles, that is said
 * once for the document.
 */
export function findOtherVehicles(audited: Case): readonly Draft[] {
  const { job, submitted, entries, records, dues } = audited;
  const { market = "unknown", vehicleClass = "unknown" } = job.vehicle;
  const context: VinContext = { market, vehicleClass };
  const own = job.vehicle.vin ?? submitted.vin;
  const expected = own === undefined ? null : readVin(own, context).vin;
  const judge = (vin: string): string | null => judgeVin(vin, expected, context);
  const found: Draft[] = [];
  const ofDocument = submitted.vin === undefined ? null : judge(submitted.vin);
  if (ofDocument !== null) {
    found.push(makeMismatch({}, `The document names the VIN ${submitted.vin ?? ""}: ${ofDocument}.`, []));
  }
  for (const entry of entries) {
    const evidence = entry.line.evidence ?? [];
    const wrong = evidence.flatMap(({ vin, ...each }) => {
      const fault = vin === undefined ? null : judge(vin);
      return fault === null ? [] : [{ says: `${vin ?? ""} (${fault})`, name: nameOfRecord(each) }];
    });
    if (wrong.length === 0) continue;
    const says = [...new Set(wrong.map((each) => each.says))].sort();
    found.push(
      makeMismatch(
        aboutLine(entry, dues),
        `Records on line ${entry.line.id} name another VIN: ${listWords(says, "and")}.`,
        [entry.line.id, ...wrong.map(({ name }) => name)],
      ),
    );
  }
  for (const record of records) {
    const fault = record.vin === undefined ? null : judge(record.vin);
    if (fault === null) continue;
    found.push(
      makeMismatch(
        { sensor: record.sensor ?? null, position: record.position ?? null },
        `A record, ${nameOfRecord(record)}, names the VIN ${record.vin ?? ""}: ${fault}.`,
        [nameOfRecord(record)],
      ),
    );
  }
  return expected === null ? [...found, ...findSeveral(audited, context)] : found;
}

/** What is wrong with a VIN, in words; null where nothing is. */
function judgeVin(text: string, expected: string | null, context: VinContext): string | null {
  const { vin, issues } = readVin(text, context);
  const [issue] = issues;
  if (issue !== undefined) return issue.message;
  return expected === null || vin === expected ? null : `the vehicle's is ${expected}`;
}

function findSeveral({ entries, records }: Case, context: VinContext): readonly Draft[] {
  const stated = [...entries.flatMap(({ line }) => line.evidence ?? []), ...records];
  const vins = stated.flatMap(({ vin }) => (vin === undefined ? [] : [readVin(vin, context).vin]));
  const several = [...new Set(vins)].sort();
  if (several.length < 2) return [];
  return [makeMismatch({}, `The records name several vehicles: ${listWords(several, "and")}.`, several)];
}

function makeMismatch(
  about: Parameters<typeof makeFinding>[1],
  says: string,
  because: readonly string[],
): Draft {
  return makeFinding("vehicle-mismatch", about, {
    says,
    because: ["/vehicle/vin", ...because],
    resolvedBy: "The VIN read from the vehicle, and records that name it.",
  });
}
