/** What is cut in a card in the beam, told in a word and its measures. */
import type { RigFlag } from '../shoot/schema.ts';
import { openShare } from '../stage/patternBody.ts';
import { PATTERNS, patternOf } from '../stage/patterns/patterns.ts';
import { Choices, Word } from './Choices.tsx';
import { Length } from './Length.tsx';
import { Typed } from './Typed.tsx';
import { readDegrees } from './typing.ts';

/** `leafM` is a leaf, `turnDeg` a turn. */
const wordOf = (measure: string): string =>
  measure
    .replace(/(M|Deg)$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase();

const readCount = (text: string): number | string => {
  const n = Number(text);
  return Number.isInteger(n) && n >= 0 && n <= 999 ? n : 'A whole number, as 3.';
};

export function PatternFields(p: {
  name: string;
  flag: RigFlag;
  set: (changes: Record<string, unknown>) => unknown;
  open: string | undefined;
  onOpen: (k?: string) => void;
}) {
  const { pattern, sizeM } = p.flag;
  const own = pattern ? patternOf(pattern.kind) : undefined;
  const measured = (measure: string, v: number) =>
    p.set({ pattern: { ...pattern, detail: { ...pattern?.detail, [measure]: v } } });
  return (
    <>
      <Word k="pattern" open={p.open} onOpen={p.onOpen}>
        {pattern ? (own?.words ?? pattern.kind) : 'nothing cut in it'}
      </Word>
      {own && pattern
        ? Object.entries(own.usual).map(([measure, usual]) => {
            const value = pattern.detail?.[measure] ?? usual;
            const label = `${p.name}: ${wordOf(measure)}`;
            return (
              <span key={measure} className="pair">
                <span className="faint">{wordOf(measure)}</span>
                {measure.endsWith('M') ? (
                  <Length value={value} bare label={label} onValue={(v) => measured(measure, v)} />
                ) : (
                  <Typed
                    value={value}
                    digits={0}
                    unit={measure.endsWith('Deg') ? '°' : ''}
                    label={label}
                    read={measure.endsWith('Deg') ? readDegrees : readCount}
                    onValue={(v) => measured(measure, v)}
                  />
                )}
              </span>
            );
          })
        : null}
      {pattern ? (
        <span className="faint">
          {Math.round(
            100 * openShare({ kind: pattern.kind, detail: pattern.detail ?? {} }, sizeM[0], sizeM[1]),
          )}{' '}
          % open
        </span>
      ) : null}
      {p.open === 'pattern' ? (
        <Choices
          label={`What is cut in ${p.name}`}
          list={[
            { id: '-', words: 'nothing', found: ['whole', 'solid'], on: !pattern },
            ...PATTERNS.map((k) => ({
              id: k.kind,
              words: k.words,
              found: [],
              on: k.kind === pattern?.kind,
            })),
          ]}
          onLeave={() => p.onOpen(undefined)}
          onPick={(kind) => {
            const refused = p.set({ pattern: kind === '-' ? undefined : { kind } });
            p.onOpen(undefined);
            return refused;
          }}
        />
      ) : null}
    </>
  );
}
