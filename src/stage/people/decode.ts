/** Opens people.bin: eight people on one topology, their clothes, hair and skeleton. Layout: scripts/people/packer.ts. [MAKEHUMAN-CC0] */

import { unevenness } from './uneven.ts';

/** A coarser set of triangles on the same vertices: 3 × m, and a slot per triangle. */
export interface Level {
  triangles: Uint16Array;
  slot: Uint8Array;
}

/** A garment: one topology for all its wearers. */
export interface Garment {
  /** 3 × m. */
  triangles: Uint16Array;
  /** m: index into `slots`. */
  slot: Uint8Array;
  slots: string[];
  /** 4 × n bone numbers and weights; the weights of a vertex sum to 255. */
  bones: Uint8Array;
  amounts: Uint8Array;
  medium: Level;
  far: Level;
}

/** Hairs that follow the head: guides, root first. */
export interface Hairs {
  use: 'hair' | 'brow' | 'lash';
  /** Points per hair. */
  points: number;
  /** How far the inner sheet and the roots are drawn in, metres. */
  inM: number;
  /** 3 × points × hairs: metres at rest, and unit normals of the sheet they lie on. */
  positions: Float32Array;
  normals: Float32Array;
}

export interface PersonShape {
  id: string;
  words: string;
  /** The person's own eye height standing, metres; an invented person's size. */
  naturalEyeHeightM: number;
  complexion: string;
  wardrobe: { top: string; bottom: string; shoes: string };
  hairColour: string;
  /** 3 × 13380 metres, rest pose, z up, face towards -y, left = +x. */
  body: Float32Array;
  /** 13380: 1 where cloth covers the skin. */
  hidden: Uint8Array;
  /** 3 × (bones + markers) metres. */
  joints: Float32Array;
  /** Left, right. */
  eyes: { centre: number[]; radiusM: number }[];
  garments: {
    name: string;
    positions: Float32Array;
    /** How it hangs, by posture: see `fold` in cloth.ts. */
    folds: Partial<Record<'standing' | 'seated', Int8Array>>;
  }[];
  /** The hair's inner sheet, carried by the head. */
  sheet?: { name: string; positions: Float32Array };
  hairs: Hairs[];
  /** Quads of the skin that lie under hair. */
  scalp: Uint16Array;
  grown?: 'crop' | 'afro';
}

export interface PeopleData {
  bones: { name: string; parent: number }[];
  boneNumber: Record<string, number>;
  markers: string[];
  /** 4 × 13378 vertex numbers. */
  quads: Uint16Array;
  /** Per quad: 0 skin, 1 lips, 2 scalp, 3 inside of the mouth. */
  quadSlot: Uint8Array;
  /** The skin's coarser levels; slots as `quadSlot`. */
  medium: Level;
  far: Level;
  mirror: Uint16Array;
  /** 4 × 13380. */
  bodyBones: Uint8Array;
  bodyAmounts: Uint8Array;
  garments: Record<string, Garment>;
  /** Triangles of the hair sheets. */
  sheets: Record<string, Uint16Array>;
  people: PersonShape[];
}

interface Header {
  quantumM: number;
  bones: { name: string; parent: number }[];
  markers: string[];
  pieces: Record<string, { slots: string[] }>;
  sheets: string[];
  people: {
    id: string;
    words: string;
    naturalEyeHeightM: number;
    complexion: string;
    wardrobe: { top: string; bottom: string; shoes: string };
    hairColour: string;
    pieces: string[];
    sheet?: string;
    hairs: { name: string; use: 'hair' | 'brow' | 'lash'; points: number; inM: number }[];
    grown?: 'crop' | 'afro';
    eyes: { centre: number[]; radiusM: number }[];
  }[];
  /** Byte offset, bytes, count, stride, other array; see the packer. */
  arrays: Record<string, [number, number, number, number, string]>;
}

