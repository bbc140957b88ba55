/** A worker that adds the squares up to n: the smallest proof that workers answer, in every build. */
import { length } from '../maths/vec3.ts';

self.onmessage = (event: MessageEvent<number>) => {
  let sum = 0;
  for (let i = 1; i <= event.data; i++) sum += i * i;
  self.postMessage({ sum, isolated: self.crossOriginIsolated, length: length([3, 4, 0]) });
};
