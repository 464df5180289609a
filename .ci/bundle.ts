// Bundles the entry points into dist, with what they load inside: loading many small files takes longer than
// everything else.
import { readFileSync, writeFileSync } from "node:fs";
import { build } from "esbuild";

/** Dependencies whose code goes into the bundle, with their licences. */
const INSIDE = ["zod", "@noble/hashes", "jstat", "ml-matrix", "is-any-array", "ml-array-rescale"];

const { dependencies } = JSON.parse(readFileSync("package.json", "utf8")) as {
  readonly dependencies: Readonly<Record<string, string>>;
};

await build({
  entryPoints: ["src/index.ts", "src/reference/index.ts", "src/cli/main.ts"],
  outdir: "dist",
  outbase: "src",
  bundle: true,
  // Entry points share one copy of the core, so that an error of one is an instance of the other's class.
  splitting: true,
  chunkNames: "chunks/[name]-[hash]",
  format: "esm",
  target: "es2022",
  platform: "neutral",
  mainFields: ["module", "main"],
  minifyWhitespace: true,
  external: ["node:*", ...Object.keys(dependencies).filter((name) => !INSIDE.includes(name))],
  logLevel: "warning",
});

const notices = INSIDE.map(
  (name) => `${name}\n\n${readFileSync(`node_modules/${name}/LICENSE`, "utf8").trim()}\n`,
);
writeFileSync(
  "dist/THIRD-PARTY-LICENSES.txt",
  `The files of this folder contain code of these packages.\n\n${notices.join(`\n${"-".repeat(80)}\n\n`)}`,
);
