/** A thing drawn elsewhere is brought in from a file and set down by a tap; a hostile one is a sentence. */
import { Document, NodeIO } from '@gltf-transform/core';
import { expect } from 'vitest';
import { test } from './page.ts';

/** A low seat with a back, as another program would save it. */
async function settle(): Promise<Buffer> {
  const doc = new Document();
  const buffer = doc.createBuffer();
  const scene = doc.createScene();
  const cloth = doc
    .createMaterial('green cloth')
    .setBaseColorFactor([0.05, 0.2, 0.09, 1])
    .setMetallicFactor(0);
  const box = (w: number, h: number, d: number, x: number, y: number, z: number) => {
    const at = [0, 1].flatMap((i) =>
      [0, 1].flatMap((j) => [0, 1].map((k) => [w * (i - 0.5), h * j, d * (k - 0.5)])),
    );
    const sides = [
      [0, 1, 3, 2],
      [4, 6, 7, 5],
      [0, 4, 5, 1],
      [2, 3, 7, 6],
      [0, 2, 6, 4],
      [1, 5, 7, 3],
    ].flatMap(([a, b, c, e]) => [a!, b!, c!, a!, c!, e!]);
    const prim = doc
      .createPrimitive()
      .setAttribute(
        'POSITION',
        doc.createAccessor().setType('VEC3').setArray(new Float32Array(at.flat())).setBuffer(buffer),
      )
      .setIndices(doc.createAccessor().setType('SCALAR').setArray(new Uint16Array(sides)).setBuffer(buffer))
      .setMaterial(cloth);
    scene.addChild(doc.createNode().setMesh(doc.createMesh().addPrimitive(prim)).setTranslation([x, y, z]));
  };
  box(1.2, 0.42, 0.7, 0, 0, 0);
  box(1.2, 0.5, 0.14, 0, 0.42, -0.28);
  return Buffer.from(await new NodeIO().writeBinary(doc));
}
const brought = () => {
  const { places } = JSON.parse(window.rushlight!.shoot().text) as {
    places: Record<
      string,
      {
        furniture: Record<
          string,
          {
            at: number[];
            sizeM: number[];
            words: string;
            turnDeg?: number;
            finishes?: Record<string, { reflectance: number }>;
          }
        >;
      }
    >;
  };
  return Object.values(places)[0]!.furniture.brought1;
};

test('chosen, tapped onto the plan, moved by its keys, stepped back; a ring of parts is a sentence', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  const give = async (name: string, buffer: Buffer) => {
    const [choose] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: 'a thing from a file' }).first().click(),
    ]);
    await choose.setFiles({ name, mimeType: 'application/octet-stream', buffer });
  };
  await give(
    'ring.gltf',
    Buffer.from('{"asset":{"version":"2.0"},"scenes":[{"nodes":[0]}],"nodes":[{"children":[0]}]}'),
  );
  await page.getByText('Its parts hang on each other in a ring', { exact: false }).waitFor();
  await give('old_settle.glb', await settle());
  await page.getByText('Tap where it stands: old settle, 1.20 × 0.70 × 0.92 m').first().waitFor();
  const box = (await page.getByRole('group', { name: /^Plan for/ }).boundingBox())!;
  await page.mouse.click(box.x + box.width * 0.5, box.y + box.height * 0.6);
  await expect.poll(async () => (await page.evaluate(brought))?.sizeM).toEqual([1.2, 0.7, 0.92]);
  const x = (await page.evaluate(brought))!.at[0]!;
  await page.locator('[data-thing="furniture:brought1"]').focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await page.evaluate(brought))?.at[0]).toBeGreaterThan(x);
  await page.locator('[data-thing="furniture:brought1"]').blur();
  for (let i = 0; i < 2; i++) await page.keyboard.press('z');
  await expect.poll(() => page.evaluate(brought)).toBeUndefined();
});

test('on a phone, in the room: on free floor without a tap', async ({ newPage, address }) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await page.locator('.where-cell').tap();
  await page.getByRole('button', { name: 'change this room' }).tap();
  const [choose] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'a thing from a file' }).tap(),
  ]);
  await choose.setFiles({ name: 'settle.glb', mimeType: '', buffer: await settle() });
  await page.getByRole('button', { name: 'on free floor' }).tap();
  await expect.poll(async () => (await page.evaluate(brought))?.words).toBe('settle');
  // It stands against a wall as any thing with a front does, and what its own finishes send back can be told.
  const { at, turnDeg = 0 } = (await page.evaluate(brought))!;
  expect(turnDeg % 90).toBeCloseTo(0, 5);
  expect(at[2]).toBe(0);
  const told = page.getByLabel(/settle, green cloth: per cent/);
  await told.waitFor();
  await told.fill('40');
  await told.press('Enter');
  await expect
    .poll(async () => (await page.evaluate(brought))?.finishes?.p0?.reflectance)
    .toBeCloseTo(0.4, 6);
});
