/** `#works`: what works in this browser and this build. For the person when something does not, and for the tests. */
import { useEffect, useState } from 'react';
import { peopleBytes, shootInPage, shootNames } from './assets.ts';
import { keepAsFile, onePageOf } from './onePageOf.ts';
import ProbeWorker from './probe.worker.ts?worker';

export function Works() {
  const [worker, setWorker] = useState<{ sum: number; fast: boolean }>();
  const [peopleSize, setPeopleSize] = useState<number>();
  useEffect(() => {
    const probe = new ProbeWorker();
    probe.onmessage = (event: MessageEvent<{ sum: number; fast: boolean }>) => setWorker(event.data);
    probe.postMessage(1000);
    peopleBytes().then((bytes) => setPeopleSize(bytes.length));
    return () => probe.terminate();
  }, []);
  const keep = async () => keepAsFile('rushlight.html', await onePageOf({ title: 'Rushlight' }));
  return (
    <main>
      <h1>What works here</h1>
      <dl>
        <dt>Workers share memory</dt>
        <dd data-works="isolated">{globalThis.crossOriginIsolated ? 'yes' : 'no'}</dd>
        <dt>A worker adds the squares up to 1000</dt>
        <dd data-works="sum">{worker?.sum ?? ''}</dd>
        <dt>Rays in a worker</dt>
        <dd data-works="rays">{worker && (worker.fast ? 'four at once' : 'one at a time')}</dd>
        <dt>Bytes of people</dt>
        <dd data-works="people">{peopleSize ?? ''}</dd>
        <dt>Shoots that come with the program</dt>
        <dd data-works="shoots">{shootNames.join(', ') || 'none'}</dd>
        <dt>A shoot in this page</dt>
        <dd data-works="page">{shootInPage() === undefined ? 'no' : 'yes'}</dd>
      </dl>
      <button type="button" onClick={keep}>
        Keep the program as one file
      </button>
    </main>
  );
}
