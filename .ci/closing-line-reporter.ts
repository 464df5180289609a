import type { Reporter, TestModule } from "vitest/node";

/** Prints the run's totals as the last line, alone, so that any caller can read them. */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const totals = { passed: 0, failed: unhandledErrors.length, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) totals[test.result().state] += 1;
      // A file or a suite that breaks while it loads holds no failing test of its own.
      totals.failed += module.errors().length;
      for (const suite of module.children.allSuites()) totals.failed += suite.errors().length;
    }
    const line = `${String(totals.passed)} passed, ${String(totals.failed)} failed, ${String(totals.skipped + totals.pending)} skipped`;
    // At exit, because the default reporter may still be writing its summary now.
    process.once("exit", () => {
      process.stdout.write(`${line}\n`);
    });
  }
}