/** Decodes the bytes of people.bin. Throws when they are not such a file. */
export function decodePeople(bytes: Uint8Array): PeopleData {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = (from: number, n: number) => {
    // The header is plain ASCII.
    let s = '';
    for (let i = 0; i < n; i += 4096)
      s += String.fromCharCode(...bytes.subarray(from + i, from + Math.min(n, i + 4096)));
    return s;
  };
  if (bytes.length < 8 || text(0, 4) !== 'RLP1')
    throw new Error('not a people file: it must begin with RLP1');
  const headLength = view.getUint32(4, true);
  const header = JSON.parse(text(8, headLength)) as Header;
  const from = 8 + headLength;
  const array = (name: string) => {
    const a = header.arrays[name];
    if (!a) throw new Error(`people file lacks ${name}`);
    return a;
  };
  const u8 = (name: string) => {
    const [at, size] = array(name);
    return bytes.slice(from + at, from + at + size);
  };
  const kept = new Map<string, Int32Array>();
  const othersOf = (name: string): Int32Array => {
    let got = kept.get(name);
    if (!got) {
      got = numbers(name);
      kept.set(name, got);
    }
    return got;
  };
  const numbers = (name: string): Int32Array => {
    const [at, , n, stride, other] = array(name);
    const less = other ? othersOf(other) : undefined;
    const out = new Int32Array(n);
    let b = from + at;
    for (let i = 0; i < n; i++) {
      let z = 0;
      for (let shift = 0; ; shift += 7) {
        const byte = bytes[b++]!;
        z |= (byte & 127) << shift;
        if (byte < 128) break;
      }
      out[i] = (z & 1 ? -((z + 1) >> 1) : z >> 1) + (i >= stride ? out[i - stride]! : 0);
    }
    if (less) for (let i = 0; i < n; i++) out[i]! += less[i]!;
    return out;
  };
  const u16 = (name: string) => Uint16Array.from(numbers(name));
  const metres = (name: string): Float32Array => {
    const steps = numbers(name);
    const out = new Float32Array(steps.length);
    for (let i = 0; i < out.length; i++) out[i] = steps[i]! * header.quantumM;
    return out;
  };
  const level = (name: string): Level => ({ triangles: u16(name), slot: u8(`${name}Slot`) });
  const mirror = u16('body.mirror');
  const quads = u16('body.quads');
  const n = mirror.length;
  // Weights, too, are stored for the left half.
  const otherSide = header.bones.map((b) => {
    const name = b.name.endsWith('.L')
      ? `${b.name.slice(0, -1)}R`
      : b.name.endsWith('.R')
        ? `${b.name.slice(0, -1)}L`
        : b.name;
    return header.bones.findIndex((c) => c.name === name);
  });
  const halfBones = u8('body.bones');
  const halfAmounts = u8('body.amounts');
  const bones = new Uint8Array(4 * n);
  const amounts = new Uint8Array(4 * n);
  for (let i = 0, from4 = 0; i < n; i++) {
    const m = mirror[i]!;
    if (m < i) continue;
    for (let k = 0; k < 4; k++, from4++) {
      bones[4 * i + k] = halfBones[from4]!;
      amounts[4 * i + k] = halfAmounts[from4]!;
      if (m === i) continue;
      bones[4 * m + k] = otherSide[halfBones[from4]!]!;
      amounts[4 * m + k] = halfAmounts[from4]!;
    }
  }
  // A scene has two or three of the people: what only the others need stays packed.
  const garments: Record<string, Garment> = {};
  for (const [name, { slots }] of Object.entries(header.pieces))
    unpackedWhenAsked(garments, name, () => ({
      triangles: u16(`${name}.triangles`),
      slot: u8(`${name}.slot`),
      slots,
      bones: u8(`${name}.bones`),
      amounts: u8(`${name}.amounts`),
      medium: level(`${name}.medium`),
      far: level(`${name}.far`),
    }));
  const sheets: Record<string, Uint16Array> = {};
  for (const name of header.sheets) unpackedWhenAsked(sheets, name, () => u16(`${name}.triangles`));
  const shapeOf = (p: Header['people'][number]) => {
    // The left half is stored; the right is its mirror image.
    const half = metres(`${p.id}.half`);
    const body = new Float32Array(3 * n);
    let at = 0;
    for (let i = 0; i < n; i++) {
      const m = mirror[i]!;
      if (m < i) continue;
      for (let k = 0; k < 3; k++) body[3 * i + k] = half[at + k]!;
      if (m !== i) {
        body[3 * m] = -half[at]!;
        body[3 * m + 1] = half[at + 1]!;
        body[3 * m + 2] = half[at + 2]!;
      }
      at += 3;
    }
    const bits = u8(`${p.id}.hides`);
    const hidden = new Uint8Array(n);
    for (let i = 0; i < n; i++) hidden[i] = (bits[i >> 3]! >> (i & 7)) & 1;
    const uneven = unevenness(p.id, body);
    uneven(body);
    drawIn(body, hidden, quads);
    return {
      body,
      hidden,
      joints: metres(`${p.id}.joints`),
      eyes: p.eyes.map((e) => {
        const c = Float32Array.from(e.centre);
        uneven(c);
        return { ...e, centre: [...c] };
      }),
      garments: p.pieces.map((name) => ({
        name,
        positions: metres(`${p.id}.${name}`),
        folds: Object.fromEntries(
          (['standing', 'seated'] as const).flatMap((posture) => {
            const key = `${p.id}.${name}.folds.${posture}`;
            if (!header.arrays[key]) return [];
            const b = u8(key);
            return [[posture, new Int8Array(b.buffer, b.byteOffset, b.length)]];
          }),
        ),
      })),
      ...(p.sheet ? { sheet: { name: p.sheet, positions: metres(`${p.id}.${p.sheet}`) } } : {}),
      hairs: p.hairs.map(({ name, use, points, inM }) => ({
        use,
        points,
        inM,
        positions: uneven(metres(`${p.id}.${name}.hairs`)),
        normals: Float32Array.from(u8(`${p.id}.${name}.hairNormals`), (x) => (x - 128) / 127),
      })),
      scalp: u16(`${p.id}.scalp`),
    };
  };
  const people = header.people.map((p): PersonShape => {
    let shape: ReturnType<typeof shapeOf> | undefined;
    const person = {
      id: p.id,
      words: p.words,
      naturalEyeHeightM: p.naturalEyeHeightM,
      complexion: p.complexion,
      wardrobe: p.wardrobe,
      hairColour: p.hairColour,
      ...(p.grown ? { grown: p.grown } : {}),
    };
    const parts = ['body', 'hidden', 'joints', 'eyes', 'garments', 'hairs', 'scalp'] as const;
    for (const part of [...parts, ...(p.sheet ? (['sheet'] as const) : [])])
      unpackedWhenAsked<unknown>(person, part, () => {
        shape ??= shapeOf(p);
        return shape[part];
      });
    return person as PersonShape;
  });
  return {
    bones: header.bones,
    boneNumber: Object.fromEntries(header.bones.map((b, i) => [b.name, i])),
    markers: header.markers,
    quads,
    quadSlot: u8('body.quadSlot'),
    mirror,
    medium: level('body.medium'),
    far: level('body.far'),
    bodyBones: bones,
    bodyAmounts: amounts,
    garments,
    sheets,
    people,
  };
}

