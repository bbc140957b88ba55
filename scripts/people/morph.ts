/** Makes one person's shape out of the base mesh and the morph targets. Decimetres, y up, all 19158 vertices. */
import { BUILD, type Recipe } from './recipe.ts';
import type { Base, openTargets } from './source.ts';

type Targets = ReturnType<typeof openTargets>;

/**
 * The weighted sum of targets. Women's ageing uses the men's old-minus-young difference and an Asian woman the
 * Asian-minus-Caucasian difference of men, because the source's own versions of those two are not the ones that
 * were released to the public domain.
 */
export function morph(base: Base, targets: Targets, who: Recipe): Float64Array {
  const v = Float64Array.from(base.vertices);
  const addTarget = (name: string, w: number) => {
    if (w === 0) return;
    const t = targets.get(name);
    if (!t) throw new Error(`no target ${name}`);
    for (let i = 0; i < v.length; i++) v[i]! += t[i]! * 0.001 * w;
  };
  const old = Math.min(1, Math.max(0, (who.ageYears - 25) / 65));
  // The data's child is ten; a younger one is that child made smaller.
  const child = Math.min(1, Math.max(0, (25 - who.ageYears) / 15));
  const young = 1 - old - child;
  // Ancestry and age.
  const ages: [string, number][] = [
    ['young', young],
    ['old', old],
    ['child', child],
  ];
  const shares: [string, number][] = [
    ['caucasian', who.caucasian],
    ['african', who.african],
    ['asian', who.asian],
  ];
  for (const [race, share] of shares)
    for (const [age, a] of ages) {
      const w = share * a;
      if (age === 'child' && who.sex !== 'male' && w !== 0) throw new Error('only boys are made so far');
      if (who.sex === 'male') addTarget(`macrodetails/${race}-male-${age}`, w);
      else {
        if (race === 'asian') {
          addTarget('macrodetails/caucasian-female-young', w);
          addTarget('macrodetails/asian-male-young', w);
          addTarget('macrodetails/caucasian-male-young', -w);
        } else addTarget(`macrodetails/${race}-female-young`, w);
        if (age === 'old') {
          addTarget('macrodetails/caucasian-male-old', 0.75 * w);
          addTarget('macrodetails/caucasian-male-young', -0.75 * w);
        }
      }
    }
  // Build.
  const side = (x: number): [string, number][] =>
    x >= 0
      ? [
          ['average', 1 - x],
          ['max', x],
        ]
      : [
          ['average', 1 + x],
          ['min', -x],
        ];
  for (const [age, a] of ages)
    for (const [m, wm] of side(who.muscle))
      for (const [f, wf] of side(who.weight)) {
        const w = a * wm * wf;
        if (w === 0) continue;
        if (m !== 'average' || f !== 'average')
          addTarget(`macrodetails/universal-${who.sex}-${age}-${m}muscle-${f}weight`, w);
        else if (targets.get(`macrodetails/universal-${who.sex}-${age}-averagemuscle-averageweight`))
          addTarget(`macrodetails/universal-${who.sex}-${age}-averagemuscle-averageweight`, w);
        addTarget(
          `macrodetails/proportions/${who.sex}-${age}-${m}muscle-${f}weight-idealproportions`,
          0.35 * w,
        );
      }
  // Face.
  for (const [name, w] of [
    ...Object.entries(child > 0.5 ? {} : BUILD[who.sex]),
    ...Object.entries(who.details),
  ])
    for (const one of name.includes('*') ? [name.replace('*', 'l'), name.replace('*', 'r')] : [name])
      addTarget(one, w);
  ourEyes(base, v, who);
  if (who.headScale) ourHead(v, who.headScale);
  return v;
}

/** Base vertices: the pit of the neck and the chin's underside. */
const NECK_PIT = 1399;
const UNDER_CHIN = 5171;

/** Our own correction: the head larger about the neck's foot, fading in from there to the chin. */
function ourHead(v: Float64Array, scale: number): void {
  const foot = v[3 * NECK_PIT + 1]!;
  const chin = v[3 * UNDER_CHIN + 1]!;
  const z = v[3 * NECK_PIT + 2]! - 0.5;
  for (let i = 0; i < v.length; i += 3) {
    // Raised arms lie at the neck's height too.
    if (v[i + 1]! <= foot || Math.abs(v[i]!) > 1.2) continue;
    const t = Math.min(1, (v[i + 1]! - foot) / (chin - foot));
    const more = (scale - 1) * t * t * (3 - 2 * t);
    v[i]! += more * v[i]!;
    v[i + 1]! += more * (v[i + 1]! - foot);
    v[i + 2]! += more * (v[i + 2]! - z);
  }
}

export function eyeOf(
  base: Base,
  v: Float64Array,
  side: 'l' | 'r',
): { centre: [number, number, number]; radius: number } {
  const ring = base.helpers[`helper-${side}-eye`]!;
  const c: [number, number, number] = [0, 0, 0];
  for (const i of ring) for (let k = 0; k < 3; k++) c[k]! += v[3 * i + k]! / ring.length;
  let r = 0;
  for (const i of ring)
    r += Math.hypot(v[3 * i]! - c[0], v[3 * i + 1]! - c[1], v[3 * i + 2]! - c[2]) / ring.length;
  return { centre: c, radius: r };
}

/** Our own correction: eyes apart and opening smaller, as a smooth field round each eye (bell of 22 mm). */
function ourEyes(base: Base, v: Float64Array, who: Recipe): void {
  const eyes = [eyeOf(base, v, 'l'), eyeOf(base, v, 'r')];
  const rest = Float64Array.from(v);
  for (let i = 0; i < v.length; i += 3)
    eyes.forEach(({ centre: c }, e) => {
      const d: [number, number, number] = [rest[i]! - c[0], rest[i + 1]! - c[1], rest[i + 2]! - c[2]];
      const far = Math.hypot(...d);
      if (far > 0.9) return;
      const g = far < 0.16 ? 1 : Math.exp(-(((far - 0.16) / 0.16) ** 2));
      v[i]! += (e === 0 ? 1 : -1) * who.eyesApartM * 5 * g;
      for (let k = 0; k < 3; k++) v[i + k]! += (who.eyeScale - 1) * d[k]! * g;
    });
}
