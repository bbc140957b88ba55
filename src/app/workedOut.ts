/** Every angle of a shoot worked out for once: what the screen shows where that will do, the rest by workers of its own. */
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { peopleFigures } from './assets.ts';
import LightWorker from './light.worker.ts?worker';
import { Lights } from './lights.ts';
import type { AngleResult, Outlines, PictureSent } from './messages.ts';
import { useStore } from './store.ts';

export interface WorkedOut {
  ref: AngleRef;
  result: AngleResult;
  picture: PictureSent;
  outlines: Outlines | undefined;
}

const SIZE = { width: 480, height: 270 };
/** A picture at least so wide is no glimpse; a phone’s are the narrowest. */
const WHOLE = 384;
/** Longer than this nobody waits for one scene. */
const PATIENCE_MS = 90_000;

/** Angles that were not ready in time are missing. `say`: how many are. */
export async function workedOut(
  shoot: Shoot,
  refs: readonly AngleRef[],
  say: (done: number) => void,
): Promise<WorkedOut[]> {
  const out: WorkedOut[] = [];
  const scenes = [...new Set(refs.map((r) => r.scene))];
  for (const scene of scenes) {
    const angles = refs.filter((r) => r.scene === scene);
    const seen = await onScreen(shoot, scene, angles);
    out.push(...(seen ?? (await byWorkers(shoot, angles, (n) => say(out.length + n)))));
    say(out.length);
  }
  return out;
}

/** Whole, and with the light that bounces. */
const isWhole = (p: PictureSent | undefined): p is PictureSent =>
  p !== undefined && p.width >= WHOLE && !p.state.includes('nothing bounced');

/** What stands on the screen, once it is worked out; undefined where the screen shows something else. */
async function onScreen(
  shoot: Shoot,
  scene: string,
  angles: readonly AngleRef[],
): Promise<WorkedOut[] | undefined> {
  const until = performance.now() + PATIENCE_MS;
  while (performance.now() < until) {
    const s = useStore.getState();
    const plain = !(s.stops || s.only || s.day);
    if (!plain || s.scene !== scene || (!s.busy && s.history?.shoot !== shoot)) return undefined;
    const turn = window.rushlight?.timings().at(-1);
    const out = angles.flatMap((ref): WorkedOut[] => {
      const [result, picture] = [s.results[ref.angle], s.pictures[ref.angle]];
      return result && isWhole(picture) ? [{ ref, result, picture, outlines: s.outlines[ref.angle] }] : [];
    });
    // A cure that is being tried, a hand that moves: over in a moment.
    const other = s.tried !== undefined || s.busy;
    const fresh = window.rushlight?.shown() === shoot;
    const done = !other && fresh && turn?.readingsMs !== undefined && turn.picturesMs !== undefined;
    if (done && out.length === angles.length) return out;
    await new Promise((go) => setTimeout(go, 150));
  }
  return undefined;
}

function byWorkers(shoot: Shoot, angles: AngleRef[], say: (done: number) => void): Promise<WorkedOut[]> {
  return new Promise((resolve) => {
    const results = new Map<string, AngleResult>();
    const pictures = new Map<string, PictureSent>();
    const outlines = new Map<string, Outlines>();
    const end = () => {
      clearTimeout(late);
      lights.dispose();
      resolve(
        angles.flatMap((ref) => {
          const [result, picture] = [results.get(ref.angle), pictures.get(ref.angle)];
          return result && picture ? [{ ref, result, picture, outlines: outlines.get(ref.angle) }] : [];
        }),
      );
    };
    const late = setTimeout(end, PATIENCE_MS);
    const count = Math.max(1, Math.min(angles.length, (navigator.hardwareConcurrency || 2) - 1));
    const lights = new Lights(() => new LightWorker(), { first: count, all: count }, peopleFigures(), {
      onRead: (r) => results.set(r.ref.angle, r),
      onPicture(p) {
        if (!isWhole(p) || !results.has(p.angle)) return;
        pictures.set(p.angle, p);
        say(pictures.size);
        if (pictures.size === angles.length) end();
      },
      onAlone: () => {},
      onEarned: () => {},
      onOutlines: (angle, o) => outlines.set(angle, o),
      onFailed: () => {},
    });
    lights.show({
      shoot,
      angles,
      chosen: undefined,
      sizes: Object.fromEntries(angles.map((a) => [a.angle, SIZE])),
      moving: undefined,
      busy: false,
      stops: false,
      day: false,
      score: false,
      earns: false,
      trying: false,
      only: undefined,
    });
  });
}
