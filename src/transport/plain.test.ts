import { plainTracer } from './plain.ts';
import { describeTracer } from './suite.ts';

describeTracer('plain', plainTracer);
