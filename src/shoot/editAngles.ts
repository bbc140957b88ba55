/** Edits of what is looked at and from where: marks, spots, cameras, wishes, what is meant. */
import { z } from 'zod';
import {
  angleOf,
  apart,
  differing,
  EditError,
  type EditKind,
  fixed,
  floorPoint,
  id,
  kind,
  newId,
  own,
  placeOf,
  putOrTake,
  sceneOf,
  there,
  vec,
  where,
} from './editing.ts';
import { lookedAt } from './looks.ts';
import { Angle, CameraSettings, CutTolerance, Mark, type Meant, type Scene, Spot, Wish } from './schema.ts';

const angle = { scene: id, angle: id };
const markOf = (s: Scene, mark: string) => there(own(s.marks, mark), `mark ${mark}`);
const sameWish = (a: Pick<Wish, 'mark' | 'spot' | 'reading'>, b: Pick<Wish, 'mark' | 'spot' | 'reading'>) =>
  a.mark === b.mark && a.spot === b.spot && a.reading === b.reading;
const sameMeant = (m: Meant, a: { kind: string; lamp?: string | undefined; subject?: string | undefined }) =>
  m.kind === a.kind && m.lamp === a.lamp && m.subject === a.subject;
const meantArgs = {
  ...angle,
  kind: z.string().max(60),
  lamp: id.optional(),
  subject: z.string().max(80).optional(),
};

/** Which facing a mark has in an angle; without an angle the first. */
const facingIndex = (sc: Scene, mark: string, inAngle: string | undefined): number =>
  inAngle === undefined ? 0 : (own(own(sc.angles, inAngle)?.facings, mark) ?? 0);

/** Turns a mark: in one angle alone (a facing of its own there), or the facing that angles share. */
function face(sc: Scene, markId: string, inAngle: string | undefined, deg: number): void {
  const mark = markOf(sc, markId);
  const to = +deg.toFixed(2);
  if (inAngle === undefined) {
    mark.facings[0] = to;
    return;
  }
  const a = there(own(sc.angles, inAngle), `angle ${inAngle}`);
  const current = facingIndex(sc, markId, inAngle);
  const shared = Object.keys(sc.angles).some(
    (other) => other !== inAngle && facingIndex(sc, markId, other) === current,
  );
  let index = mark.facings.indexOf(to);
  if (index < 0 && current > 0 && !shared) {
    mark.facings[current] = to;
    index = current;
  } else if (index < 0) {
    if (mark.facings.length >= 8)
      throw new EditError(`${markId} has eight facings already: take one away first.`);
    index = mark.facings.push(to) - 1;
  }
  a.facings = { ...a.facings, [markId]: index };
}

/** A camera's class in a step's words. */
const CLASS_WORDS: Record<CameraSettings['class'], string> = {
  'old-sd': 'old video',
  tape: 'tape camcorder',
  'hd-knee': 'HD with a knee',
  'large-8bit': 'early large-sensor',
  modern: 'modern',
  wide: 'wide-range',
  negative: 'colour negative',
};
/** What every mark has. */
const NEEDED: ReadonlySet<string> = new Set(['name', 'at', 'eyeM', 'posture', 'facings']);

/** What was told of a mark, in a few words. */
function said(changes: { [K in keyof Mark]?: Mark[K] | undefined }): string {
  const words = [
    changes.person?.replace('-', ' of '),
    changes.posture,
    changes.cut && `hair ${changes.cut}`,
    changes.wears && (changes.wears.join(', ').replaceAll('-', ' ') || 'bare head'),
    changes.topCloth,
    changes.bottomCloth,
  ].filter((w) => typeof w === 'string');
  return words.join(', ');
}

const towardsDeg = (a: readonly number[], b: readonly number[]): number =>
  (Math.atan2(b[1]! - a[1]!, b[0]! - a[0]!) * 180) / Math.PI;

