/**
 * Rigs to begin with, placed by geometry from the lamps one owns: crossed pair, two-point, three-point. Each is a list of
 * named edits with its reasons and its price, and says what gave where something could not be had. What each lamp then
 * really does is for the light to say: roles are computed, never typed.
 */
import { wrap } from '../readings/bearing.ts';
import type { Edit } from '../shoot/edits.ts';
import type { Shoot } from '../shoot/schema.ts';
import { type Bench, benchOf, ceilingSends, type Put, put } from './rigBench.ts';
import type { Face, Ground } from './rigGround.ts';
import { diffusionStock, throws } from './rigLight.ts';
import { finish, RIG_WORDS, type RigName, type StartingRig } from './rigWhole.ts';

export { RIG_WORDS, type RigName, type StartingRig } from './rigWhole.ts';

export interface StartingRigs {
  rigs: StartingRig[];
  /** Rigs that could not be made, and why. */
  not: { words: string; why: string }[];
}

/** How far people may be turned open to the cameras, degrees, least first (common practice, no source). */
const OPEN_DEG = [0, 6, 12, 18, 24];
const NUMBERS = ['no', 'one', 'two', 'three'];

export function startingRigs(shoot: Shoot, sceneId: string): StartingRigs {
  const bench = benchOf(shoot, sceneId);
  const not: StartingRigs['not'] = [];
  const why = cannotBegin(bench);
  if (why) return { rigs: [], not: [{ words: 'a rig', why }] };
  const rigs: StartingRig[] = [];
  const pair = facing(bench.ground.faces);
  for (const name of ['crossed-pair', 'two-point', 'three-point', 'one-lamp'] as const) {
    if (name === 'one-lamp' && rigs.length > 0) continue;
    if (name === 'crossed-pair' && !pair) continue;
    const made = make(bench, name);
    if (typeof made === 'string') not.push({ words: RIG_WORDS[name], why: made });
    else rigs.push(made);
  }
  return { rigs, not };
}

function cannotBegin(b: Bench): string | undefined {
  if (b.ground.faces.length === 0) return 'Nobody is in the room to be lit.';
  if (b.ground.views.length === 0) return 'There is no angle yet: rigs are placed out of what cameras see.';
  if (Object.keys(b.shoot.kit.lamps).length === 0) return 'No lamp is in the kit: tap what you own.';
  if (b.heads.length === 0)
    return `Every lamp of the kit is marked for other mains than the ${b.place.supply.nominalV} V here.`;
  if (!b.heads.some((h) => throws(h.kind)))
    return 'No lamp of the kit throws its light one way: bulbs, tubes and candles are for the picture, not for a key.';
  if (b.stands.length === 0)
    return 'No stand is in the kit: nothing can be held up beside a face. One light stand is enough to begin with.';
  return undefined;
}

/** The two who look at each other. */
function facing(faces: readonly Face[]): [Face, Face] | undefined {
  for (const [i, a] of faces.entries())
    for (const b of faces.slice(i + 1)) {
      const line = (Math.atan2(b.eyes[1] - a.eyes[1], b.eyes[0] - a.eyes[0]) * 180) / Math.PI;
      if (Math.abs(wrap(a.facingDeg - line)) < 50 && Math.abs(wrap(b.facingDeg - line - 180)) < 50)
        return [a, b];
    }
  return undefined;
}

/** The ground with those who talk to each other turned open to the cameras. */
function opened(b: Bench, open: number): Ground {
  const pair = facing(b.ground.faces);
  if (!pair || open === 0) return b.ground;
  const turned = (f: Face): Face => ({
    ...f,
    facingDeg: wrap(f.facingDeg + open * (b.cameraSide.get(f.id) ?? 0)),
  });
  return { ...b.ground, faces: b.ground.faces.map((f) => (pair.includes(f) ? turned(f) : f)) };
}

interface Tried {
  puts: Put[];
  gave: string[];
}

