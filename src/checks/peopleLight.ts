/**
 * A hard small source 2 m off a bare head, read as the program reads any light on a face: the product's own grid of the
 * face and its own reading of shadows [CHECKS-CAMERA §4.3 method]; only the rays are these checks' own.
 */
import { DEG, type Vec3 } from '../maths/vec3.ts';
import { type KeyOnFace, keyOnFace, litCells } from '../readings/pattern.ts';
import { cellPlace } from '../stage/people/faceGrid.ts';
import { type PersonMesh, type PersonSlot, SLOTS } from '../stage/people/person.ts';
import { rayTree } from './peopleRays.ts';

const BARE: readonly PersonSlot[] = ['skin', 'lips', 'scalp', 'mouth', 'eye-white', 'iris', 'pupil'];
const SOURCE_M = 2;

export interface Lit extends KeyOnFace {
  /** Is the middle of the upper lip in the light? */
  lipLit: boolean;
}

/** Azimuth from the way the face looks, elevation, degrees; the source stands to the person's left, or right. */
export type Light = (azDeg: number, elDeg: number, leftward?: boolean) => Lit;

/** `mesh` must look north (facing 90°) with its eyes' middle at (0, 0, eyeHeightM). Each direction is worked out once. */
export function headLight(mesh: PersonMesh, eyeHeightM: number): Light {
  const bare = new Set(BARE.map((s) => SLOTS.indexOf(s)));
  const tree = rayTree(
    mesh.positions,
    mesh.indices,
    Array.from(mesh.material.keys()).filter((t) => bare.has(mesh.material[t]!)),
  );
  const g = mesh.faceGrid;
  const cells = Array.from(g.there.keys()).filter((i) => g.there[i]);
  const fromLip = (i: number): number => {
    const { upM, leftM } = cellPlace(i);
    return Math.hypot(upM - g.lipM, leftM);
  };
  const lip = cells.reduce((best, i) => (fromLip(i) < fromLip(best) ? i : best), cells[0]!);
  const at = (a: Float32Array, i: number): Vec3 => [a[3 * i]!, a[3 * i + 1]!, a[3 * i + 2]!];
  const known = new Map<string, Lit>();

  return (azDeg, elDeg, leftward = true) => {
    const key = `${azDeg},${elDeg},${leftward}`;
    const before = known.get(key);
    if (before) return before;
    const side = leftward ? -1 : 1;
    const to: Vec3 = [
      side * Math.sin(azDeg * DEG) * Math.cos(elDeg * DEG),
      Math.cos(azDeg * DEG) * Math.cos(elDeg * DEG),
      Math.sin(elDeg * DEG),
    ];
    const lux = new Float32Array(g.there.length);
    for (const i of cells) {
      const p = at(g.position, i);
      const n = at(g.normal, i);
      const d: Vec3 = [
        SOURCE_M * to[0] - p[0],
        SOURCE_M * to[1] - p[1],
        eyeHeightM + SOURCE_M * to[2] - p[2],
      ];
      const r = Math.hypot(...d);
      const u: Vec3 = [d[0] / r, d[1] / r, d[2] / r];
      const cos = u[0] * n[0] + u[1] * n[1] + u[2] * n[2];
      if (cos > 0 && !tree.blocked(p, u, 1e-5, r)) lux[i] = cos / (r * r);
    }
    const lit = litCells(g, lux, to);
    const made = {
      ...keyOnFace(g, lit, { azimuthDeg: azDeg, elevationDeg: elDeg, leftward }),
      lipLit: lit[lip] === 1,
    };
    known.set(key, made);
    return made;
  };
}
