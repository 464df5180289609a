import { TokenParser, TokenType, Tokenizer } from "@streamparser/json";
import { readDriveHead, type DriveSample, type SampleReader } from "../index.js";
import { InputError, nearestOf, type Issue } from "../errors.js";
import type { LogParser } from "./drive-parser.js";

const HEAD_KEYS = ["$schema", "schema", "reference", "units"] as const;
const KEYS = [...HEAD_KEYS, "samples"] as const;
const FORBIDDEN: ReadonlySet<string> = new Set(["__proto__", "constructor", "prototype"]);

/** The most bytes from one sample to the next: beyond them something else than a sample would be gathered in memory. */
const SAMPLE_LIMIT = 1024 * 1024;
/** A sample is an object in a list in an object, with nothing nested in it. */
const DEPTH_LIMIT = 8;

/** Reads a log as a JSON document of which only one sample is in memory at a time. */
export function createJsonLog(add: (sample: DriveSample) => void): LogParser {
  const log = new JsonLog(add);
  return {
    reference: () => log.reference,
    write: (piece) => {
      log.write(piece);
      return Promise.resolve();
    },
    end: () => {
      log.end();
      return Promise.resolve();
    },
  };
}

class JsonLog {
  readonly #add: (sample: DriveSample) => void;
  readonly #tokenizer = new Tokenizer();
  readonly #parser = new TokenParser({
    paths: [...HEAD_KEYS.map((key) => `$.${key}`), "$.samples.*"],
    keepStack: false,
  });
  readonly #lines = new LineCounter();
  readonly #head = new Map<string, unknown>();
  #reader: SampleReader | null = null;
  /** The keys met so far of every object that is open; null for a list. */
  readonly #open: (Set<string> | null)[] = [];
  #line = 1;
  #lineOfSample = 1;
  /** The text met last: a key, if a colon follows. */
  #text = "";
  #isBehindSamplesKey = false;
  #bytes = 0;
  #lastItem = 0;

  constructor(add: (sample: DriveSample) => void) {
    this.#add = add;
    this.#tokenizer.onToken = (token) => {
      this.#look(token.token, token.value, token.offset);
      this.#parser.write(token);
    };
    this.#parser.onValue = ({ value, key, stack }) => {
      this.#lastItem = this.#bytes;
      if (stack.length === 1) this.#takeHead(String(key), value);
      else this.#take(value, Number(key));
    };
  }

  get reference(): string | null {
    return this.#reader?.reference ?? null;
  }

  write(piece: Uint8Array): void {
    this.#lines.add(piece);
    this.#bytes += piece.length;
    this.#withoutJsonErrors(() => {
      this.#tokenizer.write(piece);
    });
    if (this.#bytes - this.#lastItem <= SAMPLE_LIMIT) return;
    this.#refuse({ code: "too-large", message: `one sample has more than ${SAMPLE_LIMIT} bytes` });
  }

  end(): void {
    this.#withoutJsonErrors(() => {
      this.#tokenizer.end();
    });
    if (this.#open.length > 0 || !this.#parser.isEnded) {
      this.#refuse({ code: "not-json", message: "the document ends before its last bracket is closed" });
    }
    if (this.#reader !== null) return;
    this.#begin();
    this.#refuse({
      code: "missing-key",
      pointer: "/samples",
      message: "this is missing",
      expected: "a list",
    });
  }

  /** Both parsers throw errors of their own, in words for programmers. */
  #withoutJsonErrors(act: () => void): void {
    try {
      act();
    } catch (error) {
      if (error instanceof InputError) throw error;
      this.#refuse({ code: "not-json", message: "the text is no JSON here, or shortly behind" });
    }
  }

  /** Looks at every token before the parser does, for what the parser does not say: keys, nesting, lines. */
  #look(token: TokenType, value: unknown, offset: number): void {
    const depth = this.#open.length;
    this.#lines.moveTo(offset);
    this.#line = this.#lines.line;
    if (depth === 2 && token !== TokenType.COMMA && !isEnd(token)) this.#lineOfSample = this.#line;
    if (this.#parser.isEnded) this.#refuse({ code: "not-json", message: "something follows the document" });
    if (depth === 0 && token !== TokenType.LEFT_BRACE) this.#refuseKind();
    if (this.#isBehindSamplesKey && token !== TokenType.LEFT_BRACKET) this.#refuseSamples();
    this.#isBehindSamplesKey = false;
    if (token === TokenType.STRING) this.#text = String(value);
    else if (token === TokenType.COLON) this.#meetKey(this.#text);
    else if (isEnd(token)) this.#open.pop();
    else if (token === TokenType.LEFT_BRACE || token === TokenType.LEFT_BRACKET) this.#enter(token);
  }

  #enter(token: TokenType): void {
    if (this.#open.length >= DEPTH_LIMIT) {
      this.#refuse({ code: "too-deep", message: "objects and lists are nested deeper than in any log" });
    }
    this.#open.push(token === TokenType.LEFT_BRACE ? new Set() : null);
  }

  #meetKey(key: string): void {
    const met = this.#open.at(-1);
    if (met === undefined || met === null) return;
    if (met.has(key)) {
      this.#refuse({ code: "duplicate-key", message: `the key ${JSON.stringify(key)} stands here twice` });
    }
    met.add(key);
    if (FORBIDDEN.has(key)) {
      this.#refuse({ code: "forbidden-key", message: `the key ${JSON.stringify(key)} is reserved` });
    }
    if (this.#open.length === 1) this.#meetHeadKey(key);
  }

  #meetHeadKey(key: string): void {
    if (!(KEYS as readonly string[]).includes(key)) {
      const nearest = nearestOf(key, KEYS);
      this.#refuse({
        code: "unknown-key",
        pointer: `/${key}`,
        message: `the key ${JSON.stringify(key)} has no meaning here`,
        ...(nearest === undefined ? { expected: KEYS.join(", ") } : { nearest }),
      });
    }
    if (key === "samples") {
      this.#begin();
      this.#isBehindSamplesKey = true;
    } else if (this.#reader !== null) {
      this.#refuse({
        code: "invalid-value",
        pointer: `/${key}`,
        message: `"${key}" stands behind the samples, which are read as they come`,
        expected: "the samples last",
      });
    }
  }

  /** A document of another kind is told by its schema, before each of its keys is one without meaning. */
  #takeHead(key: string, value: unknown): void {
    this.#head.set(key, value);
    if (key !== "schema") return;
    try {
      readDriveHead({ schema: value, units: { speed: "km/h" } });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      throw new InputError(
        "input",
        error.issues.map((issue) => ({ ...issue, line: this.#line })),
      );
    }
  }

  #begin(): void {
    this.#reader = readDriveHead(Object.fromEntries(this.#head));
  }

  #take(value: unknown, index: number): void {
    if (this.#reader === null) return;
    let isRead = false;
    try {
      const sample = this.#reader.read(value, index);
      isRead = true;
      this.#add(sample);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const place = isRead ? `/samples/${index}` : "";
      throw new InputError(
        "input",
        error.issues.map((issue) => ({ ...issue, pointer: place + issue.pointer, line: this.#lineOfSample })),
      );
    }
  }

  #refuseKind(): never {
    this.#refuse({
      code: "wrong-type",
      message: "a log in JSON is an object",
      expected: '{ "schema": …, "units": …, "samples": [ … ] }',
    });
  }

  #refuseSamples(): never {
    this.#refuse({
      code: "wrong-type",
      pointer: "/samples",
      message: "the samples are not a list",
      expected: "a list",
    });
  }

  #refuse(issue: Omit<Issue, "pointer" | "line"> & { readonly pointer?: string }): never {
    throw new InputError("input", [{ pointer: "", line: this.#line, ...issue }]);
  }
}

function isEnd(token: TokenType): boolean {
  return token === TokenType.RIGHT_BRACE || token === TokenType.RIGHT_BRACKET;
}

/** Counts the lines up to a place in a text that comes in pieces; only ever moves forward. */
class LineCounter {
  #piece: Uint8Array = new Uint8Array();
  #start = 0;
  /** Where the line ends; searched once, because a log may be one line of any length. */
  #end = Infinity;
  line = 1;

  add(piece: Uint8Array): void {
    this.moveTo(Infinity);
    this.#start += this.#piece.length;
    this.#piece = piece;
    this.#end = this.#findEnd(this.#start);
  }

  moveTo(offset: number): void {
    while (this.#end < offset) {
      this.line += 1;
      this.#end = this.#findEnd(this.#end + 1);
    }
  }

  #findEnd(from: number): number {
    const found = this.#piece.indexOf(0x0a, from - this.#start);
    return found < 0 ? Infinity : this.#start + found;
  }
}
