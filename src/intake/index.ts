export {
  LABOUR_OPERATIONS,
  LABOUR_TYPES,
  PART_TYPES,
  actionOfLabourCode,
  type ExchangeCode,
  type LabourCode,
  type LabourOperation,
  type LabourReading,
  type LabourStanding,
} from "./labour-codes.js";
export {
  LINE_COUNT_LIMIT,
  LINE_LENGTH_LIMIT,
  readEstimateLines,
  type ReadLinesOptions,
} from "./lines/read-lines.js";
export {
  LINE_STATUS,
  readingShape,
  type EquipmentHint,
  type LineOperation,
  type ReadLine,
  type Reading,
} from "./lines/shape.js";
export type { Synonym } from "./lines/synonyms.js";
export { vehicleFromVpic, type DecodedVehicle } from "./vpic.js";
