/**
 * The studio: works out readings and pictures of some angles and keeps them right while hands change things.
 * Everything is kept by content. What costs no ray is done at once; then readings, then small pictures, then full
 * ones; then paths refine both while one looks. A new wish abandons whatever is under way.
 */

import type { WhiteBalance } from '../camera/whitebalance.ts';
import { balanceOf } from '../readings/balance.ts';
import { wrap } from '../readings/bearing.ts';
import { type FaceLight, lightOnFaces } from '../readings/faces.ts';
import { type Measured, type ProbePlan, probePlan } from '../readings/measure.ts';
import { meterPoints } from '../readings/meter.ts';
import { type AngleReading, clippedParts, readAngle, savingStop } from '../readings/readAngle.ts';
import type { Known } from '../scheme/afterEdit.ts';
import { earnsInAngle } from '../scheme/earns.ts';
import { outlinesOf } from '../scheme/planFacts.ts';
import { type Cure, type Found, type Trouble, keyOf as troubleKey, untried } from '../scheme/trouble.ts';
import { troublesOf } from '../scheme/troubles.ts';
import { freeTogether, trier, withCures } from '../scheme/tryCures.ts';
import { type AngleGeometry, type LayerWeight, lightsOf } from '../setup/angle.ts';
import { dayShapesOf } from '../setup/daylight.ts';
import { develop, developStops, type Exposure, exposureOf } from '../setup/develop.ts';
import { geometryOf } from '../setup/geometry.ts';
import { kindOf, layersOf, poseOf } from '../setup/lamps.ts';
import { constantOf } from '../setup/learned.ts';
import { framesKeyOf, layersOfFrames, relayed, withLayers } from '../setup/relays.ts';
import { type Weighed, weightsOf } from '../setup/weights.ts';
import { type AngleRef, type RigForAngle, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PeopleData } from '../stage/people/person.ts';
import { glossTable } from '../transport/quick/bare.ts';
import { type Palette, paletteOf, picture } from '../transport/quick/picture.ts';
import {
  fieldFrom,
  glance,
  type LayerField,
  type LayerLight,
  linkSight,
  probeLinks,
  quickBounced,
  quickDirect,
  quickProbes,
  type Room,
  repainted,
  roomOf,
  type Sight,
  standOf,
} from '../transport/quick/quick.ts';
import { noiseOf, type Refinement, refine, refinement } from '../transport/quick/refine.ts';
import type { Layer } from '../transport/scene.ts';
import type { AbortSignalLike, Hits, Tracer } from '../transport/tracer.ts';
import type { AngleResult, FromLight, Outlines, Wanted } from './messages.ts';

const SEED = 20_011;
/** A settled picture or reading moves by less than this, stops. */
const SETTLED_PICTURE = 0.06;
const SETTLED_READING = 0.04;
/** Paths spent at most on one thing. */
const MOST_PATHS = 512;
/** Fewer than these do not count as settled, whatever the noise looks like. */
const LEAST_PATHS = 64;

/** A picture's light at one size, by layer. */
interface Lit {
  key: string;
  width: number;
  height: number;
  sight: Sight;
  /** Patches and links of the stage it was lit on; undefined: direct light only. */
  room: Room | undefined;
  palette: { stageKey: string; palette: Palette };
  /** The record it was last shown for. */
  shownFor: string;
  /** The colours its bounced light is of. */
  stageKey: string;
  layerKeys: string[];
  light: LayerLight[];
  quality: 'direct' | 'quick' | 'paths';
  paths: number;
  noise: number;
  refined?: Refinement;
  xyz: Float32Array;
}

interface Meters {
  key: string;
  plan: ProbePlan;
  links: { room: Room; to: Uint32Array } | undefined;
  /** Direct light all over the faces, once it was measured. */
  faces: FaceLight[] | undefined;
  layers: { direct: Float32Array; bounced: Float32Array }[];
  layerKeys: string[];
  /** The bounced light is of this stage; none yet: nothing to be read. */
  bouncedKey: string | undefined;
  paths: number;
  noise: number;
  variance: Float64Array[];
}

interface Shown {
  ref: AngleRef;
  geometryKey: string;
  geometry: AngleGeometry;
  rig: RigForAngle;
  weighed: Weighed;
  weights: LayerWeight[];
  meters: Meters | undefined;
  lit: Map<string, Lit>;
  last: Lit | undefined;
  /** Troubles as they were last found, their cures still to be tried. */
  found: Found[];
}

/** What trying has come to, for one state of one angle. */
interface Cured {
  troubles: Map<string, Trouble>;
  free: Cure[];
}

export interface StudioOptions {
  tracer: Tracer;
  people: PeopleData | undefined;
  say: (message: FromLight, transfer?: ArrayBuffer[]) => void;
  /** Lets others have a turn. */
  pause: () => Promise<void>;
  /** Whether a newer wish has come. */
  newer: () => boolean;
}

export class Studio {
  private readonly o: StudioOptions;
  private readonly angles = new Map<string, Shown>();
  private readonly geometries = new Map<string, AngleGeometry>();
  /** Layers made by diffusion frames, by what they are made of. */
  private readonly framesLit = new Map<string, Layer[]>();
  private readonly rooms = new Map<string, Room>();
  private readonly onPatches = new Map<string, Float32Array>();
  private readonly outlined = new Map<string, string>();
  private readonly outlinesKept = new Map<string, Outlines[string]['loops']>();
  private readonly layerFields = new Map<string, LayerField>();
  private readonly cured = new Map<string, Cured>();
  private signal: { aborted: boolean } = { aborted: false };
  /** A hand moves something: short work, let finish. */
  private hand = false;
  /** Whose turn it is while a hand moves. */
  private next = 0;

