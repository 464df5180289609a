/** Takes the bytes of a log in pieces of any length. */
export interface LogParser {
  readonly write: (piece: Uint8Array) => Promise<void>;
  readonly end: () => Promise<void>;
  /** The reference that the log states; complete after `end`. */
  readonly reference: () => string | null;
}
