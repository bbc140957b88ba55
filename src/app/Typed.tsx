/** A value that stands on a thin line and can be typed in place; what cannot be read says what was expected. */
import { useEffect, useId, useState } from 'react';
import { useWhole } from './useWhole.ts';

export function Typed(p: {
  value: number;
  digits: number;
  unit: string;
  /** How it is written, where figures alone will not do. */
  show?: (value: number) => string;
  label: string;
  /** A number, or what was expected. */
  read: (text: string) => number | string;
  /** Takes it; a sentence if it cannot be. */
  onValue: (value: number) => unknown;
}) {
  const written = (v: number) => p.show?.(v) ?? v.toFixed(p.digits);
  const shown = written(p.value);
  const [text, setText] = useState(shown);
  const [wrong, setWrong] = useState<string>();
  const id = useId();
  const whole = useWhole();
  useEffect(() => setText(shown), [shown]);
  const take = () => {
    if (text === shown) return setWrong(undefined);
    const v = p.read(text);
    if (typeof v === 'string') {
      const typed = text.length > 24 ? `${text.slice(0, 24)}…` : text;
      return setWrong(`Not read: “${typed}”. Type ${v}.`);
    }
    const refused = p.onValue(v);
    if (typeof refused === 'string') return setWrong(refused);
    setWrong(undefined);
    setText(written(v));
  };
  return (
    <label className="typed-box">
      <input
        className="typed"
        style={{ width: `${Math.min(24, Math.max(2, text.length)) + 0.5}ch` }}
        inputMode="decimal"
        maxLength={200}
        value={text}
        aria-label={p.label}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong ? id : undefined}
        onChange={(e) => setText(e.target.value)}
        onBlur={take}
        {...whole}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take();
          if (e.key === 'Escape') {
            setText(shown);
            setWrong(undefined);
          }
        }}
      />
      {p.unit ? <span className="quiet"> {p.unit}</span> : null}
      {wrong ? (
        <span id={id} role="alert" className="wrong">
          {wrong}
        </span>
      ) : null}
    </label>
  );
}