  constructor(options: StudioOptions) {
    this.o = options;
  }

  set people(people: PeopleData | undefined) {
    this.o.people = people;
    this.geometries.clear();
    this.framesLit.clear();
  }

  /** Abandons what is under way; `show` follows. While a hand moves, the next picture is finished first. */
  abandon(): void {
    if (!this.hand) this.signal.aborted = true;
  }

  async show(w: Wanted): Promise<void> {
    const signal = { aborted: false };
    this.signal = signal;
    this.hand = w.busy;
    const all: Shown[] = [];
    const fresh: Shown[] = [];
    for (const ref of w.angles) {
      try {
        const { shown, changed } = this.prepare(ref, w);
        all.push(shown);
        if (changed) fresh.push(shown);
        // Something to look at as soon as may be: small, and without what bounces.
        if (!shown.last && !w.busy) {
          await this.lightFrames(shown, w, signal);
          await this.meterDirect(shown, signal);
          await this.light(shown, glimpse(sizeOf(shown, w)), signal, true);
          this.picture(shown, shown.last!, w);
        }
      } catch (error) {
        if (signal.aborted) throw error;
        this.o.say({ kind: 'failed', turn: w.turn, angle: ref.angle, words: String(error) });
      }
    }
    for (const id of this.angles.keys()) if (!w.angles.some((r) => idOf(r) === id)) this.angles.delete(id);

    for (const s of all) await this.lightFrames(s, w, signal);

    // What needs no ray.
    for (const s of all) {
      if (fresh.includes(s) || !s.meters) continue;
      const lit = bestOf(s);
      if (lit) this.picture(s, lit, w);
      this.read(s, w);
      if (lit && w.score) this.alone(s, w);
    }
    await this.turnOver(signal);

    // Other colours on the same shapes: solved and gathered again, no ray.
    for (const s of all) await this.recolour(s, w, signal);

    // Readings first.
    for (const s of all) if ((await this.meterDirect(s, signal)) && s.last) this.read(s, w);
    if (this.hand) {
      // Then one small picture after the other, beginning where the last wish left off.
      for (let k = 0; k < all.length; k++) {
        const s = all[this.next++ % all.length]!;
        if (w.moving !== undefined) {
          if (fresh.includes(s)) await this.moved(s, w, w.moving, signal);
        } else {
          if (!bestOf(s)) {
            await this.light(s, smaller(sizeOf(s, w)), signal);
            this.picture(s, bestOf(s)!, w);
          }
          if (await this.meterBounced(s, signal)) this.read(s, w);
        }
        if (this.o.newer()) return;
      }
      return;
    }

    // Small pictures of all angles, then the readings' bounced light.
    for (const s of all) {
      const best = bestOf(s);
      if (!best || best.quality === 'direct') {
        await this.light(s, smaller(sizeOf(s, w)), signal);
        this.picture(s, bestOf(s)!, w);
        await this.meterBounced(s, signal);
        this.read(s, w);
      } else if (await this.meterBounced(s, signal)) this.read(s, w);
      this.outlines(s, w);
      if (w.score && fresh.includes(s)) this.alone(s, w);
    }

    for (const s of all) if (await this.meterFaces(s, signal)) this.read(s, w);

    // Full size.
    for (const s of all) {
      const full = sizeOf(s, w);
      const have = s.lit.get(keyOf(s, full));
      if (have && have.quality !== 'direct') continue;
      await this.light(s, full, signal);
      this.picture(s, bestOf(s)!, w);
      this.read(s, w);
    }
    // What would help, tried: not for what is itself only tried.
    if (!w.trying) for (const s of all) await this.tryCures(s, w, signal);

    // Readings settle first, then pictures.
    for (const s of all)
      while (s.meters && s.meters.noise > SETTLED_READING && s.meters.paths < 4096) {
        await this.meterPaths(s, signal);
        this.read(s, w);
      }
    for (let going = true; going; ) {
      going = false;
      for (const s of all) {
        const lit = s.lit.get(keyOf(s, sizeOf(s, w)));
        if (!lit || isSettled(lit) || lit.paths >= MOST_PATHS) continue;
        going = true;
        await this.refine(s, lit, signal);
        this.picture(s, lit, w);
      }
    }
    this.o.say({ kind: 'done', turn: w.turn, rays: this.rays() });
  }

  private rays() {
    return { ...this.o.tracer.rays };
  }

  private async turnOver(signal: AbortSignalLike): Promise<void> {
    await this.o.pause();
    if (signal.aborted) throw Object.assign(new Error('abandoned'), { name: 'AbortError' });
  }

