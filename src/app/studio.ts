/**
 * The studio: works out readings and pictures of some angles and keeps them right while hands change things.
 * Everything is kept by content. What costs no ray is done at once; then readings, then small pictures, then full
 * ones; then paths refine both while one looks. A new wish abandons whatever is under way.
 */

import type { PeopleData } from '../stage/people/person.ts';
import type { AbortSignalLike } from '../transport/tracer.ts';
import type { Expected, Wanted } from './messages.ts';
import { lightFrames, prepare, ready } from './studio/angle.ts';
import { tryCures } from './studio/curing.ts';
import { type Told, tellPictures, tellReadings } from './studio/hand.ts';
import { keyOf } from './studio/keys.ts';
import { bestOf, lightAt, recolour, refineLit } from './studio/lighting.ts';
import { tryMatch } from './studio/matching.ts';
import { type Means, meansOf, rays, type StudioOptions, turnOver } from './studio/means.ts';
import { meterBounced, meterDirect, meterFaces, meterPaths } from './studio/meters.ts';
import { sendAlone, sendPicture } from './studio/pictures.ts';
import { sendOutlines } from './studio/plan.ts';
import { sendReading } from './studio/reading.ts';
import { buildShared } from './studio/shared.ts';
import { glimpse, idOf, isSettled, type Shown, sizeOf, smaller } from './studio/shown.ts';
import { sendStands } from './studio/stands.ts';

/** A reading moves by less than this once settled, stops. */
const SETTLED_READING = 0.04;
/** Paths spent at most on one thing. */
const MOST_PATHS = 512;

const NEVER: AbortSignalLike = { aborted: false };

export class Studio {
  private readonly on: Means;
  private signal: { aborted: boolean } = { aborted: false };
  /** A hand moves something: short work, let finish. */
  private hand = false;
  /** Whose turn it is while a hand moves. */
  private next = 0;
  /** Pictures under a hand: since when, and how long others were read meanwhile. */
  private picturing: { sinceMs: number; readMs: number } | undefined;
  /** Readings of a newer wish on their way, and once they were told. */
  private reading: Promise<void> | undefined;
  private told: Told | undefined;

  constructor(options: StudioOptions) {
    this.on = meansOf(options);
  }

  set people(people: PeopleData | undefined) {
    this.on.people = people;
    this.on.geometries.clear();
    this.on.framesLit.clear();
  }

  /** Gets ready what will be shown first, shared with the other workers, while the page draws itself. */
  async expect(expected: Expected, neighbours: readonly (MessagePort | undefined)[]): Promise<void> {
    const { on } = this;
    if (!on.people) return;
    await buildShared(expected, on.people, neighbours);
    await ready(on, expected.firsts[expected.own]!, expected.shoot);
  }

  /**
   * A newer wish: abandons what is under way; `show` follows. While a hand moves, the next picture is finished first,
   * but the readings are told at once; they have half of the time at most, or no picture would ever come.
   */
  abandon(newer: Wanted): void {
    if (!this.hand) this.signal.aborted = true;
    const { on, picturing } = this;
    if (!on.reader || !newer.busy || !picturing || this.reading) return;
    const sinceMs = performance.now();
    if (picturing.readMs > (sinceMs - picturing.sinceMs) / 2) return;
    const done = (told?: Told) => {
      this.told = told;
      this.reading = undefined;
      picturing.readMs += performance.now() - sinceMs;
    };
    this.reading = tellReadings(on, newer, NEVER).then(done, () => done());
  }

  private async follow(w: Wanted, signal: AbortSignalLike): Promise<void> {
    const { on, told } = this;
    this.told = undefined;
    const now = told?.turn === w.turn ? told : await tellReadings(on, w, signal);
    this.picturing = { sinceMs: performance.now(), readMs: 0 };
    try {
      this.next += await tellPictures(on, w, now, this.next, signal);
    } finally {
      this.picturing = undefined;
    }
  }

  async show(w: Wanted): Promise<void> {
    const { on } = this;
    const signal = { aborted: false };
    this.signal = signal;
    this.hand = w.busy;
    await this.reading;
    if (w.busy) return this.follow(w, signal);
    const all: Shown[] = [];
    const fresh: Shown[] = [];
    for (const ref of w.angles) {
      try {
        const { shown, changed } = prepare(on, ref, w);
        all.push(shown);
        if (changed) fresh.push(shown);
        // Something to look at as soon as may be: small, and without what bounces.
        if (!shown.last && !w.seen) {
          await lightFrames(on, shown, w, signal);
          await lightAt(on, shown, glimpse(sizeOf(shown, w)), signal, true);
          sendPicture(on, shown, shown.last!, w);
        }
      } catch (error) {
        if (signal.aborted) throw error;
        on.say({ kind: 'failed', turn: w.turn, angle: ref.angle, words: String(error) });
      }
    }
    for (const id of on.angles.keys()) if (!w.angles.some((r) => idOf(r) === id)) on.angles.delete(id);

    for (const s of all) await lightFrames(on, s, w, signal);

    // What needs no ray.
    for (const s of all) {
      if (fresh.includes(s) || !s.meters) continue;
      const lit = bestOf(s);
      if (lit) sendPicture(on, s, lit, w);
      sendReading(on, s, w);
      if (lit && w.score) sendAlone(on, s, w);
    }
    await turnOver(on, signal);

    // Other colours on the same shapes: solved and gathered again, no ray.
    for (const s of all) await recolour(on, s, w, signal);

    // Readings first.
    for (const s of all) if ((await meterDirect(on, s, signal)) && s.last) sendReading(on, s, w);

    // Asked for by hand, and looked at now.
    for (const s of all) await sendStands(on, s, w, signal);

    // Small pictures of all angles, then the readings' bounced light.
    for (const s of all) {
      const best = bestOf(s);
      if (!best || best.quality === 'direct') {
        await lightAt(on, s, smaller(sizeOf(s, w)), signal);
        sendPicture(on, s, bestOf(s)!, w);
        await meterBounced(on, s, signal);
        sendReading(on, s, w);
      } else if (await meterBounced(on, s, signal)) sendReading(on, s, w);
      sendOutlines(on, s, w);
      if (w.score && fresh.includes(s)) sendAlone(on, s, w);
    }

    for (const s of all) if (await meterFaces(on, s, signal)) sendReading(on, s, w);

    // Full size.
    for (const s of all) {
      const full = sizeOf(s, w);
      const have = s.lit.get(keyOf(s, full));
      if (have && have.quality !== 'direct') continue;
      await lightAt(on, s, full, signal);
      sendPicture(on, s, bestOf(s)!, w);
      sendReading(on, s, w);
    }
    // What would help, tried: not for what is itself only tried.
    // What somebody looks at now comes before what troubles need.
    if (!w.trying) for (const s of all) await tryMatch(on, s, w, signal);
    if (!w.trying) for (const s of all) await tryCures(on, s, w, signal);

    // Readings settle first, then pictures.
    for (const s of all)
      while (s.meters && s.meters.noise > SETTLED_READING && s.meters.paths < 4096) {
        await meterPaths(on, s, signal);
        sendReading(on, s, w);
      }
    for (let going = true; going; ) {
      going = false;
      for (const s of all) {
        const lit = s.lit.get(keyOf(s, sizeOf(s, w)));
        if (!lit || isSettled(lit) || lit.paths >= MOST_PATHS) continue;
        going = true;
        await refineLit(on, s, lit, signal);
        sendPicture(on, s, lit, w);
      }
    }
    on.say({ kind: 'done', turn: w.turn, rays: rays(on) });
  }
}