export const ANGLE_EDITS = {
  moveMark: kind({ scene: id, mark: id, to: floorPoint }, (s, a) => {
    const mark = markOf(sceneOf(s, a.scene), a.mark);
    const d = Math.hypot(a.to[0] - mark.at[0], a.to[1] - mark.at[1]);
    if (d > 0) mark.at = a.to;
    return `${a.mark} moved ${fixed(d)} m`;
  }),
  turnMark: kind(
    { scene: id, angle: id.optional(), mark: id, byDeg: z.number().min(-360).max(360) },
    (s, a) => {
      const sc = sceneOf(s, a.scene);
      const mark = markOf(sc, a.mark);
      const current = mark.facings[facingIndex(sc, a.mark, a.angle)] ?? mark.facings[0]!;
      face(sc, a.mark, a.angle, wrapped(current + a.byDeg));
      return `${a.mark} turned ${fixed(a.byDeg, 0)}°${where(a)}`;
    },
  ),
  setFacing: kind(
    { scene: id, angle: id.optional(), mark: id, deg: z.number().min(-720).max(720) },
    (s, a) => {
      face(sceneOf(s, a.scene), a.mark, a.angle, a.deg);
      return `${a.mark} faces ${fixed(a.deg, 0)}°${where(a)}`;
    },
  ),
  setMark: kind({ scene: id, mark: id, changes: Mark.partial() }, (s, a) => {
    const mark = markOf(sceneOf(s, a.scene), a.mark);
    for (const [key, v] of Object.entries(a.changes)) {
      // Told as nothing: as before anybody said so; what a mark cannot be without stays.
      if (v === undefined) {
        if (!NEEDED.has(key)) delete (mark as Record<string, unknown>)[key];
      } else (mark as Record<string, unknown>)[key] = v;
    }
    return `${a.mark}: ${said(a.changes) || mark.name}`;
  }),
  /**
   * Turned to another mark, a camera or a thing (`mark:B`, `camera:OA`, `thing:table`), eyes and all; with `angle` the
   * turn is that angle's alone and the eyes do as before.
   */
  lookAt: kind({ scene: id, angle: id.optional(), mark: id, at: z.string().max(60) }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    const mark = markOf(sc, a.mark);
    const to = lookedAt(sc, placeOf(s, sc.place), a.at);
    if (!to) throw new EditError(`There is nothing called ${a.at} to look at.`);
    if (Math.hypot(to[0] - mark.at[0], to[1] - mark.at[1]) < 0.05)
      throw new EditError(`${a.mark} stands just there: a face needs a way to turn.`);
    face(sc, a.mark, a.angle, +towardsDeg(mark.at, to).toFixed(1));
    if (a.angle === undefined) mark.looksAt = a.at;
    return `${a.mark} looks at ${a.at.replace(/^mark:|^thing:/, '').replace(/^camera:/, 'camera ')}${where(a)}`;
  }),
  addMark: kind({ scene: id, id: newId, mark: Mark }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (own(sc.marks, a.id)) throw new EditError(`There is a mark ${a.id} already.`);
    sc.marks[a.id] = a.mark;
    return `${a.id} stands: ${a.mark.name}`;
  }),
  /** With it go its facings, its wishes, and a balance read there (which keeps its point). */
  removeMark: kind({ scene: id, mark: id }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    const mark = markOf(sc, a.mark);
    for (const camera of [sc.camera, ...Object.values(sc.angles).map((x) => x.camera)]) {
      const balance = camera?.whiteBalance;
      if (balance?.kind === 'read' && balance.at === a.mark) balance.at = [...mark.at, mark.eyeM];
    }
    delete sc.marks[a.mark];
    for (const x of Object.values(sc.angles)) {
      if (x.facings) delete x.facings[a.mark];
      if (x.wishes.some((w) => w.mark === a.mark)) x.wishes = x.wishes.filter((w) => w.mark !== a.mark);
    }
    return `${a.mark} taken away`;
  }),
  /** Without `spot` it is taken away, with the wishes for it. */
  setSpot: kind({ scene: id, id, spot: Spot.optional() }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (!a.spot)
      for (const x of Object.values(sc.angles))
        if (x.wishes.some((w) => w.spot === a.id)) x.wishes = x.wishes.filter((w) => w.spot !== a.id);
    return putOrTake(sc.spots, a.id, a.spot, `spot ${a.id}`);
  }),

  moveCamera: kind({ ...angle, to: vec }, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    apart(a.to, x.lookAt, `${a.angle} would stand where it looks: choose a point further off.`);
    if (!alike(x.at, a.to)) x.at = a.to;
    return `Camera ${a.angle} moved`;
  }),
  aimCamera: kind({ ...angle, at: vec }, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    apart(x.at, a.at, `${a.angle} would look at itself: choose a point further off.`);
    if (!alike(x.lookAt, a.at)) x.lookAt = a.at;
    return `Camera ${a.angle} aimed`;
  }),
  setLens: kind({ ...angle, focalMm: z.number().gt(0).max(3000) }, (s, a) => {
    angleOf(s, a.scene, a.angle).focalMm = a.focalMm;
    return `${a.angle}: ${a.focalMm} mm`;
  }),
  /** Stop, sensitivity, shutter, class, balance: of the scene, or of one angle (only what differs is kept there). */
  setCamera: kind({ scene: id, angle: id.optional(), camera: CameraSettings.partial() }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (a.angle === undefined) Object.assign(sc.camera, a.camera);
    else {
      const x = angleOf(s, a.scene, a.angle);
      const camera = differing({ ...x.camera, ...a.camera }, sc.camera);
      if (Object.keys(camera).length) x.camera = camera;
      else delete x.camera;
    }
    const c = a.camera;
    const parts = [
      c.stop === undefined ? '' : `T${c.stop}`,
      c.ei === undefined ? '' : `EI ${c.ei}`,
      c.class === undefined ? '' : `${CLASS_WORDS[c.class]} class`,
      c.whiteBalance === undefined
        ? ''
        : c.whiteBalance.kind === 'kelvin'
          ? `${c.whiteBalance.kelvin} K`
          : 'balanced on a card',
    ].filter(Boolean);
    return `Camera${where(a)}: ${parts.join(', ') || 'set'}`;
  }),
  addAngle: kind({ scene: id, id: newId, angle: Angle }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (own(sc.angles, a.id)) throw new EditError(`There is an angle ${a.id} already.`);
    apart(a.angle.at, a.angle.lookAt, `${a.id} would look at itself: choose a point further off.`);
    sc.angles[a.id] = a.angle;
    return `${a.id} added: ${a.angle.name}`;
  }),
  /** With it go its cheats; flags that stood for it alone are taken down. */
  removeAngle: kind(angle, (s, a) => {
    const sc = sceneOf(s, a.scene);
    angleOf(s, a.scene, a.angle);
    delete sc.angles[a.angle];
    for (const [f, flag] of Object.entries(sc.rig.flags)) {
      if (!flag.angles?.includes(a.angle)) continue;
      flag.angles = flag.angles.filter((x) => x !== a.angle);
      if (flag.angles.length === 0) delete sc.rig.flags[f];
    }
    for (const other of Object.values(sc.angles)) if (other.cutFrom === a.angle) delete other.cutFrom;
    for (const mark of Object.values(sc.marks))
      if (mark.present?.includes(a.angle)) mark.present = mark.present.filter((x) => x !== a.angle);
    return `${a.angle} struck`;
  }),

  /** What two sides of a cut may differ by in this scene. */
  setCut: kind({ scene: id, changes: CutTolerance }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    sc.cut = { ...sc.cut, ...a.changes };
    return 'What a cut may differ by';
  }),
  /** Which angle an angle is cut from; without one the widest that sees its faces. */
  setCutFrom: kind({ ...angle, wide: id.optional() }, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    if (a.wide === a.angle) throw new EditError(`${a.angle} cannot be cut from itself.`);
    if (a.wide === undefined) delete x.cutFrom;
    else {
      angleOf(s, a.scene, a.wide);
      x.cutFrom = a.wide;
    }
    return `${a.angle} cut from ${a.wide ?? 'the widest'}`;
  }),

  /** One wish: in place of the wish for the same reading of the same mark or spot. */
  setWish: kind({ ...angle, wish: Wish }, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    const i = x.wishes.findIndex((w) => sameWish(w, a.wish));
    if (i < 0) x.wishes.push(a.wish);
    else x.wishes[i] = a.wish;
    return `Wished in ${a.angle}: ${a.wish.mark ?? a.wish.spot ?? ''} ${a.wish.target}`;
  }),
  endWish: kind(
    { ...angle, mark: id.optional(), spot: id.optional(), reading: Wish.shape.reading },
    (s, a) => {
      const x = angleOf(s, a.scene, a.angle);
      x.wishes = x.wishes.filter((w) => !sameWish(w, a));
      return `No longer wished in ${a.angle}`;
    },
  ),
  setWishes: kind({ ...angle, wishes: z.array(Wish).max(100) }, (s, a) => {
    angleOf(s, a.scene, a.angle).wishes = a.wishes;
    return `Wishes of ${a.angle}`;
  }),
  /** Marked again it takes the new word. */
  markMeant: kind({ ...meantArgs, word: z.string().max(200).optional() }, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    const { scene: _scene, angle: _angle, ...rest } = a;
    const meant = JSON.parse(JSON.stringify(rest)) as Meant;
    const i = x.meant.findIndex((m) => sameMeant(m, a));
    if (i < 0) x.meant.push(meant);
    else x.meant[i] = meant;
    return `Meant in ${a.angle}${a.word ? `: ${a.word}` : ''}`;
  }),
  unmeant: kind(meantArgs, (s, a) => {
    const x = angleOf(s, a.scene, a.angle);
    x.meant = x.meant.filter((m) => !sameMeant(m, a));
    return `No longer meant in ${a.angle}`;
  }),
} satisfies Record<string, EditKind>;

/** The same point: nothing to change. */
const alike = (a: readonly number[], b: readonly number[]): boolean => a.every((v, k) => v === b[k]);

/** Within a turn either way, so that a mark can be turned for ever. */
const wrapped = (deg: number): number => (Math.abs(deg) <= 360 ? deg : deg % 360);