  /** Geometry by content; weights always. */
  private prepare(ref: AngleRef, w: Wanted): { shown: Shown; changed: boolean } {
    const rig = rigFor(w.shoot, ref);
    const weighed = weightsOf(w.shoot, ref);
    const id = idOf(ref);
    const before = this.angles.get(id);
    const geometryKey = geometryKeyOf(w.shoot, rig, ref) + (w.moving ? `|moving ${w.moving}` : '');
    let geometry = this.geometries.get(geometryKey);
    if (!geometry) {
      geometry = w.moving
        ? this.withoutHousing(w.shoot, ref, rig, w.moving)
        : geometryOf(w.shoot, ref, this.o.people, 'medium');
      // Equal content, the same object: a tracer that holds it has nothing to do.
      for (const g of this.geometries.values())
        if (
          g.transport.stage.key === geometry.transport.stage.key &&
          g.transport.stage !== geometry.transport.stage
        )
          geometry = { ...geometry, transport: { ...geometry.transport, stage: g.transport.stage } };
      keep(this.geometries, geometryKey, geometry, 40);
    }
    const changed = before?.geometryKey !== geometryKey;
    const shown: Shown = {
      ref,
      geometryKey,
      geometry: { ...geometry, rig },
      rig,
      weighed,
      weights: shownWeights(geometry, weighed, w),
      meters: before?.meters,
      lit: before?.lit ?? new Map(),
      last: before?.last,
      found: before?.found ?? [],
    };
    this.angles.set(id, shown);
    return { shown, changed };
  }

  /** The angle as it is while a hand carries a lamp: its light where it is now, its housing out of the way. */
  private withoutHousing(shoot: Shoot, ref: AngleRef, rig: RigForAngle, lamp: string): AngleGeometry {
    const l = rig.lamps[lamp];
    const kind = l && kindOf(shoot.kit.lamps[l.head]);
    if (!l || !kind) return geometryOf(shoot, ref, this.o.people, 'medium');
    const sunk = structuredClone(shoot);
    const scene = sunk.scenes[ref.scene]!;
    const down: [number, number, number] = [0, 0, -60];
    Object.assign(scene.rig.lamps[lamp]!, { at: down, aim: [1, 0, -60], support: { kind: 'hand' } });
    const cheat = scene.angles[ref.angle]!.cheats[lamp];
    if (cheat?.at) cheat.at = down;
    if (cheat?.aim) cheat.aim = [1, 0, -60];
    if (cheat?.support) delete cheat.support;
    const key = `${geometryKeyOf(sunk, rigFor(sunk, ref), ref)}|sunk`;
    let ghost = this.geometries.get(key);
    if (!ghost) {
      ghost = geometryOf(sunk, ref, this.o.people, 'medium');
      keep(this.geometries, key, ghost, 40);
    }
    const own = layersOf(lamp, l, kind);
    const slots = ghost.lamps.find((g) => g.id === lamp)?.layers ?? [];
    const layers = ghost.transport.layers.map((layer, i) => {
      const nth = slots.indexOf(i);
      return nth < 0 ? layer : { ...own[nth]!, ownParts: [] };
    });
    return {
      ...ghost,
      rig,
      transport: { stage: ghost.transport.stage, layers },
      lamps: ghost.lamps.map((g) => (g.id === lamp ? { ...g, at: l.at, axis: poseOf(l).axis } : g)),
    };
  }

  /** Diffusion frames in the angle become layers; asks rays only where a frame, or what lights it, is new. */
  private async lightFrames(s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
    if (s.geometry.frames.length === 0 || s.geometry.relayOf.length > 0) return;
    const key = framesKeyOf(s.geometry);
    let made = this.framesLit.get(key);
    if (!made) {
      made = await layersOfFrames(this.o.tracer, s.geometry, { seed: SEED, signal });
      keep(this.framesLit, key, made, 40);
    }
    s.geometry = withLayers(s.geometry, made);
    s.weighed = { ...s.weighed, weights: relayed(s.geometry, s.weighed.weights) };
    s.weights = shownWeights(s.geometry, s.weighed, w);
  }

  private async load(s: Shown): Promise<void> {
    await this.o.tracer.load(s.geometry.transport);
  }

  /** The stage's patches and their links: kept by shape, so that a colour asks no ray. */
  private async room(s: Shown, signal: AbortSignalLike): Promise<Room> {
    const { stage } = s.geometry.transport;
    let room = this.rooms.get(stage.key);
    if (room) return room;
    for (const known of this.rooms.values())
      if (known.stage.shapeKey === stage.shapeKey) room = repainted(known, stage, { seed: SEED });
    if (!room) {
      await this.load(s);
      room = await roomOf(this.o.tracer, stage, { seed: SEED, signal });
    }
    keep(this.rooms, stage.key, room, 12);
    return room;
  }

  private async layerField(s: Shown, layer: number, signal: AbortSignalLike): Promise<LayerField> {
    const { stage, layers } = s.geometry.transport;
    const key = `${stage.key}|${layers[layer]!.key}`;
    let made = this.layerFields.get(key);
    if (!made) {
      const room = await this.room(s, signal);
      const shape = `${stage.shapeKey}|${layers[layer]!.key}`;
      let direct = this.onPatches.get(shape);
      if (!direct) {
        await this.load(s);
        direct = await this.o.tracer.patchDirect(layer, { seed: SEED, signal, samples: 4 });
        keep(this.onPatches, shape, direct, 90);
      }
      made = fieldFrom(room, layers[layer]!, direct);
      keep(this.layerFields, key, made, 60);
    }
    return made;
  }

