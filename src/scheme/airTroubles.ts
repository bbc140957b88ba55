/** Rain, snow and haze that nothing lights from behind: from the front they hardly show, or only grey the picture. */
import { add, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { airReading } from '../readings/airReading.ts';
import type { Roofed } from '../stage/air.ts';
import { underRoof } from '../transport/airlight.ts';
import type { Hits } from '../transport/tracer.ts';
import { here, nameOf, numberOf, rigLamp, type SchemeContext } from './context.ts';
import { type Found, type Idea, m } from './trouble.ts';

/** Light from behind should be so much more than that from the front, stops (judgement: a clear lead). */
const LEADS_STOPS = 1;
/** Less than this over the frame is not seen, stops about grey (judgement: where skin in shade is lost). */
const UNSEEN_STOPS = -6;
/** Haze that adds less than this greys nothing, stops about grey. */
const GREYS_STOPS = -5;

/** Less of the frame than this under the open sky is a chink (judgement). */
const LOOKS_OUT = 0.02;

/** Share of what is seen that lies out of doors. */
function openShare(hits: Hits, rooms: readonly Roofed[]): number {
  const { position, toEye } = hits.points;
  let all = 0;
  let out = 0;
  for (let p = 0; p + 1 < hits.pixelStart.length; p++) {
    const i = hits.pixelStart[p]!;
    all++;
    if (i === hits.pixelStart[p + 1]) {
      out++;
      continue;
    }
    // A little before it: what is seen of a wall is on its own side.
    const [x, y, z] = [0, 1, 2].map((c) => position[3 * i + c]! + 0.3 * toEye[3 * i + c]!) as [
      number,
      number,
      number,
    ];
    if (!underRoof(rooms, x, y, z)) out++;
  }
  return all ? out / all : 0;
}

export function airTroubles(c: SchemeContext): Found[] {
  const medium = c.angle.transport.stage.air;
  const { lit } = c;
  const air = lit?.air;
  if (!medium || !lit || !air) return [];
  const r = airReading(c.angle, c.weights, air, c.greyCdM2);
  if (!r) return [];
  // Where the lens looks at no open air, no rain is missed.
  if (medium.falling && openShare(lit.hits, medium.falling.rooms) < LOOKS_OUT) return [];
  const what = medium.falling?.kind ?? (medium.phase === 'fog' ? 'fog' : 'haze');
  const unseen = !(r.overGreyStops > UNSEEN_STOPS);
  const flat = r.ratioStops === undefined || r.ratioStops < LEADS_STOPS;
  // Haze may be as good as not there; what falls is meant to be seen.
  if (medium.falling ? !(unseen || flat) : !(flat && r.overGreyStops > GREYS_STOPS)) return [];
  const most = r.lamps.find((l) => l.frontCdM2 > l.behindCdM2) ?? r.lamps[0];
  const times = `lit from behind it would show ${r.lawRatio.toFixed(0)} times as much`;
  const by = most ? `, most by ${numberOf(c, most.lamp)}` : '';
  const says =
    r.ratioStops === undefined || (unseen && medium.falling)
      ? `${flat ? `Nothing lights the ${what} in ${c.angle.angle} from behind` : `Too little lights the ${what} in ${c.angle.angle}`}: ${Number.isFinite(r.overGreyStops) ? `it is ${(-r.overGreyStops).toFixed(0)} stops under grey and` : 'it'} will not be seen${flat ? `; ${times}` : ''}.`
      : `The ${what} is lit from the front in ${c.angle.angle}: from behind comes ${r.ratioStops >= 0 ? 'only ' : ''}${Math.abs(r.ratioStops).toFixed(1)} stops ${r.ratioStops >= 0 ? 'more' : 'less'} than from the front${by}; ${times}.`;
  return [
    {
      kind: 'air-not-lit',
      subject: what,
      severity: medium.falling ? 2 : 1,
      size:
        LEADS_STOPS -
        Math.max(-20, r.ratioStops ?? -20) +
        Math.max(0, UNSEEN_STOPS - Math.max(-40, r.overGreyStops)),
      says: says.replace(/Infinity stops/, 'many stops'),
      short: `the ${what} is not lit from behind`,
      ideas: () => behind(c, what),
    },
  ];
}

/** Lamps of the rig carried round to the far side of what the frame looks at, the strongest first. */
function behind(c: SchemeContext, what: string): Idea[] {
  const { view } = c.angle;
  const d = sub(c.angle.rig.angle.lookAt as Vec3, view.eye);
  const reach = Math.hypot(d[0], d[1], d[2]);
  const middle = add(view.eye, scale(view.forward, reach));
  const out: Idea[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = rigLamp(c, lamp.id);
    if (!rig.on || rig.practical || rig.support.kind !== 'stand') continue;
    const ahead = (lamp.at[0] - middle[0]) * view.forward[0] + (lamp.at[1] - middle[1]) * view.forward[1];
    if (ahead > 0) continue;
    // As far beyond the middle as it stands before it, to its own side and just out of frame.
    const deep = Math.min(4, Math.max(1.5, -ahead));
    const side =
      Math.sign((lamp.at[0] - middle[0]) * view.right[0] + (lamp.at[1] - middle[1]) * view.right[1]) || 1;
    const aside = (reach + deep) * view.tanH * 1.15;
    const to: Vec3 = [
      middle[0] + deep * view.forward[0] + side * aside * view.right[0],
      middle[1] + deep * view.forward[1] + side * aside * view.right[1],
      Math.max(2.2, lamp.at[2]),
    ];
    out.push({
      edit: 'cheatLamp',
      args: { ...here(c), lamp: lamp.id, changes: { at: to, aim: middle } },
      act: `Carry ${nameOf(c, lamp.id)} round behind the ${what}, ${m(deep)} beyond`,
      scope: `${c.angle.angle} only`,
    });
  }
  return out.slice(0, 3);
}
