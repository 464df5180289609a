/**
 * Finds the value at a place of a result. A place is a JSON pointer in which a step into a list may say what the entry
 * has to hold instead of its index: "quantity=lateral", "axle=front&side=left", "decision.of=…" one level down,
 * "requirements~0=…" for the first entry of a list in it. "length" is that of a list. Throws where there is nothing.
 */
export function lookUp(document: unknown, pointer: string): unknown {
  return pointer
    .split("/")
    .slice(1)
    .reduce((value, step) => stepInto(value, step.replaceAll("~1", "/"), pointer), document);
}

function stepInto(value: unknown, step: string, pointer: string): unknown {
  if (Array.isArray(value) && step.includes("=")) {
    const wanted = step.split("&").map((each) => {
      const at = each.indexOf("=");
      return [each.slice(0, at).split(/[.~]/), each.slice(at + 1)] as const;
    });
    const found = value.filter((entry) =>
      wanted.every(([path, word]) => String(path.reduce<unknown>(valueOf, entry)) === word),
    );
    if (found.length !== 1) throw new Error(`${found.length} entries for "${step}" at ${pointer}`);
    return found[0] as unknown;
  }
  const inside = valueOf(value, step);
  if (inside === undefined) throw new Error(`there is nothing at "${step}" of ${pointer}`);
  return inside;
}

function valueOf(value: unknown, key: string): unknown {
  if (Array.isArray(value) && key === "length") return value.length;
  return value === null || typeof value !== "object"
    ? undefined
    : (value as Readonly<Record<string, unknown>>)[key];
}
