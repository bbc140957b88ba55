import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { drawPlan, type PlanFacts } from '../drawing/plan.ts';
import { planFacts } from '../scheme/planFacts.ts';
import { openShoot } from '../shoot/file.ts';
import { PAPER, planSvg } from './planSvg.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const { shoot } = opened;
// The facts that scheme fills are those that the drawing takes: the compiler holds this line to it.
const facts: PlanFacts = planFacts(shoot, { scene: 'rent', angle: 'OA' }, undefined, new Set(['L1']));
const drawing = drawPlan(facts);

test('the scale bar is as long as it says, in the scale of the plan', () => {
  const svg = planSvg(drawing, { widthPx: 700 });
  const bar = /M([\d.]+) [\d.]+V[\d.]+M[\d.]+ [\d.]+H([\d.]+)M/.exec(svg)!;
  const metres = Number(/>([\d.]+) m<\/text>/.exec(svg)![1]);
  const pxPerM = (Number(bar[2]) - Number(bar[1])) / metres;
  // A line of known length, painted alone in the same bounds.
  const { x0, y0 } = drawing.bounds;
  const alone = planSvg(
    {
      bounds: drawing.bounds,
      marks: [
        {
          kind: 'line',
          points: [
            [x0, y0],
            [x0 + 2, y0 + 1],
          ],
          tone: 'wall',
          weight: 'light',
        },
      ],
    },
    { widthPx: 700 },
  );
  const line = /M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" fill="none" stroke="#8b8579"/
    .exec(alone)!
    .slice(1)
    .map(Number);
  expect((line[2]! - line[0]!) / pxPerM).toBeCloseTo(2, 1);
  // North is up: down the page is less y.
  expect((line[1]! - line[3]!) / pxPerM).toBeCloseTo(1, 1);
});

test('every tag that opens closes; names from the file cannot break out', () => {
  const marks = [
    { kind: 'words', at: [0, 0], text: '</svg><script>"&', tone: 'wall', size: 'label', anchor: 'middle' },
  ] as const;
  const svg = planSvg({ bounds: drawing.bounds, marks: [...drawing.marks, ...marks] }, { label: '"<b>' });
  expect(svg).not.toMatch(/<script|<b>/);
  const open: string[] = [];
  for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-zA-Z]+)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (close) expect(open.pop()).toBe(name);
    else if (!self) open.push(name!);
  }
  expect(open).toEqual([]);
});

test('every lamp that is on shows its number and its height; on paper there is no colour but beams', () => {
  const svg = planSvg(drawing, { paint: PAPER });
  for (const lamp of facts.lamps) {
    expect(svg).toContain(`>${lamp.number}</text>`);
    expect(svg).toContain(`h ${lamp.heightM.toFixed(2)}`);
  }
  for (const [, r, g, b] of svg.matchAll(/stroke="#(.)(.)(.)"/g)) expect(r === g && g === b).toBe(true);
});
