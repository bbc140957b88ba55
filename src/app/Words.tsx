/** A name that stands in a line and can be typed over: the line under it shows when one points at it. */
import { useEffect, useState } from 'react';

export function Words(p: {
  value: string;
  label: string;
  className?: string;
  onValue: (words: string) => void;
}) {
  const [text, setText] = useState(p.value);
  useEffect(() => setText(p.value), [p.value]);
  const take = () => {
    const words = text.trim();
    if (words && words !== p.value) p.onValue(words);
    else setText(p.value);
  };
  return (
    <input
      className={`words ${p.className ?? ''}`}
      value={text}
      aria-label={p.label}
      style={{ width: `${Math.max(3, text.length * 0.92)}ch` }}
      onChange={(e) => setText(e.target.value)}
      onBlur={take}
      onKeyDown={(e) => {
        if (e.key === 'Enter') e.currentTarget.blur();
        if (e.key === 'Escape') setText(p.value);
      }}
    />
  );
}