  /** Direct light at the meters: a few thousand rays. Bounced light stays what it was where that fits. */
  private async meterDirect(s: Shown, signal: AbortSignalLike): Promise<boolean> {
    const key = metersKeyOf(s);
    if (s.meters?.key === key) return false;
    const plan = probePlan(s.geometry);
    const layers = s.geometry.transport.layers;
    await this.load(s);
    const before = s.meters;
    const n = plan.points.count;
    const made: Meters['layers'] = [];
    for (let l = 0; l < layers.length; l++) {
      const d = await this.o.tracer.direct(plan.points, l, { seed: SEED, signal, samples: 48 });
      const old = before?.layers[l];
      made.push({
        direct: d.diffuse,
        bounced: old && old.bounced.length === 12 * n ? old.bounced : new Float32Array(12 * n),
      });
    }
    s.meters = {
      key,
      plan,
      links: undefined,
      faces: undefined,
      layers: made,
      layerKeys: layers.map((l) => l.key),
      bouncedKey: before?.bouncedKey && made.length === before.layers.length ? 'older' : undefined,
      paths: 0,
      noise: 0.3,
      variance: layers.map(() => new Float64Array(n)),
    };
    return true;
  }

  /** Direct light all over the faces that the angle sees: some ten thousand rays, once the hand rests. */
  private async meterFaces(s: Shown, signal: AbortSignalLike): Promise<boolean> {
    const m = s.meters;
    if (!m || m.faces) return false;
    await this.load(s);
    m.faces = await lightOnFaces(
      this.o.tracer,
      s.geometry,
      s.geometry.marks.map((mark) => mark.id),
      { seed: SEED, samples: 4, signal },
    );
    return true;
  }

  /** Bounced light at the meters by the quick field; false where it is there already. */
  private async meterBounced(s: Shown, signal: AbortSignalLike): Promise<boolean> {
    const m = s.meters;
    const key = `${m?.key}|${s.geometry.transport.stage.key}`;
    if (!m || m.bouncedKey === key) return false;
    await this.load(s);
    const room = await this.room(s, signal);
    await this.load(s);
    if (m.links?.room.links !== room.links)
      m.links = { room, to: await probeLinks(this.o.tracer, room, m.plan.points, { seed: SEED, signal }) };
    for (let l = 0; l < m.layers.length; l++) {
      const field = await this.layerField(s, l, signal);
      const { bounced } = await quickProbes(
        this.o.tracer,
        room,
        m.plan.points,
        m.links.to,
        l,
        field,
        { seed: SEED, signal },
        0,
      );
      m.layers[l]!.bounced = bounced;
    }
    m.bouncedKey = key;
    // Paths so far were of other colours.
    m.paths = 0;
    return true;
  }

  /** Unbiased paths from the meters: from here on the readings are no longer the quick ones. */
  private async meterPaths(s: Shown, signal: AbortSignalLike): Promise<void> {
    const m = s.meters!;
    const n = m.plan.points.count;
    await this.load(s);
    const add = m.paths < 64 ? 64 : Math.min(512, m.paths);
    const e = await this.o.tracer.trace(m.plan.points, { seed: SEED, signal, paths: add, begun: m.paths });
    if (m.paths === 0) {
      for (let l = 0; l < m.layers.length; l++) {
        const d = await this.o.tracer.direct(m.plan.points, l, { seed: SEED + 5, signal, samples: 144 });
        m.layers[l] = { direct: d.diffuse, bounced: new Float32Array(12 * n) };
      }
    }
    e.layers.forEach((layer, l) => {
      const sum = m.layers[l]!.bounced;
      const variance = m.variance[l]!;
      const all = m.paths + add;
      for (let i = 0; i < sum.length; i++) sum[i] = (sum[i]! * m.paths + layer.bounced[i]! * add) / all;
      for (let i = 0; i < n; i++)
        variance[i] = (variance[i]! * m.paths ** 2 + layer.variance[i]! * add ** 2) / all ** 2;
    });
    m.paths += add;
    // Typical noise of the sums as they are weighed now.
    const noises: number[] = [];
    for (let i = 0; i < n; i++) {
      let sum = 0;
      let v = 0;
      s.weighed.weights.layers.forEach((w, l) => {
        const k = w.white[1];
        sum += k * (m.layers[l]!.direct[i]! + m.layers[l]!.bounced[12 * i + 5]!);
        v += k * k * m.variance[l]![i]!;
      });
      if (sum > 1e-6) noises.push(Math.sqrt(v) / sum / Math.LN2);
    }
    noises.sort((a, b) => a - b);
    m.noise = noises.length ? noises[noises.length >> 1]! : 0;
  }

