/** Troubles of daylight in an angle: a window blown, the sun on the lens. */
import { onFrame } from '../setup/view.ts';
import { lightName } from '../shoot/rigFor.ts';
import { here, type SchemeContext } from './context.ts';
import { hang, paneSheets, setCamera } from './cureEdits.ts';
import { lensFlag } from './flagOnLens.ts';
import { freeFlag, spoils } from './hidingBoard.ts';
import { throughGlass, VEIL_SHARE, veiled } from './inFrame.ts';
import { type Found, type Idea, m, stops } from './trouble.ts';

/** Less of the frame than this is a chink: one part in a thousand. */
const CHINK = 1e-3;
/** Neutral sheets there are for glass, by density × 10. */
const NEUTRALS = [3, 6, 9, 12];

export function dayTroubles(c: SchemeContext): Found[] {
  return c.angle.daylight.flatMap((light) => [
    ...blown(c, light.id, light.at),
    ...(light.id === 'day:sun' ? sunOnLens(c) : []),
  ]);
}

/** Sky or sun seen through an opening beyond what the camera holds. */
function blown(c: SchemeContext, id: string, at: readonly [number, number, number]): Found[] {
  const glow = c.glow.get(id);
  if (!glow || glow.share <= CHINK) return [];
  const overGrey = Math.log2(glow.luminance / c.greyCdM2);
  const over = overGrey - c.clipStops;
  if (!(over > 0)) return [];
  const name = lightName(c.angle.rig, id);
  return [
    {
      kind: 'clipped',
      subject: id,
      severity: 2,
      size: over,
      says: `The ${name} is ${stops(overGrey)} over grey in ${c.angle.angle}, ${over.toFixed(1)} over the clip.`,
      short: `the ${name} is blown`,
      at: [at[0], at[1], at[2]],
      ideas: () => {
        const opening = id.split(':')[1]!;
        const glass = c.place.openings[opening];
        const ideas: Idea[] = [];
        if (glass && glass.fill === 'glass') {
          // The thinnest that brings it under; the last if none does.
          const density = NEUTRALS.find((d) => (d / 10) * Math.log2(10) >= over) ?? NEUTRALS.at(-1)!;
          ideas.push(
            paneSheets(
              c.angle.rig.scene.place,
              opening,
              [`nd-${density}`],
              `Lay neutral ${(density / 10).toFixed(1)} on the glass of the ${glass.words ?? opening}, −${((density / 10) * Math.log2(10)).toFixed(1)} stops, inside as well`,
            ),
          );
        }
        const stop = c.stop * 2 ** ((over + 0.05) / 2);
        ideas.push(setCamera(here(c), { stop: +stop.toFixed(2) }, `Stop down to T${stop.toFixed(1)}`));
        return ideas;
      },
    },
  ];
}

function sunOnLens(c: SchemeContext): Found[] {
  const light = c.angle.daylight.find((l) => l.id === 'day:sun')!;
  const lensLx = c.lensLx.get(light.id) ?? 0;
  const off = onFrame(c.angle.view, light.at);
  const share = throughGlass(c, lensLx, off.offAxis);
  if (!(share > VEIL_SHARE)) return [];
  return [
    {
      kind: 'flare',
      subject: light.id,
      severity: 2,
      size: share,
      says: `The sun shines into the lens: ${lensLx.toFixed(0)} lx on the glass, ${((off.offAxis * 180) / Math.PI).toFixed(1)}° off the lens axis. ${veiled(share)}`,
      short: 'the sun shines into the lens',
      ideas: () => {
        const flag = lensFlag(c.angle.view, light.at, light.sizeM, (at, sizeM) => spoils(c, at, sizeM));
        const holds = 'arm on a stand behind the camera';
        return flag
          ? [
              hang(
                here(c),
                freeFlag(c),
                {
                  at: flag.at,
                  facing: flag.facing,
                  sizeM: [flag.sizeM, flag.sizeM],
                  words: `keeps the sun off the lens in ${c.angle.angle}`,
                  kind: 'flag',
                  holds,
                },
                `Hang a ${m(flag.sizeM)} flag ${m(flag.fromLensM, 1)} from the lens`,
                `an ${holds}`,
              ),
            ]
          : [];
      },
    },
  ];
}
