#!/usr/bin/env node
import './types-hook.js';

const { build } = await import('../src/cli/build.ts');
const { statusOf } = await import('../src/cli/command.ts');
try {
  await build();
} catch (error) {
  process.exitCode = statusOf(error, (text) => process.stderr.write(text));
}
