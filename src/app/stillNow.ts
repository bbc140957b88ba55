/** What a page sent on shows before any script runs: pictures, readings, plans and power as they are now. */
import { DARK, planSvg } from '../book/planSvg.ts';
import { type StillAngle, stillHtml, stillPower } from '../book/still.ts';
import { drawPlan } from '../drawing/plan.ts';
import { planFacts } from '../scheme/planFacts.ts';
import { suppliedOf } from '../scheme/supplied.ts';
import { powerTold, readTold } from '../scheme/told.ts';
import { anglesOf, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PictureSent } from './messages.ts';
import { type WorkedOut, workedOut } from './workedOut.ts';

function pictureUrl({ width, height, pixels }: PictureSent): string {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  canvas.getContext('2d')!.putImageData(new ImageData(pixels, width, height), 0, 0);
  return canvas.toDataURL('image/jpeg', 0.92);
}

function stillAngle(shoot: Shoot, { ref, result, picture, outlines }: WorkedOut): StillAngle {
  const troubled = new Set(
    result.troubles.flatMap((t) => (t.meant === undefined && t.severity > 0 && t.lamp ? [t.lamp] : [])),
  );
  const outlineOf = (part: string) => {
    const loops = outlines?.[part]?.loops;
    return loops?.length ? loops : undefined;
  };
  const facts = planFacts(shoot, ref, result, troubled, outlineOf);
  return {
    told: readTold(ref, { ...result, camera: rigFor(shoot, ref).camera }),
    picture: pictureUrl(picture),
    pictureSize: { width: picture.width, height: picture.height },
    plan: planSvg(drawPlan(facts), { widthPx: 480, paint: DARK, label: `Plan, ${ref.scene} ${ref.angle}` }),
  };
}

/** `missing`: angles that could not be worked out in time. */
export async function stillNow(
  shoot: Shoot,
  say: (done: number, of: number) => void,
): Promise<{ html: string; missing: string[] }> {
  const refs = anglesOf(shoot);
  const found = await workedOut(shoot, refs, (n) => say(n, refs.length));
  const power = found.map(({ ref, result }) => ({
    ref,
    told: powerTold(result.supply, result.lamps),
    ...suppliedOf(shoot, ref),
  }));
  const html = stillHtml(
    shoot,
    found.map((f) => stillAngle(shoot, f)),
    stillPower(power),
    { quick: found.some((f) => f.result.quick) },
  );
  const missing = refs.filter((r) => !found.some((f) => f.ref === r)).map((r) => r.angle);
  return { html, missing };
}
