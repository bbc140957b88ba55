/** Words that stand on a thin line and can be typed in place; Esc leaves them as they were. */
import { useEffect, useId, useState } from 'react';

export function TypedWords(p: {
  value: string;
  label: string;
  /** At most so many letters. */
  most: number;
  onValue: (value: string) => void;
  /** Begins with everything chosen. */
  begins?: boolean;
  onLeave?: () => void;
}) {
  const [text, setText] = useState(p.value);
  const [wrong, setWrong] = useState<string>();
  const id = useId();
  useEffect(() => setText(p.value), [p.value]);
  const take = () => {
    const words = text.trim();
    if (words === p.value) {
      setWrong(undefined);
      p.onLeave?.();
      return;
    }
    if (words === '') return setWrong('A name needs at least one letter.');
    if (words.length > p.most)
      return setWrong(`A name has at most ${p.most} letters; this has ${words.length}.`);
    setWrong(undefined);
    p.onValue(words);
    p.onLeave?.();
  };
  return (
    <span className="typed-box words">
      <input
        className="typed words"
        value={text}
        aria-label={p.label}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong ? id : undefined}
        ref={(input) => {
          if (p.begins && input && document.activeElement !== input && !input.dataset.begun) {
            input.dataset.begun = 'yes';
            input.focus();
            input.select();
          }
        }}
        onChange={(e) => setText(e.target.value)}
        onBlur={take}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take();
          if (e.key === 'Escape') {
            e.stopPropagation();
            e.nativeEvent.stopImmediatePropagation();
            setText(p.value);
            setWrong(undefined);
            p.onLeave?.();
          }
        }}
      />
      {wrong ? (
        <span id={id} role="alert" className="wrong">
          {wrong}
        </span>
      ) : null}
    </span>
  );
}
