/**
 * What must come along, counted from the rigs of all angles: at the peak, what is held, what is short; one lead more
 * than needed. Things no document tells of (bags, gloves, spare bulbs) are common practice, no source, and said so.
 */
import { kindOf } from '../setup/lamps.ts';
import { kitKind } from '../shoot/kit.ts';
import { regionWord } from '../shoot/region-words.ts';
import { anglesOf, rigFor } from '../shoot/rigFor.ts';
import type { KitThing, RigFlag, RigLamp, Shoot, Supply } from '../shoot/schema.ts';
import { patternOf } from '../stage/patterns/patterns.ts';

export interface KitLine {
  words: string;
  /** Most that stand or hang in one angle. */
  needed: number;
  /** undefined: the kit does not tell. */
  held: number | undefined;
  how: string;
  /** Price a day of what is hired, all of it together. */
  perDay: number | undefined;
  /** Scenes, angles or lamps that need it. */
  because: string;
}
export interface KitGroup {
  words: string;
  lines: KitLine[];
  /** Counted from the document, or common practice. */
  counted: boolean;
}
export interface KitList {
  groups: KitGroup[];
  /** Sum of what has a price, a day. */
  perDay: number;
}

const priced = (t: { pricePerDay?: number | undefined } | undefined, count: number) =>
  t?.pricePerDay === undefined ? undefined : t.pricePerDay * count;
const list = (names: Iterable<string>) => [...new Set(names)].join(', ');

/** Peak over angles of what `each` finds in one: by key, how many and for whom. */
function peaks(
  shoot: Shoot,
  each: (lamps: Record<string, RigLamp>, flags: Record<string, RigFlag>, scene: string) => [string, string][],
) {
  const most = new Map<string, number>();
  const who = new Map<string, Set<string>>();
  for (const ref of anglesOf(shoot)) {
    const rig = rigFor(shoot, ref);
    const now = new Map<string, number>();
    for (const [key, name] of each(rig.lamps, rig.flags, ref.scene)) {
      now.set(key, (now.get(key) ?? 0) + 1);
      who.set(key, (who.get(key) ?? new Set()).add(name));
    }
    for (const [key, n] of now) most.set(key, Math.max(most.get(key) ?? 0, n));
  }
  return { most, who };
}

