export const KEYS: [string, string][] = [
  ['1 – 9, held', 'only that lamp, in all angles'],
  ['⇧ 1 – 9', 'that lamp out, or lit again'],
  ['V, held', 'every picture: was | is'],
  ['E', 'stops in our ramp'],
  ['Enter', 'bring the chosen angle near; again: the wall'],
  ['← →', 'the angle before, the angle after'],
  ['K', 'the rig as a matrix: each lamp alone in each angle'],
  ['P', 'the plan large'],
  ['Z, ⇧ Z', 'back a step, forward again'],
  ['T', 'troubles'],
  ['R', 'readings of the chosen angle'],
  ['W', 'power'],
  ['M', 'on set: the meter and its sheet'],
  ['G', 'what each lamp earns: struck in turn, what is lost'],
  ['C', 'checks'],
  ['D', 'daylight, set'],
  ['⌘ or Ctrl S, with ⇧', 'save the shoot to its file, to another'],
  ['Esc', 'leave: a try, a drag, what is open'],
  ['⇧ while dragging', 'free of the 5 cm steps'],
  ['?', 'these keys'],
];
export const Keys = () => (
  <dl className="keys">
    {KEYS.map(([k, what]) => (
      <div key={k}>
        <dt>{k}</dt>
        <dd>{what}</dd>
      </div>
    ))}
  </dl>
);