/** Gives `of` a property that is worked out when it is first read. */
function unpackedWhenAsked<T>(of: object, name: string, unpack: () => T): void {
  Object.defineProperty(of, name, {
    enumerable: true,
    configurable: true,
    get() {
      const value = unpack();
      Object.defineProperty(of, name, { value, enumerable: true, writable: true });
      return value;
    },
  });
}

/** Skin under cloth is drawn in by 5 mm so that it does not show through at hems and seams. */
function drawIn(body: Float32Array, hidden: Uint8Array, quads: Uint16Array): void {
  const n = new Float32Array(body.length);
  const x = new Float64Array(3);
  for (let f = 0; f < quads.length; f += 4) {
    const a = 3 * quads[f]!;
    const b = 3 * quads[f + 1]!;
    const c = 3 * quads[f + 2]!;
    const d = 3 * quads[f + 3]!;
    const ux = body[c]! - body[a]!;
    const uy = body[c + 1]! - body[a + 1]!;
    const uz = body[c + 2]! - body[a + 2]!;
    const vx = body[d]! - body[b]!;
    const vy = body[d + 1]! - body[b + 1]!;
    const vz = body[d + 2]! - body[b + 2]!;
    x[0] = uy * vz - uz * vy;
    x[1] = uz * vx - ux * vz;
    x[2] = ux * vy - uy * vx;
    for (let k = 0; k < 3; k++) {
      n[a + k]! += x[k]!;
      n[b + k]! += x[k]!;
      n[c + k]! += x[k]!;
      n[d + k]! += x[k]!;
    }
  }
  for (let i = 0; i < hidden.length; i++) {
    if (!hidden[i]) continue;
    const l = Math.hypot(n[3 * i]!, n[3 * i + 1]!, n[3 * i + 2]!) || 1;
    for (let k = 0; k < 3; k++) body[3 * i + k]! -= (0.005 * n[3 * i + k]!) / l;
  }
}
