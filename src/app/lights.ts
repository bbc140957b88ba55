/** The workers of light as one: hands each its angles, gathers what they say, measures how long it took. */
import type { StandMap } from '../readings/standMap.ts';
import type { EarnedInAngle } from '../scheme/earns.ts';
import type { Neared } from '../scheme/matchCures.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { RayCount } from '../transport/tracer.ts';
import type { Figures } from './assets.ts';
import type { AngleResult, FromLight, Outlines, PictureSent, ToLight, Wanted } from './messages.ts';
import { tellTogether } from './together.ts';

export interface Show {
  shoot: Shoot;
  angles: AngleRef[];
  chosen: string | undefined;
  sizes: Wanted['sizes'];
  moving: string | undefined;
  busy: boolean;
  trying: boolean;
  stops: boolean;
  day: boolean;
  score: boolean;
  earns: boolean;
  only: string | undefined;
  stand?: Wanted['stand'];
  match?: Wanted['match'];
}

export interface LightsEvents {
  onRead: (result: AngleResult) => void;
  onPicture: (picture: PictureSent) => void;
  onAlone: (lamp: string, picture: PictureSent) => void;
  onEarned: (angle: string, earned: EarnedInAngle[]) => void;
  onOutlines: (angle: string, outlines: Outlines) => void;
  onStands?: (stands: Stands) => void;
  onMatched?: (key: string, found: Neared[]) => void;
  onFailed: (angle: string, words: string) => void;
}

/** Where a mark could stand in an angle; no map: it is being worked out. */
export interface Stands {
  angle: string;
  mark: string;
  map: StandMap | undefined;
}

/** How long the last turn took, milliseconds from the wish to the last angle's answer. */
export interface Timing {
  turn: number;
  readingsMs: number | undefined;
  picturesMs: number | undefined;
  /** When it was asked for, by the page's clock, and how long after that each angle's readings and pictures came. */
  askedMs: number;
  read: number[];
  seen: number[];
}

const NONE: RayCount = { camera: 0, shadow: 0, bounce: 0, link: 0 };

export class Lights {
  private readonly workers: Worker[] = [];
  private readonly spawn: () => Worker;
  private readonly workersInAll: number;
  private readonly people: Promise<Figures>;
  private readonly counts: RayCount[] = [];
  private readonly events: LightsEvents;
  private turn = 0;
  private waiting: Show | undefined;
  private last: Show | undefined;
  /** The next wish only spreads what is shown over more workers. */
  private handedOver = false;
  private asked = 0;
  private readonly seenReads = new Set<string>();
  private readonly seenPictures = new Set<string>();
  private angles: AngleRef[] = [];
  readonly timings: Timing[] = [];
  /** The shoot that the last turn is of. */
  shown: Shoot | undefined;

  /** So many workers begin, the others come once every angle was seen. */
  constructor(
    spawn: () => Worker,
    { first, all }: { first: number; all: number },
    people: Promise<Figures>,
    events: LightsEvents,
  ) {
    this.events = events;
    this.spawn = spawn;
    this.workersInAll = all;
    this.people = people;
    for (let i = 0; i < first; i++) this.begin();
  }

  private begin(): void {
    const i = this.workers.length;
    const worker = this.spawn();
    this.workers.push(worker);
    this.counts.push(NONE);
    worker.onmessage = (e: MessageEvent<FromLight>) => this.hear(i, e.data);
    worker.onerror = (e) => this.events.onFailed('', e.message || 'a worker could not start');
    this.people.then(
      (bytes) => this.send(i, { kind: 'people', bytes }),
      (error) => this.events.onFailed('', `The figures of people could not be read: ${error}.`),
    );
  }

  /** Every angle was seen: the other workers come, are given what the first have built, and take their angles. */
  private grow(): void {
    const builders = this.workers.length;
    if (builders >= this.workersInAll || !this.last) return;
    while (this.workers.length < this.workersInAll) this.begin();
    tellTogether(this.workers, this.last.shoot, this.last.angles, builders);
    this.handedOver = true;
    this.show(this.waiting ?? this.last);
  }

  /** Asks for a show; wishes that come in one frame are one. */
  show(wish: Show): void {
    const first = this.waiting === undefined;
    this.waiting = wish;
    if (!first) return;
    let gone = false;
    const go = () => {
      if (gone) return;
      gone = true;
      this.go();
    };
    requestAnimationFrame(go);
    setTimeout(go, 60);
  }

  /** Rays traced so far by all workers, by kind. */
  get rays(): RayCount {
    const sum = { ...NONE };
    for (const c of this.counts) for (const k of Object.keys(sum) as (keyof RayCount)[]) sum[k] += c[k];
    return sum;
  }

  dispose(): void {
    for (const w of this.workers) w.terminate();
  }

  private send(i: number, message: ToLight): void {
    this.workers[i]!.postMessage(message);
  }

  private go(): void {
    const wish = this.waiting;
    this.waiting = undefined;
    if (!wish) return;
    this.last = wish;
    const { chosen, angles, ...rest } = wish;
    this.turn++;
    this.asked = performance.now();
    this.seenReads.clear();
    this.seenPictures.clear();
    this.angles = angles;
    this.shown = wish.shoot;
    this.timings.push({
      turn: this.turn,
      askedMs: this.asked,
      readingsMs: undefined,
      picturesMs: undefined,
      read: [],
      seen: [],
    });
    if (this.timings.length > 200) this.timings.shift();
    this.workers.forEach((_, i) => {
      const own = angles
        .filter((_a, n) => n % this.workers.length === i)
        .sort((a, b) => Number(b.angle === chosen) - Number(a.angle === chosen));
      const wanted = { ...rest, angles: own, turn: this.turn, seen: this.handedOver };
      this.send(i, { kind: 'show', wanted });
    });
    this.handedOver = false;
  }

  private hear(i: number, message: FromLight): void {
    if (message.kind === 'ready') return;
    if (message.kind === 'failed') {
      this.events.onFailed(message.angle, message.words);
      return;
    }
    if (message.kind === 'alone') {
      this.events.onAlone(message.lamp, message.picture);
      return;
    }
    if (message.kind === 'stands') {
      const { angle, mark, map } = message;
      this.events.onStands?.({ angle, mark, map });
      return;
    }
    if (message.kind === 'matched') {
      this.events.onMatched?.(message.key, message.found);
      return;
    }
    if (message.kind === 'earned') {
      this.events.onEarned(message.angle, message.earned);
      return;
    }
    if (message.kind === 'outlines') {
      this.events.onOutlines(message.angle, message.outlines);
      return;
    }
    this.counts[i] = message.rays;
    const timing = this.timings.at(-1);
    const ms = performance.now() - this.asked;
    // Answers to wishes that newer ones have overtaken are shown too: each counts from its own wish.
    const own = this.timings.find((t) => t.turn === message.turn);
    const late = own ? performance.now() - own.askedMs : 0;
    if (message.kind === 'read') own?.read.push(late);
    if (message.kind === 'picture') own?.seen.push(late);
    if (message.kind === 'read') {
      if (message.turn === this.turn && timing) {
        this.seenReads.add(message.result.ref.angle);
        if (this.seenReads.size === this.angles.length) timing.readingsMs ??= ms;
      }
      this.events.onRead(message.result);
    } else if (message.kind === 'picture') {
      if (message.turn === this.turn && timing) {
        this.seenPictures.add(message.picture.angle);
        if (this.seenPictures.size === this.angles.length) timing.picturesMs ??= ms;
      }
      this.events.onPicture(message.picture);
      if (this.seenPictures.size === this.angles.length) this.grow();
    }
  }
}