  /** A carried lamp: only its layers, on the small picture. */
  private async moved(s: Shown, w: Wanted, lamp: string, signal: AbortSignalLike): Promise<void> {
    const base = [...s.lit.values()].filter((l) => l.layerKeys.length === s.geometry.transport.layers.length);
    const small = smaller(sizeOf(s, w));
    const from = base.find((l) => l.width === small.width) ?? base[0];
    const own = s.geometry.lamps.find((l) => l.id === lamp)?.layers ?? [];
    if (!from || own.length === 0) return;
    const light = [...from.light];
    const m = s.meters;
    const options = { seed: SEED, signal };
    await this.load(s);
    for (const l of own) {
      const layer = s.geometry.transport.layers[l]!;
      const { set, stand } = standOf(layer);
      const gloss = from.room?.gloss ?? glossTable(s.geometry.transport.stage.materials);
      const direct = await quickDirect(this.o.tracer, gloss, from.sight, set, stand, options);
      if (from.room === undefined || !from.sight.links) {
        light[l] = { direct, bounced: from.light[l]!.bounced };
        continue;
      }
      // Bounced on the patches of the stage as it was: only the carried lamp's own few are missing meanwhile.
      const patches = await this.o.tracer.patchDirect(l, { ...options, samples: 2 });
      const fitted = new Float32Array(from.room.patches.count);
      fitted.set(patches.subarray(0, fitted.length));
      const field = fieldFrom(from.room, layer, fitted);
      light[l] = {
        direct,
        bounced: await quickBounced(this.o.tracer, from.room, from.sight, field, direct, options),
      };
      if (m?.links?.room === from.room)
        m.layers[l]!.bounced = (
          await quickProbes(this.o.tracer, from.room, m.plan.points, m.links.to, l, field, options, 0)
        ).bounced;
    }
    const { refined: _refined, ...rest } = from;
    this.picture(s, { ...rest, light, quality: 'quick', noise: 1 }, w);
    if (m) this.read(s, w);
  }

  /** All layers of an angle at one size. */
  private async light(
    s: Shown,
    size: { width: number; height: number },
    signal: AbortSignalLike,
    directOnly = false,
  ): Promise<void> {
    const { transport, view } = s.geometry;
    const { stage, layers } = transport;
    const options = { seed: SEED, signal };
    const key = keyOf(s, size);
    const have = s.lit.get(key);
    const room = directOnly ? undefined : await this.room(s, signal);
    await this.load(s);
    let sight =
      have?.sight ??
      glance(
        view,
        await this.o.tracer.hits(view, size.width, size.height, {
          ...options,
          samples: directOnly ? 1 : size.width < 300 ? 3 : 4,
        }),
      );
    if (room) sight = await linkSight(this.o.tracer, room, sight, options);
    const gloss = room?.gloss ?? glossTable(stage.materials);
    const light: LayerLight[] = [];
    for (const [l, layer] of layers.entries()) {
      const { set, stand } = standOf(layer);
      const direct =
        have?.light[l]?.direct ?? (await quickDirect(this.o.tracer, gloss, sight, set, stand, options));
      const bounced = room
        ? await quickBounced(this.o.tracer, room, sight, await this.layerField(s, l, signal), direct, options)
        : new Float32Array(12 * sight.coarse.points.count);
      light.push({ direct, bounced });
    }
    const lit: Lit = {
      key,
      ...size,
      sight,
      room,
      stageKey: stage.key,
      shownFor: s.geometryKey,
      palette: { stageKey: stage.key, palette: paletteOf(stage, sight.hits, sight.coarse) },
      layerKeys: layers.map((x) => x.key),
      light,
      quality: directOnly ? 'direct' : 'quick',
      paths: 0,
      noise: 1,
      xyz: new Float32Array(3 * size.width * size.height),
    };
    keep(s.lit, key, lit, 6);
    s.last = lit;
  }

  /** Bounced light anew where only colours are other than they were. */
  private async recolour(s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
    const { stage, layers } = s.geometry.transport;
    const start = startOf(s);
    for (const lit of s.lit.values()) {
      if (lit.stageKey === stage.key || !lit.key.startsWith(start)) continue;
      lit.stageKey = stage.key;
      if (lit.room && lit.sight.links) {
        const room = await this.room(s, signal);
        lit.room = room;
        for (let l = 0; l < layers.length; l++) {
          const field = await this.layerField(s, l, signal);
          const options = { seed: SEED, signal, guided: false };
          const { direct } = lit.light[l]!;
          const bounced = await quickBounced(this.o.tracer, room, lit.sight, field, direct, options);
          lit.light[l] = { direct, bounced };
        }
        lit.quality = 'quick';
        lit.paths = 0;
        lit.noise = 1;
        delete lit.refined;
      }
    }
    const m = s.meters;
    if (m && m.key === metersKeyOf(s) && m.links && m.bouncedKey !== `${m.key}|${stage.key}`) {
      const room = await this.room(s, signal);
      for (let l = 0; l < layers.length; l++) {
        const field = await this.layerField(s, l, signal);
        const options = { seed: SEED, signal, guided: false };
        m.layers[l]!.bounced = (
          await quickProbes(this.o.tracer, room, m.plan.points, m.links.to, l, field, options, 0)
        ).bounced;
      }
      m.links = { room, to: m.links.to };
      m.bouncedKey = `${m.key}|${stage.key}`;
      m.paths = 0;
      m.noise = 0.3;
    }
    const lit = bestOf(s);
    if (lit && s.geometryKey !== lit.shownFor) {
      lit.shownFor = s.geometryKey;
      this.picture(s, lit, w);
      if (m) this.read(s, w);
    }
  }

  /** A batch of paths more: both halves of the light without bias, and how much they still move. */
  private async refine(s: Shown, lit: Lit, signal: AbortSignalLike): Promise<void> {
    await this.load(s);
    lit.refined ??= refinement(lit.sight, s.geometry.transport.layers.length);
    await refine(this.o.tracer, lit.sight, lit.refined, { seed: SEED, paths: 8, samples: 4, signal });
    lit.paths = lit.refined.paths;
    const gains = s.weighed.weights.layers.map((w) => w.white[1]);
    lit.noise = noiseOf(lit.sight, lit.refined, gains)?.medianStops ?? 1;
    // Two batches at least before the quick light gives way to the unbiased.
    if (lit.refined.steps >= 2) {
      lit.quality = 'paths';
      lit.light = lit.refined.light;
    }
  }

