/** Computes the checks away from the page, subject by subject. */
import { SUBJECTS } from '../checks/all.ts';

self.onmessage = async (event: MessageEvent<Uint8Array>) => {
  try {
    for (const [name, subject] of Object.entries(SUBJECTS)) {
      if (subject.slow) continue;
      self.postMessage({ subject: name });
      self.postMessage({ rows: await subject.rows({ people: async () => event.data }) });
    }
    self.postMessage({ done: true });
  } catch (error) {
    self.postMessage({ failed: String(error) });
  }
};
