import tseslint from "typescript-eslint";

const noDefaultExport = {
  selector: "ExportDefaultDeclaration, ExportSpecifier[exported.name='default']",
  message: "Name what you export: default exports get a new name at each import.",
};

const noLocaleOrder = {
  selector: "MemberExpression[property.name=/^(localeCompare|toLocale[A-Z].*)$/]",
  message: "The result depends on the machine's locale; compare by code unit with < and >.",
};

const noNodeLoading = {
  selector: "ImportExpression[source.value=/^node:/]",
  message: "The core does no input or output: files and arguments belong to src/cli.",
};

const machineGlobals = [
  "Date",
  "performance",
  "console",
  "process",
  "Buffer",
  "global",
  "require",
  "fetch",
  "crypto",
  "Intl",
  "setTimeout",
  "setInterval",
  "setImmediate",
  "queueMicrotask",
];

export default tseslint.config(
  { ignores: ["dist/", "coverage/", "node_modules/", "src/bundled/common-practice.generated.ts"] },
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  {
    files: ["**/*.ts"],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      "@typescript-eslint/consistent-type-imports": "error",
      "@typescript-eslint/switch-exhaustiveness-check": [
        "error",
        { considerDefaultExhaustiveForUnions: true },
      ],
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      // Spreading a text into its code points is what readers of VINs and estimate lines mean to do.
      "@typescript-eslint/no-misused-spread": "off",
      eqeqeq: "error",
      "no-restricted-syntax": ["error", noDefaultExport],
    },
  },
  {
    files: ["src/**/*.ts"],
    ignores: ["src/cli/**"],
    rules: {
      "no-restricted-imports": [
        "error",
        {
          patterns: [
            {
              group: ["node:*"],
              message: "The core does no input or output: files and arguments belong to src/cli.",
            },
          ],
        },
      ],
      "no-restricted-globals": [
        "error",
        ...machineGlobals.map((name) => ({
          name,
          message: "The core is pure: same input, same output, on any machine at any time.",
        })),
      ],
      "no-restricted-properties": [
        "error",
        { object: "Math", property: "random", message: "The core is deterministic." },
        ...machineGlobals.map((property) => ({
          object: "globalThis",
          property,
          message: "The core is pure.",
        })),
      ],
      "no-restricted-syntax": ["error", noDefaultExport, noLocaleOrder, noNodeLoading],
    },
  },
  {
    files: ["tests/**/*.ts", ".ci/*.ts"],
    rules: { "@typescript-eslint/no-non-null-assertion": "off" },
  },
  {
    // Their tools ask for a default export.
    files: ["vitest.config.ts", ".ci/closing-line-reporter.ts"],
    rules: { "no-restricted-syntax": "off" },
  },
);
