import { plainTracer } from './plain.ts';
import { describeTracer } from './suite.ts';

describeTracer('plain, twenty seeds', plainTracer, {
  seeds: Array.from({ length: 20 }, (_, i) => 101 + i),
  faults: false,
});