export function kitList(shoot: Shoot): KitList {
  const { kit } = shoot;
  const region: Supply['region'] = Object.values(shoot.places)[0]?.supply.region ?? 'uk';
  const word = (w: Parameters<typeof regionWord>[1], n = 1) => regionWord(region, w, n);
  const groups: KitGroup[] = [];
  const thing = (t: KitThing | undefined, key: string, needed: number, because: string): KitLine => ({
    words: t?.words ?? kitKind(t?.kind ?? key)?.words ?? key,
    needed,
    held: t ? t.count : undefined,
    how: t ? t.held : 'not in the kit',
    perDay: priced(t, t?.count ?? needed),
    because,
  });

  // Heads: each is one, whatever angles it burns in.
  const heads = peaks(shoot, (lamps) => Object.values(lamps).map((l) => [l.head, `lamp ${l.number}`]));
  const tungsten: string[] = [];
  groups.push({
    words: 'Lamps',
    counted: true,
    lines: [...heads.most].map(([id, needed]) => {
      const head = kit.lamps[id];
      const kind = kindOf(head);
      if (kind?.source === 'tungsten') tungsten.push(id);
      return {
        words: head?.words ?? kind?.words ?? id,
        needed,
        held: head ? 1 : undefined,
        how: head ? head.held : 'not in the kit',
        perDay: priced(head, 1),
        because: list(heads.who.get(id)!),
      };
    }),
  });

  // What holds them, flags' arms too.
  const supports = peaks(shoot, (lamps, flags) => [
    ...Object.values(lamps).flatMap((l): [string, string][] =>
      l.support.kit
        ? [[l.support.kit, `lamp ${l.number}`]]
        : l.support.kind === 'stand' || l.support.kind === 'clamp'
          ? [[`:${l.support.kind}`, `lamp ${l.number}`]]
          : [],
    ),
    ...Object.entries(flags).flatMap(([id, f]): [string, string][] =>
      f.support?.kit ? [[f.support.kit, id]] : f.support && f.support.kind !== 'hand' ? [] : [[':arm', id]],
    ),
  ]);
  const stands = [...supports.most].reduce(
    (sum, [id, n]) => sum + (id === ':stand' || /^stand/.test(kit.supports[id]?.kind ?? '') ? n : 0),
    0,
  );
  groups.push({
    words: 'Stands, clamps, arms',
    counted: true,
    lines: [...supports.most].map(([id, n]) =>
      id.startsWith(':')
        ? {
            words: id === ':arm' ? 'something that holds a flag' : id.slice(1),
            needed: n,
            held: undefined,
            how: 'not told which',
            perDay: undefined,
            because: list(supports.who.get(id)!),
          }
        : thing(kit.supports[id], id, n, list(supports.who.get(id)!)),
    ),
  });

  // Flags by kind and size against those of the kit.
  const sizeWords = (s: readonly [number, number]) => `${s[0].toFixed(2)} × ${s[1].toFixed(2)} m`;
  const flags = peaks(shoot, (_, f) =>
    Object.entries(f).map(([id, flag]) => [
      `${flag.kind}|${flag.sizeM.join('|')}|${flag.pattern?.kind ?? ''}`,
      id,
    ]),
  );
  if (flags.most.size)
    groups.push({
      words: 'Flags, boards, frames',
      counted: true,
      lines: [...flags.most].map(([key, n]) => {
        const [kind, w, h, pattern] = key.split('|');
        const size: [number, number] = [Number(w), Number(h)];
        const own = Object.values(kit.flags).filter(
          (t) =>
            !pattern &&
            t.kind === kind &&
            t.sizeM &&
            t.sizeM[0] >= size[0] - 1e-6 &&
            t.sizeM[1] >= size[1] - 1e-6,
        );
        const best = own.sort((a, b) => a.sizeM![0] * a.sizeM![1] - b.sizeM![0] * b.sizeM![1])[0];
        return {
          words: `${pattern ? (patternOf(pattern)?.words ?? pattern) : kind!.replace('-', ' ')}, ${sizeWords(size)}`,
          needed: n,
          held: own.length ? own.reduce((s, t) => s + t.count, 0) : 0,
          how: best
            ? `${best.held}${best.sizeM && sizeWords(best.sizeM) !== sizeWords(size) ? `, ${sizeWords(best.sizeM)}` : ''}`
            : pattern
              ? 'to be made'
              : 'not in the kit',
          perDay: priced(best, n),
          because: list(flags.who.get(key)!),
        };
      }),
    });

  // What is put before a lamp and not cut from a roll; the rest stands on the cut list.
  const crates = peaks(shoot, (lamps) =>
    Object.values(lamps).flatMap((l) =>
      l.sheets.filter((s) => /crate/.test(s)).map((s): [string, string] => [s, `lamp ${l.number}`]),
    ),
  );
  const scrims = peaks(shoot, (lamps) =>
    Object.values(lamps).flatMap((l) => l.scrims.map((s): [string, string] => [s, `lamp ${l.number}`])),
  );
  if (crates.most.size + scrims.most.size)
    groups.push({
      words: 'Before the lamp',
      counted: true,
      lines: [
        ...[...crates.most].map(([kind, n]) => {
          const [id, own] = Object.entries(kit.sheets).find(([, t]) => t.kind === kind) ?? [kind, undefined];
          return thing(own, id, n, list(crates.who.get(kind)!));
        }),
        ...[...scrims.most].map(([kind, n]) => ({
          words: `${kind} scrim`,
          needed: n,
          held: undefined,
          how: 'goes with the head',
          perDay: undefined,
          because: list(scrims.who.get(kind)!),
        })),
      ],
    });

  groups.push(leadGroup(shoot, word));

  const blocks = new Map<string, string[]>();
  for (const s of Object.values(shoot.scenes))
    for (const [id, m] of Object.entries(s.rig.multiways)) {
      const key = m.kit ?? `:${id}`;
      blocks.set(key, [...(blocks.get(key) ?? []), id]);
    }
  if (blocks.size)
    groups.push({
      words: 'Blocks',
      counted: true,
      lines: [...blocks].map(([key, ids]) =>
        key.startsWith(':')
          ? {
              words: 'block',
              needed: ids.length,
              held: undefined,
              how: 'not told which',
              perDay: undefined,
              because: list(ids),
            }
          : thing(kit.multiways[key], key, ids.length, list(ids)),
      ),
    });

  const plain = (words: string, needed: number, because: string): KitLine => ({
    words,
    needed,
    held: undefined,
    how: '',
    perDay: undefined,
    because,
  });
  const hung = peaks(shoot, (lamps) =>
    Object.values(lamps)
      .filter((l) => !l.practical && (l.support.kind === 'clamp' || l.support.kind === 'hung'))
      .map((l) => ['hung', `lamp ${l.number}`]),
  );
  const hungCount = hung.most.get('hung') ?? 0;
  groups.push({
    words: 'Common practice, counted from the rig (no source)',
    counted: false,
    lines: [
      ...(stands
        ? [plain('sandbag', stands, 'one on every stand, on the leg that points away from the pull')]
        : []),
      ...(hungCount
        ? [plain('safety bond', hungCount, `one on every head over people: ${list(hung.who.get('hung')!)}`)]
        : []),
      ...(tungsten.length
        ? [
            plain(
              'spare bulb',
              tungsten.length,
              'one for every tungsten head, of its own kind, volts and watts',
            ),
          ]
        : []),
      ...(tungsten.length
        ? [plain('pair of heat gloves', Math.min(2, tungsten.length), 'hot heads are moved by hand')]
        : []),
      plain('tape, black and white', 2, 'marks, leads, little flags'),
      plain('wooden pegs', 24, 'sheets on hot doors: plastic melts'),
      plain('mat or ramp', Math.max(1, Object.keys(shoot.scenes).length), 'where a lead crosses the way'),
      plain(`${word('socket')} tester, ${word('torch')}, tape measure`, 1, 'before anything is plugged in'),
      plain('extinguisher for electrics, first-aid box', 1, 'where everyone knows'),
    ],
  });
  const perDay = groups.flatMap((g) => g.lines).reduce((s, l) => s + (l.perDay ?? 0), 0);
  return { groups, perDay };
}

