/** Published values beside ours. */
import { useState } from 'react';
import type { CheckRow } from '../checks/row.ts';
import { peopleBytes } from './assets.ts';

export function Checks() {
  const [rows, setRows] = useState<CheckRow[]>([]);
  const [at, setAt] = useState<string>();
  const [failed, setFailed] = useState<string>();
  const run = async () => {
    setRows([]);
    setFailed(undefined);
    const { default: CheckWorker } = await import('./check.worker.ts?worker');
    const worker = new CheckWorker();
    worker.onmessage = (
      e: MessageEvent<{ rows?: CheckRow[]; subject?: string; done?: boolean; failed?: string }>,
    ) => {
      if (e.data.subject) setAt(e.data.subject);
      if (e.data.rows) setRows((had) => [...had, ...e.data.rows!]);
      if (e.data.failed) setFailed(e.data.failed);
      if (e.data.done || e.data.failed) {
        setAt(undefined);
        worker.terminate();
      }
    };
    setAt('…');
    worker.postMessage(await peopleBytes());
  };
  const wrong = rows.filter((r) => !r.holds).length;
  return (
    <div className="checks">
      <p className="quiet">
        Published values beside what this program computes, each with its tolerance and source. Transport
        takes tens of seconds and is left to the terminal.
      </p>
      <p>
        <button type="button" className="boxed" onClick={run} disabled={at !== undefined}>
          {at ? `computing: ${at}` : rows.length ? 'Compute again' : 'Compute them now'}
        </button>{' '}
        {rows.length ? (
          <span data-checks={rows.length}>
            {rows.length} values,{' '}
            {wrong === 0 ? 'all within tolerance' : <b className="bad">{wrong} outside</b>}
          </span>
        ) : null}
        {failed ? <span className="bad"> {failed}</span> : null}
      </p>
      <table>
        <tbody>
          {rows.map((r) => (
            <tr key={r.id} className={r.holds ? '' : 'bad'} title={r.source}>
              <td>{r.what}</td>
              <td className="num">{short(r.got)}</td>
              <td className="num quiet">
                {short(r.expected)} ± {short(r.tolerance)} {r.unit}
              </td>
              <td className="faint source">{r.source}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
const short = (v: number) => (Number.isInteger(v) ? String(v) : Number(v.toPrecision(4)).toString());