/** The rig with people turned open no more than it takes. */
function make(b: Bench, name: RigName): StartingRig | string {
  const few = tooFew(b, name);
  if (few) return few;
  let best: { tried: Tried; open: number; cost: number } | undefined;
  let why = '';
  for (const open of facing(b.ground.faces) ? OPEN_DEG : [0]) {
    const ground = opened(b, open);
    const tried = name === 'crossed-pair' ? crossed(b, ground) : pointed(b, ground, name);
    if (typeof tried === 'string') {
      why ||= tried;
      continue;
    }
    const cost = tried.puts.reduce((s, p) => s + p.placed.cost, 0) + (open / 14) ** 2 + 4 * tried.gave.length;
    if (!best || cost < best.cost) best = { tried, open, cost };
  }
  if (!best) return why;
  const pair = facing(b.ground.faces);
  const open = best.open;
  if (!pair || open === 0) return finish(b, name, best.tried.puts, [], [], best.tried.gave);
  const turns = pair.map((f): Edit => {
    const deg = +wrap(f.facingDeg + open * (b.cameraSide.get(f.id) ?? 0)).toFixed(1);
    return { edit: 'setFacing', args: { scene: b.sceneId, mark: f.id, deg } };
  });
  const says = `${pair[0].id} and ${pair[1].id} turn ${open}° open to the cameras; their eyes stay on each other.`;
  return finish(b, name, best.tried.puts, turns, [says], best.tried.gave);
}

function tooFew(b: Bench, name: RigName): string | undefined {
  const needs = { 'one-lamp': 1, 'two-point': 2, 'crossed-pair': 2, 'three-point': 3 }[name];
  const able = b.heads.filter((h) => throws(h.kind)).length;
  const say = (have: number, what: string) =>
    `it takes ${NUMBERS[needs]} ${what}, and ${NUMBERS[have] ?? have} ${have === 1 ? 'is' : 'are'} in the kit.`;
  if (able < needs) return say(able, 'lamps that throw their light one way');
  if (b.stands.length < needs) return say(b.stands.length, 'stands');
  return undefined;
}

/** Two lamps, each the key of one and the back light of the other. */
function crossed(b: Bench, ground: Ground): Tried | string {
  const [a, c] = facing(ground.faces)!;
  const stock = diffusionStock(b.shoot);
  const one = put(b, ground, 'key', [a], [], stock, { behind: c, pair: true });
  if (typeof one === 'string') return `for a key on ${a.id} that is behind ${c.id}, ${one}.`;
  const two = put(b, ground, 'key', [c], [one], stock, { behind: a, like: one.head.kind.id });
  if (typeof two === 'string') return `for a key on ${c.id} that is behind ${a.id}, ${two}.`;
  return { puts: [one, two], gave: [] };
}

/** A key on everybody who can share it, a back light, a fill. */
function pointed(b: Bench, ground: Ground, name: RigName): Tried | string {
  const { faces } = ground;
  const stock = diffusionStock(b.shoot);
  const gave: string[] = [];
  let key: Put | string = put(b, ground, 'key', [...faces], [], stock);
  if (typeof key === 'string' && faces.length > 1) {
    const why = key;
    for (const f of faces) {
      key = put(b, ground, 'key', [f], [], stock);
      if (typeof key === 'string') continue;
      gave.push(`One key for everybody: ${why}; it is ${f.id}’s.`);
      break;
    }
  }
  if (typeof key === 'string') return `for a key ${key}.`;
  const puts: Put[] = [key];
  if (name === 'one-lamp') {
    gave.push('One lamp: nothing parts heads from the wall but what the walls send back.');
    return { puts, gave };
  }
  // The back light for whom it can be best.
  let back: Put | string = 'nobody is there';
  for (const f of faces) {
    const tried = put(b, ground, 'back', [f], puts, stock);
    if (typeof tried === 'string') {
      if (typeof back === 'string') back = tried;
    } else if (typeof back === 'string' || tried.placed.cost < back.placed.cost) back = tried;
  }
  if (typeof back === 'string') return `for a back light ${back}.`;
  puts.push(back);
  if (name !== 'three-point') return { puts, gave };
  // The fill comes off the ceiling; where there is none worth it, from beside the cameras.
  let fill: Put | string = ceilingSends(b.place) ? put(b, ground, 'bounce', [...faces], puts, stock) : '';
  if (typeof fill === 'string') fill = put(b, ground, 'fill', [...faces], puts, stock);
  if (typeof fill === 'string') return `for a fill ${fill}.`;
  puts.push(fill);
  return { puts, gave };
}