  /** XYZ of a lit picture under some weights; colours of the stage as it is now. */
  private composed(s: Shown, lit: Lit, weights: readonly LayerWeight[], out: Float32Array): void {
    const { stage } = s.geometry.transport;
    if (lit.palette.stageKey !== stage.key)
      lit.palette = { stageKey: stage.key, palette: paletteOf(stage, lit.sight.hits, lit.sight.coarse) };
    picture(lit.sight.hits, lit.sight.coarse, lit.palette.palette, lit.light, weights, out);
  }

  private picture(s: Shown, lit: Lit, w: Wanted): void {
    if (lit.light.length !== s.weights.length) return;
    this.composed(s, lit, s.weights, lit.xyz);
    const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
    const pixels = new Uint8ClampedArray(4 * lit.width * lit.height);
    if (w.stops) developStops(lit.xyz, lit.width, exposure, pixels);
    else develop(lit.xyz, lifted(exposure, w.day), this.balance(s), pixels);
    s.last = lit;
    this.o.say(
      {
        kind: 'picture',
        turn: w.turn,
        rays: this.rays(),
        picture: {
          angle: s.ref.angle,
          width: lit.width,
          height: lit.height,
          pixels,
          state:
            lit.quality === 'direct'
              ? 'quick, nothing bounced yet'
              : lit.quality !== 'paths'
                ? 'quick'
                : isSettled(lit)
                  ? 'settled'
                  : `moving by ${Math.max(0.1, lit.noise).toFixed(1)} stop`,
          progress: isSettled(lit)
            ? 1
            : Math.min(0.99, lit.paths / LEAST_PATHS, (SETTLED_PICTURE / lit.noise) ** 2),
        },
      },
      [pixels.buffer],
    );
  }

  /** What stands there from above, for the plan; once for each geometry. */
  private outlines(s: Shown, w: Wanted): void {
    if (this.outlined.get(idOf(s.ref)) === s.geometry.transport.stage.key) return;
    this.outlined.set(idOf(s.ref), s.geometry.transport.stage.key);
    const of = outlinesOf(s.geometry.transport.stage);
    const outlines: Outlines = {};
    for (const part of s.geometry.transport.stage.parts) {
      if (!/^(person|furniture|outside):/.test(part.id)) continue;
      const still = part.moving ? undefined : `${s.geometry.transport.stage.stillKey}|${part.id}`;
      let made = still === undefined ? undefined : this.outlinesKept.get(still);
      made ??= of(part.id) ?? [];
      if (still !== undefined) keep(this.outlinesKept, still, made, 400);
      const mark = s.rig.scene.marks[part.id.replace(/^person:/, '')];
      outlines[part.id] = { loops: made, at: mark?.at ?? [0, 0] };
    }
    this.o.say({ kind: 'outlines', turn: w.turn, angle: s.ref.angle, outlines });
  }

  /** Every lamp alone, from the smallest light there is: no ray. */
  private alone(s: Shown, w: Wanted): void {
    const start = startOf(s);
    let lit: Lit | undefined;
    for (const l of s.lit.values())
      if (l.quality !== 'direct' && l.key.startsWith(start) && (!lit || l.width < lit.width)) lit = l;
    if (!lit || lit.light.length !== s.weights.length) return;
    const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
    const balance = this.balance(s);
    const xyz = new Float32Array(3 * lit.width * lit.height);
    for (const lamp of s.geometry.lamps) {
      const weights = s.weighed.weights.layers.map((l, i) => (lamp.layers.includes(i) ? l : dark(l)));
      this.composed(s, lit, weights, xyz);
      const pixels = new Uint8ClampedArray(4 * lit.width * lit.height);
      if (w.stops) developStops(xyz, lit.width, exposure, pixels);
      else develop(xyz, lifted(exposure, w.day), balance, pixels);
      const picture = {
        angle: s.ref.angle,
        width: lit.width,
        height: lit.height,
        pixels,
        state: '',
        progress: 1,
      };
      this.o.say({ kind: 'alone', turn: w.turn, lamp: lamp.id, picture }, [pixels.buffer]);
    }
  }

  /** Every trouble's cures, worst first; said as soon as the worst one's are known, and when all are. */
  private async tryCures(s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
    const key = stateKeyOf(w.shoot, s.ref);
    const measured = this.measured(s);
    const lit = bestOf(s);
    if (this.cured.has(key) || !measured || !lit || w.only !== undefined) return;
    if (lit.light.length !== s.weights.length) return;
    const known: Known = {
      ...{ shoot: w.shoot, ref: s.ref, people: this.o.people, detail: 'medium' },
      ...{ angle: s.geometry, weights: s.weighed.weights, supply: s.weighed.supply, measured },
      ...{ hits: lit.sight.hits, coarse: lit.sight.coarse, light: [...lit.light] },
    };
    const trial = trier(this.o.tracer, known, { seed: SEED, signal });
    const made: Cured = { troubles: new Map(), free: [] };
    const found = [...s.found].sort((a, b) => b.severity - a.severity);
    for (const t of found) {
      if (t.severity < 1 || t.meant !== undefined) continue;
      await this.turnOver(signal);
      made.troubles.set(troubleKey(t), await withCures(t, trial));
      if (made.troubles.size === 1) {
        this.cured.set(key, made);
        this.read(s, w);
        this.cured.delete(key);
      }
    }
    made.free = await freeTogether([...made.troubles.values()], trial);
    keep(this.cured, key, made, 24);
    this.read(s, w);
  }

