/** A worker that adds the squares up to n and says how it would trace: the smallest proof that workers answer, in every build. */
import { fastRays } from '../engine/fastRays.ts';
import { length } from '../maths/vec3.ts';

self.onmessage = (event: MessageEvent<number>) => {
  let sum = 0;
  for (let i = 1; i <= event.data; i++) sum += i * i;
  self.postMessage({
    sum,
    isolated: self.crossOriginIsolated,
    length: length([3, 4, 0]),
    fast: fastRays() !== undefined,
  });
};
