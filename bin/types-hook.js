// Lets Node 20 run the TypeScript sources as they stand: no build step, never stale.
// Node 22.12 and later strip types themselves; there the hook steps aside.
import { register } from 'node:module';

if (!process.features.typescript) register(new URL('./types-loader.js', import.meta.url));