  private measured(s: Shown): Measured | undefined {
    const m = s.meters;
    if (!m || m.layers.length !== s.geometry.transport.layers.length) return undefined;
    return {
      plan: m.plan,
      layers: m.layers,
      ...(m.faces ? { faces: m.faces } : {}),
      quick: m.paths === 0,
      noiseStops: m.paths === 0 ? 0.1 : m.noise,
    };
  }

  private balance(s: Shown): WhiteBalance {
    return balanceOf(s.geometry, s.weighed.weights, this.measured(s)).balance;
  }

  private read(s: Shown, w: Wanted): void {
    const measured = this.measured(s);
    if (!measured || s.meters?.bouncedKey === undefined) return;
    const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
    const { weights, supply, notes } = s.weighed;
    const hits = s.last?.sight.hits ?? NO_HITS;
    const reading: AngleReading = readAngle(s.geometry, weights, measured, exposure, hits);
    const clipped =
      s.last && w.only === undefined ? clippedParts(hits, s.last.xyz, exposure) : new Map<number, never>();
    const balanced = balanceOf(s.geometry, weights, measured);
    const light = s.last?.light;
    // While a hand is at it, what only a picture tells can wait.
    const lit =
      s.last && light && !w.busy && light.length === s.geometry.transport.layers.length
        ? { hits, xyz: s.last.xyz, direct: light.map((l) => l.direct.diffuse) }
        : undefined;
    const cured = this.cured.get(stateKeyOf(w.shoot, s.ref));
    let troubles: AngleResult['troubles'] = [];
    const shadows = lit ? [] : s.found.filter((t) => t.kind === 'shadow');
    try {
      s.found = troublesOf({
        shoot: w.shoot,
        angle: s.geometry,
        weights,
        reading,
        exposure,
        clipped,
        supply,
        ...(lit && w.only === undefined ? { lit } : {}),
      }).concat(shadows);
      troubles = s.found.map((t) => {
        const known = cured?.troubles.get(troubleKey(t));
        const plain = untried(t);
        if (known) return { ...plain, cures: known.cures, tried: true };
        return { ...plain, tried: t.severity < 1 || t.meant !== undefined };
      });
    } catch (error) {
      this.o.say({ kind: 'failed', turn: w.turn, angle: s.ref.angle, words: `troubles: ${error}` });
    }
    const whites: AngleResult['whites'] = {};
    for (const lamp of lightsOf(s.geometry)) {
      const sum: [number, number, number] = [0, 0, 0];
      for (const l of lamp.layers) for (let c = 0; c < 3; c++) sum[c]! += weights.layers[l]!.white[c]!;
      whites[lamp.id] = sum;
    }
    const spared = new Set(
      troubles.filter((t) => t.kind === 'clipped' && t.meant !== undefined && t.lamp).map((t) => t.lamp!),
    );
    const glowStops: AngleResult['glowStops'] = {};
    for (const [lamp, g] of reading.glow)
      if (g.luminance > 0) glowStops[lamp] = Math.log2(g.luminance / exposure.greyCdM2);
    const { balance } = balanced;
    this.o.say({
      kind: 'read',
      turn: w.turn,
      rays: this.rays(),
      result: {
        ref: s.ref,
        marks: reading.marks,
        facesSeen: facesSeen(s.geometry, reading),
        spots: reading.spots,
        meters: meterPoints(s.geometry, weights, measured),
        lamps: weights.lamps,
        glowStops,
        supply,
        exposure: {
          eRefLx: exposure.eRefLx,
          stop: exposure.stop,
          clipStops: exposure.response.stopsAboveGrey,
          floorStops: exposure.response.stopsBelowGrey,
        },
        balance: {
          cctK: balance.cctK,
          duv: balance.duv,
          clamped: balance.clamped,
          matrix: [...balance.matrix],
        },
        whites,
        troubles,
        free: cured?.free ?? [],
        savingStop: savingStop(
          reading,
          clipped,
          exposure,
          { lamps: spared, parts: new Set() },
          new Set(Object.keys(s.rig.lamps).filter((id) => s.rig.lamps[id]!.practical)),
        ),
        quick: measured.quick,
        noiseStops: measured.noiseStops,
        notes: [...s.geometry.notes, ...notes, ...balanced.notes],
      },
    });
    if (w.earns && !this.hand)
      this.o.say({
        kind: 'earned',
        turn: w.turn,
        angle: s.ref.angle,
        earned: earnsInAngle({
          shoot: w.shoot,
          ref: s.ref,
          angle: s.geometry,
          weights,
          measured,
          exposure,
          hits,
          reading,
          supply,
          facesSeen: facesSeen(s.geometry, reading),
        }),
      });
  }
}

/** Marks whose face this angle sees: in frame, and not turned more than 110° from the lens. */
function facesSeen(g: AngleGeometry, reading: AngleReading): string[] {
  return g.marks
    .filter((m) => {
      const seen = reading.seen.get(m.part);
      if (m.part < 0 || !seen || seen.share < 0.004) return false;
      const to = (Math.atan2(g.view.eye[1] - m.eyes[1], g.view.eye[0] - m.eyes[0]) * 180) / Math.PI;
      return Math.abs(wrap(to - m.facingDeg)) < 110;
    })
    .map((m) => m.id);
}

