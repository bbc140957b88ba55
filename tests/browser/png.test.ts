/** Pictures we write, read by the browser's own decoder. */
import { expect } from 'vitest';
import { writePng } from '../../src/cli/png.ts';
import { test } from './page.ts';

test('the browser sees the very bytes that were written', async ({ newPage, address }) => {
  const [w, h] = [33, 17];
  const rgb = Uint8Array.from({ length: 3 * w * h }, (_, i) => (i * i * 7 + i * 13) & 255);
  const page = await newPage();
  await page.goto(address);
  const seen = await page.evaluate(
    async (data) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = new OffscreenCanvas(image.width, image.height);
      const context = canvas.getContext('2d')!;
      context.drawImage(image, 0, 0);
      return {
        w: image.width,
        h: image.height,
        rgba: [...context.getImageData(0, 0, image.width, image.height).data],
      };
    },
    writePng(w, h, rgb).toString('base64'),
  );
  expect([seen.w, seen.h]).toEqual([w, h]);
  expect(seen.rgba.filter((_, i) => i % 4 !== 3)).toEqual([...rgb]);
});
