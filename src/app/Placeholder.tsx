/** Stands where the program will: says whether worker, data and isolation work in this build. */
import { useEffect, useState } from 'react';
import { peopleBytes, shootInPage, shootNames } from './assets.ts';
import ProbeWorker from './probe.worker.ts?worker';

export function Placeholder() {
  const [sum, setSum] = useState<number>();
  const [peopleSize, setPeopleSize] = useState<number>();
  useEffect(() => {
    const worker = new ProbeWorker();
    worker.onmessage = (event: MessageEvent<{ sum: number }>) => setSum(event.data.sum);
    worker.postMessage(1000);
    peopleBytes().then((bytes) => setPeopleSize(bytes.length));
    return () => worker.terminate();
  }, []);
  return (
    <main>
      <h1>Rushlight</h1>
      <dl>
        <dt>Isolated</dt>
        <dd data-probe="isolated">{String(globalThis.crossOriginIsolated)}</dd>
        <dt>Squares up to 1000</dt>
        <dd data-probe="sum">{sum ?? ''}</dd>
        <dt>Bytes of people</dt>
        <dd data-probe="people">{peopleSize ?? ''}</dd>
        <dt>Shoots</dt>
        <dd data-probe="shoots">{shootNames.join(', ')}</dd>
        <dt>Shoot in this page</dt>
        <dd data-probe="page">{shootInPage() ? 'yes' : 'no'}</dd>
      </dl>
    </main>
  );
}
