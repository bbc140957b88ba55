#!/usr/bin/env node
import './types-hook.js';

await import('../src/cli/main.ts');
