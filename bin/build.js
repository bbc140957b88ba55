#!/usr/bin/env node
import './types-hook.js';

const { build } = await import('../src/cli/build.ts');
await build();
