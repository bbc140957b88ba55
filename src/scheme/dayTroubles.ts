/** Troubles of daylight in an angle: a window blown, the sun on the lens. */
import { onFrame } from '../setup/view.ts';
import { lightName } from '../shoot/rigFor.ts';
import type { SchemeContext } from './context.ts';
import { hangFlag, paneSheets, setStop, type Where } from './cureEdits.ts';
import { hoodShadesBeyond, lensFlag } from './flagOnLens.ts';
import { freeFlag, spoils } from './inFrame.ts';
import { type Cure, m, stops, type Trouble } from './trouble.ts';

/** Less of the frame than this is a chink: one part in a thousand. */
const CHINK = 1e-3;
/** As for lamps: light on the lens above this share of the exposure's own level veils (judgement: 1/20). */
const VEIL_SHARE = 0.05;
/** Neutral sheets there are for glass, by density × 10. */
const NEUTRALS = [3, 6, 9, 12];

export function dayTroubles(c: SchemeContext): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];
  for (const light of c.angle.daylight) {
    const glow = c.glow.get(light.id);
    const name = lightName(c.angle.rig, light.id);
    if (glow && glow.share > CHINK) {
      const overGrey = Math.log2(glow.luminance / ((0.18 * c.eRefLx) / Math.PI));
      if (overGrey > c.clipStops) {
        const over = overGrey - c.clipStops;
        const opening = light.id.split(':')[1]!;
        const glass = c.place.openings[opening];
        const cures: Cure[] = [];
        if (glass && glass.fill === 'glass') {
          // The thinnest that brings it under; the last if none does.
          const density = NEUTRALS.find((d) => (d / 10) * Math.log2(10) >= over) ?? NEUTRALS.at(-1)!;
          cures.push(
            paneSheets(
              c.angle.rig.scene.place,
              opening,
              [`nd-${density}`],
              `Lay neutral ${(density / 10).toFixed(1)} on the glass of the ${glass.words ?? opening}: −${((density / 10) * Math.log2(10)).toFixed(1)} stops, in every angle; its light inside falls as much.`,
            ),
          );
        }
        cures.push(
          setStop(
            w,
            c.stop * 2 ** (over / 2),
            `Stop down to T${(c.stop * 2 ** (over / 2)).toFixed(1)}, ${w.angle} only: everything −${over.toFixed(1)}.`,
          ),
        );
        out.push({
          kind: 'clipped',
          subject: light.id,
          severity: 2,
          says: `The ${name} is ${stops(overGrey)} over grey in ${w.angle}, ${over.toFixed(1)} over the clip.`,
          at: light.at,
          cures,
        });
      }
    }
    if (light.id !== 'day:sun') continue;
    const lensLx = c.lensLx.get(light.id) ?? 0;
    const off = onFrame(c.angle.view, light.at);
    if (lensLx * Math.cos(off.offAxis) <= VEIL_SHARE * c.eRefLx) continue;
    if (off.offAxis >= hoodShadesBeyond(c.angle.view)) continue;
    const flag = lensFlag(c.angle.view, light.at, light.sizeM, (at, sizeM) => spoils(c, at, sizeM));
    out.push({
      kind: 'flare',
      subject: light.id,
      severity: 2,
      says: `The sun shines into the lens: ${lensLx.toFixed(0)} lx on the glass, ${((off.offAxis * 180) / Math.PI).toFixed(1)}° off the lens axis.`,
      cures: flag
        ? [
            hangFlag(
              w,
              freeFlag(c),
              {
                at: flag.at,
                facing: flag.facing,
                sizeM: [flag.sizeM, flag.sizeM],
                words: `keeps the sun off the lens in ${w.angle}`,
                kind: 'flag',
                holds: 'arm on a stand behind the camera',
              },
              `Hang a ${m(flag.sizeM)} flag ${m(flag.fromLensM, 1)} from the lens, ${w.angle} only.`,
            ),
          ]
        : [],
    });
  }
  return out;
}
