/**
 * What was done, or is being tried, and what it changes in every angle: one line for the ear, said when the figures
 * stand still. It is there before it has anything to say, as a listener that comes with its words is often not heard.
 */
import { useEffect, useState } from 'react';
import { differences, differencesAloud } from './differences.ts';
import { useStore } from './store.ts';
import { useSaid } from './useUnits.ts';

const STILL_MS = 700;

export function Polite() {
  const line = useStore((s) => s.line);
  const tried = useStore((s) => s.tried);
  const from = useStore((s) => (s.tried ? s.steady : s.lineFrom));
  const results = useStore((s) => s.results);
  const said = useSaid();
  const [spoken, setSpoken] = useState('');
  const words = tried ? `Trying: ${said(tried.says)}` : line ? said(line.words) : '';
  const now = words ? `${words} ${differencesAloud(differences(from ?? {}, results))}`.trim() : '';
  useEffect(() => {
    if (!now) return;
    const t = setTimeout(() => setSpoken(now), STILL_MS);
    return () => clearTimeout(t);
  }, [now]);
  return (
    <div className="aside" role="status" data-polite>
      {spoken}
    </div>
  );
}
