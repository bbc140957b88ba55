#!/usr/bin/env node
import './types-hook.js';

await import('../bench/main.ts');
