/**
 * The ruler in stops under every picture: −6 … +6 about a grey card. A face is a bar from its shadow side to
 * its lit side, its ends breaking into hairlines as long as the doubt; walls a square, glass a diamond,
 * shining things a ring. Hatched where the camera clips, dotted where it drowns.
 */
export interface RulerFace {
  kind: 'face';
  id: string;
  fromStops: number;
  toStops: number;
  bandStops: number;
  says: string;
  wish?: { fromStops: number; toStops: number };
}
export interface RulerThing {
  kind: 'wall' | 'glass' | 'shining';
  id: string;
  words: string;
  stops: number;
}
export type RulerMark = RulerFace | RulerThing;

const W = 448;
const H = 58;
const x = (stops: number) => ((Math.max(-6, Math.min(6, stops)) + 6) / 12) * W;

export function Ruler(p: {
  marks: RulerMark[];
  clipStops: number;
  floorStops: number;
  ramp?: (stops: number) => string;
  onFace?: (id: string) => void;
}) {
  const faces = p.marks.filter((m): m is RulerFace => m.kind === 'face').slice(0, 3);
  const things = p.marks.filter((m): m is RulerThing => m.kind !== 'face');
  const rowH = faces.length > 2 ? 11 : 13;
  // Names of things are set right of their mark, or left where there is no room; a row below the faces.
  const placed: { t: RulerThing; px: number; end: boolean; row: number }[] = [];
  const rowEnds = [0, 0];
  for (const t of [...things].sort((a, b) => a.stops - b.stops)) {
    const px = x(t.stops);
    const end = px > W * 0.72;
    const row = rowEnds[0]! <= px || rowEnds[0]! <= rowEnds[1]! ? 0 : 1;
    rowEnds[row] = px + t.words.length * 6 + 18;
    placed.push({ t, px, end, row: faces.length > 1 ? 0 : row });
  }
  const facesTop = 8;
  const thingsTop = facesTop + faces.length * rowH + 4;
  return (
    <svg
      className="ruler"
      viewBox={`0 0 ${W} ${H}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={say(p.marks)}
    >
      <title>{say(p.marks)}</title>
      <defs>
        <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--ink3)" strokeWidth="2.4" />
        </pattern>
        <pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse">
          <circle cx="1.5" cy="1.5" r="0.8" fill="var(--ink3)" />
        </pattern>
      </defs>
      {p.ramp
        ? Array.from({ length: 48 }, (_, i) => (
            <rect
              // biome-ignore lint/suspicious/noArrayIndexKey: a fixed scale
              key={i}
              x={(i / 48) * W}
              y={H - 6}
              width={W / 48 + 0.5}
              height={6}
              fill={p.ramp!(-6 + (i + 0.5) / 4)}
            />
          ))
        : null}
      <rect x={0} y={0} width={x(-p.floorStops)} height={H} fill="url(#dots)" opacity={0.7} />
      <rect
        x={x(p.clipStops)}
        y={0}
        width={W - x(p.clipStops)}
        height={H}
        fill="url(#hatch)"
        opacity={0.75}
      />
      {[-5, -4, -3, -2, -1, 1, 2, 3, 4, 5].map((s) => (
        <line key={s} x1={x(s)} x2={x(s)} y1={0} y2={H} stroke="var(--rule)" strokeWidth={1} />
      ))}
      <line x1={x(0)} x2={x(0)} y1={0} y2={H} stroke="var(--ink2)" strokeWidth={1.6} />
      {[-4, -2, 2, 4].map((s) =>
        s < p.clipStops ? (
          <text key={s} className="scale" x={x(s) + 3} y={H - 4}>
            {s > 0 ? `+${s}` : `−${-s}`}
          </text>
        ) : null,
      )}
      <text className="scale" x={x(0) + 3} y={H - 4}>
        grey
      </text>
      {faces.map((f, i) => {
        const y = facesTop + i * rowH;
        const a = x(f.fromStops);
        const b = x(f.toStops);
        const d = (f.bandStops / 12) * W;
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the same reading is in the list of readings
          <g key={f.id} onClick={() => p.onFace?.(f.id)}>
            {f.wish ? (
              <path
                d={`M${x(f.wish.fromStops)} ${y} v-3 H${x(f.wish.toStops)} v3`}
                stroke="var(--ember)"
                strokeWidth={1.4}
                fill="none"
              />
            ) : null}
            <rect x={a} y={y} width={Math.max(2, b - a)} height={6} fill="var(--ink)" />
            {[-1, 1].map((s) =>
              [0.33, 0.66, 1].map((k) => (
                <line
                  key={`${s}${k}`}
                  x1={(s < 0 ? a : b) + s * d * k}
                  x2={(s < 0 ? a : b) + s * d * k}
                  y1={y}
                  y2={y + 6}
                  stroke="var(--ink)"
                  strokeWidth={1}
                  opacity={1 - k * 0.55}
                />
              )),
            )}
            <text x={Math.max(10, a - d - 6)} y={y + 7} textAnchor="end">
              {f.id}
            </text>
            <text x={Math.min(W - 40, b + d + 6)} y={y + 7}>
              {f.says}
            </text>
          </g>
        );
      })}
      {placed.map(({ t, px, end, row }) => {
        const y = Math.min(H - 14, thingsTop + row * 12);
        return (
          <g key={t.id}>
            {t.kind === 'wall' ? (
              <rect x={px - 3.5} y={y} width={7} height={7} fill="var(--ink2)" />
            ) : t.kind === 'glass' ? (
              <path d={`M${px} ${y - 1} l5 5 l-5 5 l-5 -5 z`} fill="#6f9fd8" />
            ) : (
              <circle cx={px} cy={y + 4} r={4} fill="none" stroke="var(--trouble)" strokeWidth={2} />
            )}
            <text x={end ? px - 8 : px + 8} y={y + 8} textAnchor={end ? 'end' : 'start'}>
              {t.words}
            </text>
          </g>
        );
      })}
    </svg>
  );
}

const signed = (v: number) => `${v >= 0 ? 'plus' : 'minus'} ${Math.abs(v).toFixed(1)}`;
const say = (marks: RulerMark[]) =>
  marks
    .map((m) =>
      m.kind === 'face'
        ? `${m.id}: from ${signed(m.fromStops)} to ${signed(m.toStops)} stops about grey, ${m.says}`
        : `${m.words}: ${signed(m.stops)} stops`,
    )
    .join('; ') || 'Nothing read yet';