/** By day the screen stands in bright surroundings: pictures half a stop up, which their captions say. */
const lifted = (e: Exposure, day: boolean): Exposure =>
  day ? { ...e, greyCdM2: e.greyCdM2 / Math.SQRT2 } : e;

/** The weights a picture is put together with: all lamps', or one alone. */
const shownWeights = (geometry: AngleGeometry, weighed: Weighed, w: Wanted): LayerWeight[] =>
  weighed.weights.layers.map((l, i) =>
    w.only !== undefined && geometry.transport.layers[i]?.lamp !== w.only ? dark(l) : l,
  );

const isSettled = (lit: Lit) =>
  lit.quality === 'paths' && lit.paths >= LEAST_PATHS && lit.noise <= SETTLED_PICTURE;

const idOf = (ref: AngleRef) => `${ref.scene}/${ref.angle}`;
const sizeOf = (s: Shown, w: Wanted) => w.sizes[s.ref.angle] ?? { width: 384, height: 216 };
const smaller = (size: { width: number; height: number }) => ({
  width: Math.round(size.width / 2),
  height: Math.round(size.height / 2),
});
const glimpse = (size: { width: number; height: number }) => ({
  width: Math.round(size.width / 3),
  height: Math.round(size.height / 3),
});
const keyOf = (s: Shown, size: { width: number; height: number }) =>
  `${s.geometry.viewKey}|${s.geometry.transport.layers.map((l) => l.key).join()}|${size.width}x${size.height}`;

/** Where the meters are held and what lights them: shapes, not colours. */
const metersKeyOf = (s: Shown) =>
  [
    s.geometry.viewKey,
    ...s.geometry.transport.layers.map((l) => l.key),
    JSON.stringify([
      s.geometry.marks.map((m) => [m.id, m.eyes, m.facingDeg, m.part]),
      s.geometry.spots,
      lightsOf(s.geometry).map((l) => l.at),
      s.rig.camera.whiteBalance.kind === 'read' ? s.rig.camera.whiteBalance : 0,
    ]),
  ].join('|');

const startOf = (s: Shown) =>
  `${s.geometry.viewKey}|${s.geometry.transport.layers.map((l) => l.key).join()}|`;

/** The finest picture there is of the angle as it stands. */
function bestOf(s: Shown): Lit | undefined {
  const start = startOf(s);
  let best: Lit | undefined;
  for (const l of s.lit.values()) if (l.key.startsWith(start) && (!best || l.width > best.width)) best = l;
  return best;
}

const dark = (l: LayerWeight): LayerWeight => ({ matrix: l.matrix.map(() => 0), white: [0, 0, 0] });

function keep<T>(map: Map<string, T>, key: string, value: T, most: number): void {
  map.delete(key);
  map.set(key, value);
  while (map.size > most) map.delete(map.keys().next().value as string);
}

/** What rays meet, as text: the record without levels, supplies, gels that only colour, and the camera's settings. */
function geometryKeyOf(shoot: Shoot, rig: RigForAngle, ref: AngleRef): string {
  const { supply: _supply, ...place } = shoot.places[rig.scene.place]!;
  const lamps = Object.entries(rig.lamps).map(([id, l]) => {
    const { level: _l, on: _on, feed: _f, scrims: _s, sheets: _g, batteryWh: _b, number: _n, ...rest } = l;
    const kind = kindOf(shoot.kit.lamps[l.head]);
    // Sheets count only where they scatter, and so change the layers.
    return [id, rest, kind?.id, kind ? layersOf(id, l, kind).map((layer) => layer.key) : undefined];
  });
  const { meant: _m, wishes: _w, cheats: _c, camera: _k, name: _a, hour: _h, ...angle } = rig.angle;
  const card = rig.camera.whiteBalance.kind === 'read' ? rig.camera.whiteBalance : undefined;
  // Of the day only what moves its lights; its level is a weight.
  const day = dayShapesOf(rig).map((d) => [d.id, d.emitters]);
  return JSON.stringify([ref, place, lamps, angle, rig.flags, rig.scene.marks, rig.scene.spots, card, day]);
}

/** Everything an angle's troubles hang on, as text: the document but for what other angles cheat. */
function stateKeyOf(shoot: Shoot, ref: AngleRef): string {
  const scene = shoot.scenes[ref.scene]!;
  const { angles, ...rest } = scene;
  return JSON.stringify([ref, rest, angles, shoot.places[scene.place], shoot.kit, shoot.exposureConstant]);
}

const NO_HITS: Hits = {
  width: 1,
  height: 1,
  points: {
    count: 0,
    position: new Float32Array(0),
    faceNormal: new Float32Array(0),
    normal: new Float32Array(0),
    toEye: new Float32Array(0),
    material: new Uint16Array(0),
    patch: new Uint32Array(0),
  },
  pixelStart: new Uint32Array(2),
  weight: new Float32Array(0),
  part: new Uint16Array(0),
  depth: new Float32Array(0),
  glow: { pixel: new Uint32Array(0), layer: new Uint16Array(0), luminance: new Float32Array(0) },
};
