/** The acceptance suite of tracers on the pool: the laws of light, and faults planted in it. */
import { describeTracer } from '../transport/suite.ts';
import { nodePool } from './node.ts';

describeTracer('pool of two', () => nodePool(2));
