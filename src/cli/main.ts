#!/usr/bin/env node
import { run } from "./run.js";
import { processTerminal } from "./terminal.js";

// Set, not called: an exit would cut off what is still on its way into a pipe.
process.exitCode = await run(process.argv.slice(2), processTerminal());
