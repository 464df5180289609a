// The rules are read from import-table.json, so that the table is the only place that says who may import whom.
const { units, everyone } = require("./import-table.json");

const escape = (text) => text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
const pathOf = (unit) => (unit.endsWith(".ts") ? `^src/${escape(unit)}$` : `^src/${escape(unit)}/`);

const rulesOf = ([unit, row]) => [
  {
    name: `${unit}-imports-outside-its-row`,
    comment: `${unit} may import ${row.units.join(", ") || "no other unit"} (import-table.json).`,
    severity: "error",
    from: { path: pathOf(unit) },
    to: { path: "^src/", pathNot: [unit, ...everyone, ...row.units].map(pathOf) },
  },
  {
    name: `${unit}-imports-package-outside-its-row`,
    comment: `${unit} may use ${row.packages.join(", ") || "no package"} (import-table.json).`,
    severity: "error",
    from: { path: pathOf(unit) },
    to: {
      path: "node_modules/",
      pathNot: row.packages.map((name) => `node_modules/${escape(name)}/`),
    },
  },
  ...(row.node === true
    ? []
    : [
        {
          name: `${unit}-imports-node`,
          comment: `${unit} is part of the core, which does no input or output.`,
          severity: "error",
          from: { path: pathOf(unit) },
          to: { dependencyTypes: ["core"] },
        },
      ]),
];

module.exports = {
  forbidden: [
    ...Object.entries(units).flatMap(rulesOf),
    {
      name: "src-imports-outside-src",
      comment: "What is published stands in src.",
      severity: "error",
      from: { path: "^src/" },
      to: { pathNot: ["^src/", "node_modules/"], dependencyTypesNot: ["core"], couldNotResolve: false },
    },
    { name: "cycle", severity: "error", from: {}, to: { circular: true } },
    { name: "unresolved", severity: "error", from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    // Imports of types count too: a type is knowledge of the other folder.
    tsPreCompilationDeps: true,
    tsConfig: { fileName: `${__dirname}/tsconfig.json` },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "types", "node", "default"],
    },
  },
};
