/** Opens people.bin: eight people on one topology, their clothes, hair and skeleton. Layout: scripts/people/packer.ts. */

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
}

/** A sheet that follows the head: hair, brows or lashes, and hairs as points on its triangles. */
export interface Sheet {
  triangles: Uint16Array;
  /**
   * Hairs: `points` per hair, root first; each point is a triangle number and two barycentric weights / 255
   * (of the triangle's second and third corner).
   */
  pointsPerHair: number;
  hairTriangle: Uint16Array;
  hairWeight: Uint8Array;
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
  garments: { name: string; positions: Float32Array }[];
  sheets: { name: string; use: 'hair' | 'brow' | 'lash'; positions: Float32Array }[];
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
  mirror: Uint16Array;
  /** 4 × 13380. */
  bodyBones: Uint8Array;
  bodyAmounts: Uint8Array;
  garments: Record<string, Garment>;
  sheets: Record<string, Sheet>;
  people: PersonShape[];
}

interface Header {
  quantumM: number;
  bones: { name: string; parent: number }[];
  markers: string[];
  pieces: Record<string, { slots: string[] }>;
  sheets: Record<string, { pointsPerHair: number }>;
  people: {
    id: string;
    words: string;
    naturalEyeHeightM: number;
    complexion: string;
    wardrobe: { top: string; bottom: string; shoes: string };
    hairColour: string;
    pieces: string[];
    sheets: { name: string; use: 'hair' | 'brow' | 'lash' }[];
    grown?: 'crop' | 'afro';
    eyes: { centre: number[]; radiusM: number }[];
  }[];
  arrays: Record<string, ['i16' | 'u16' | 'u8', number, number]>;
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
    const [, at, n] = array(name);
    return bytes.slice(from + at, from + at + n);
  };
  const u16 = (name: string) => {
    const [, at, n] = array(name);
    const out = new Uint16Array(n);
    for (let i = 0; i < n; i++) out[i] = view.getUint16(from + at + 2 * i, true);
    return out;
  };
  const metres = (name: string) => {
    const [, at, n] = array(name);
    const out = new Float32Array(n);
    for (let i = 0; i < n; i++) out[i] = view.getInt16(from + at + 2 * i, true) * header.quantumM;
    return out;
  };
  const has = (name: string) => header.arrays[name] !== undefined;

  const mirror = u16('body.mirror');
  const n = mirror.length;
  const garments: Record<string, Garment> = {};
  for (const [name, { slots }] of Object.entries(header.pieces))
    garments[name] = {
      triangles: u16(`${name}.triangles`),
      slot: u8(`${name}.slot`),
      slots,
      bones: u8(`${name}.bones`),
      amounts: u8(`${name}.amounts`),
    };
  const sheets: Record<string, Sheet> = {};
  for (const [name, { pointsPerHair }] of Object.entries(header.sheets))
    sheets[name] = {
      triangles: u16(`${name}.triangles`),
      pointsPerHair,
      hairTriangle: has(`${name}.hairTriangle`) ? u16(`${name}.hairTriangle`) : new Uint16Array(0),
      hairWeight: has(`${name}.hairWeight`) ? u8(`${name}.hairWeight`) : new Uint8Array(0),
    };
  const people = header.people.map((p): PersonShape => {
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
    return {
      id: p.id,
      words: p.words,
      naturalEyeHeightM: p.naturalEyeHeightM,
      complexion: p.complexion,
      wardrobe: p.wardrobe,
      hairColour: p.hairColour,
      body,
      hidden,
      joints: metres(`${p.id}.joints`),
      eyes: p.eyes,
      garments: p.pieces.map((name) => ({ name, positions: metres(`${p.id}.${name}`) })),
      sheets: p.sheets.map(({ name, use }) => ({ name, use, positions: metres(`${p.id}.${name}`) })),
      ...(p.grown ? { grown: p.grown } : {}),
    };
  });
  return {
    bones: header.bones,
    boneNumber: Object.fromEntries(header.bones.map((b, i) => [b.name, i])),
    markers: header.markers,
    quads: u16('body.quads'),
    quadSlot: u8('body.quadSlot'),
    mirror,
    bodyBones: u8('body.bones'),
    bodyAmounts: u8('body.amounts'),
    garments,
    sheets,
    people,
  };
}
