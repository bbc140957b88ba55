export const KEYS: [string, string][] = [
  ['1 – 9, held', 'only that lamp, in all angles'],
  ['Shift 1 – 9', 'that lamp out, or lit again'],
  ['V, held', 'every picture: was | is'],
  ['E', 'stops in our ramp'],
  ['Enter', 'bring the chosen angle near; again: the wall'],
  ['Left, Right', 'the angle before, the angle after'],
  ['K', 'the rig as a matrix: each lamp alone in each angle'],
  ['P', 'the plan large'],
  ['N', 'something new on the plan: type its name, Enter'],
  ['H', 'the day: date, hour, sky, where on earth; what is in the air'],
  ['Z, Shift Z', 'back a step, forward again'],
  ['T', 'troubles'],
  ['R', 'readings of the chosen angle'],
  ['W', 'power'],
  ['M', 'on set: the meter and its sheet'],
  ['B', 'the book'],
  ['G', 'what each lamp earns: struck in turn, what is lost'],
  ['C', 'checks'],
  ['D', 'daylight, set'],
  ['Ctrl or Cmd S, with Shift', 'save the shoot to its file, to another'],
  ['Esc', 'leave: a try, a drag, what is open'],
  ['L, Shift L', 'the next lamp on the plan, the one before; Tab: every thing there'],
  ['arrows, on a thing of the plan', 'carry it 5 cm; with Shift 1 cm; a window along its wall'],
  ['Page Up, Page Down', 'raise it, lower it'],
  ['Alt and arrows', 'its aim; what a camera looks at'],
  ['[ ]', 'swing its beam, a door; turn a person, a flag, a thing'],
  [', .', 'flood, spot; a camera’s lens; a window narrower, wider'],
  ['Enter on a face in a picture', 'its light comes to hand; again: the next lamp'],
  ['arrows, + and −, then', 'round the head, higher and lower, nearer and farther'],
  ['Shift while dragging', 'free of the 5 cm steps, of walls and beams'],
  ['wheel, pinch', 'nearer to the plan; twice: the whole'],
  ['Tab', 'first to what is wrong, then through everything'],
  ['on a cure', 'coming to it tries it, Enter keeps it'],
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
