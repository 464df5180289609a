import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    pool: "threads",
    testTimeout: 20_000,
    reporters: ["default", "./.ci/closing-line-reporter.ts"],
    coverage: { include: ["src/**/*.ts"], exclude: ["src/rulebook/bundled.generated.ts"] },
  },
});