/** Leads by kit, each counted as often as the scene that needs most; then one more of the longest. */
function leadGroup(
  shoot: Shoot,
  word: (w: Parameters<typeof regionWord>[1], n?: number) => string,
): KitGroup {
  const { kit } = shoot;
  const most = new Map<string, number>();
  const who = new Map<string, Set<string>>();
  for (const s of Object.values(shoot.scenes)) {
    const now = new Map<string, number>();
    const take = (id: string, name: string) => {
      now.set(id, (now.get(id) ?? 0) + 1);
      who.set(id, (who.get(id) ?? new Set()).add(name));
    };
    for (const l of Object.values(s.rig.lamps))
      for (const lead of l.feed?.leads ?? []) take(lead.kit, `lamp ${l.number}`);
    for (const [id, m] of Object.entries(s.rig.multiways)) for (const lead of m.leads) take(lead.kit, id);
    for (const [id, n] of now) most.set(id, Math.max(most.get(id) ?? 0, n));
  }
  // The same lead under several names in the kit is one line.
  const lines = new Map<string, KitLine & { lengthM: number }>();
  for (const [id, n] of most) {
    const t = kit.leads[id];
    const key = t ? `${t.lengthM}|${t.mm2}|${t.reel}|${t.words}` : id;
    const line = lines.get(key);
    const because = [...who.get(id)!];
    if (line) {
      line.needed += n;
      line.held = (line.held ?? 0) + (t?.count ?? 0);
      line.because = list([...line.because.split(', '), ...because]);
    } else
      lines.set(key, {
        words: leadWords(t, id, word('lead')),
        needed: n,
        held: t?.count,
        how: t ? `${t.held}${t.reel ? ', unwind all of it' : ''}` : 'not in the kit',
        perDay: priced(t, t?.count ?? n),
        because: list(because),
        lengthM: t?.lengthM ?? 0,
      });
  }
  const longest = [...lines.values()].sort((a, b) => b.lengthM - a.lengthM)[0];
  // What is held and not used is the spare, when it is long enough for any run.
  const spare = Object.entries(kit.leads).find(
    ([id, t]) => !most.has(id) && t.count > 0 && (t.lengthM ?? 0) >= (longest?.lengthM ?? 0),
  );
  const shorter = Object.entries(kit.leads).find(([id, t]) => !most.has(id) && t.count > 0);
  return {
    words: word('lead', 2)[0]!.toUpperCase() + word('lead', 2).slice(1),
    counted: true,
    lines: [
      ...[...lines.values()].map(({ lengthM: _, ...l }) => l),
      {
        words: `one ${word('lead')} more than needed`,
        needed: 1,
        held: spare ? spare[1].count : shorter ? shorter[1].count : 0,
        how: spare
          ? `${spare[1].held}: ${spare[1].words ?? spare[0]}`
          : shorter
            ? `${shorter[1].held}: ${shorter[1].words ?? shorter[0]}${longest && longest.lengthM > (shorter[1].lengthM ?? 0) ? `, shorter than the longest run (${longest.lengthM} m)` : ''}`
            : `none held${longest ? `: ${longest.lengthM} m would serve any run` : ''}`,
        perDay: undefined,
        because: 'one always turns out too short, hot or dead',
      },
    ],
  };
}

const leadWords = (t: KitThing | undefined, id: string, lead: string): string => {
  if (!t) return id;
  const mm2 = t.mm2 === undefined ? ', size not told' : `, ${t.mm2} mm²`;
  const words = t.words ?? `${t.lengthM ?? '?'} m ${lead}`;
  return /mm²/.test(words) ? words : `${words}${mm2}`;
};
