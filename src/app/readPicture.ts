/** A picture file made ready to lie under a plan: looked at, then drawn anew and small, so that nothing else of it stays. */
import { pictureHead } from '../shoot/pictureHead.ts';
import { MOST_LETTERS, type Underlay } from '../shoot/underlay.ts';

const MOST_BYTES = 40e6;
/** A phone's page has room for one such picture unpacked. */
const MOST_PIXELS = 60e6;
/** Longest side, pixels, and how well it is kept: the first that is small enough. */
const TRIES = [
  [1800, 0.8],
  [1600, 0.7],
  [1300, 0.6],
  [1000, 0.55],
  [700, 0.5],
] as const;
/** A header's first bytes: notes of a camera may stand before the size. */
const HEAD = 512 * 1024;

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;

export const looksLikePicture = (file: File): boolean =>
  /^image\/(png|jpeg|webp)$/.test(file.type) || /\.(png|jpe?g|webp)$/i.test(file.name);

/** Its data and size; or sentences why not. */
export async function readPicture(file: File): Promise<Pick<Underlay, 'picture' | 'px' | 'name'> | string[]> {
  const name = `“${file.name}”`;
  if (file.size > MOST_BYTES)
    return [
      `${name} has ${megabytes(file.size)}; a picture may have ${megabytes(MOST_BYTES)}.`,
      'Save it smaller, or photograph the sketch again. Nothing was changed.',
    ];
  const head = pictureHead(new Uint8Array(await file.slice(0, HEAD).arrayBuffer()));
  if (!head) return [`${name} is no PNG, JPEG or WebP picture, or it is damaged.`, 'Nothing was changed.'];
  if (head.width * head.height > MOST_PIXELS)
    return [
      `${name} has ${head.width} × ${head.height} pixels; ${MOST_PIXELS / 1e6} million are the most.`,
      'Save it smaller. Nothing was changed.',
    ];
  let image: ImageBitmap;
  try {
    // The type is what its bytes say, whatever its name says.
    image = await createImageBitmap(new Blob([file], { type: `image/${head.kind}` }));
  } catch {
    return [`${name} could not be unpacked: it is damaged.`, 'Nothing was changed.'];
  }
  try {
    for (const [most, quality] of TRIES) {
      const by = Math.min(1, most / Math.max(image.width, image.height));
      const px: [number, number] = [
        Math.max(1, Math.round(image.width * by)),
        Math.max(1, Math.round(image.height * by)),
      ];
      const picture = drawn(image, px, quality);
      if (picture.length <= MOST_LETTERS) return { picture, px, name: file.name.slice(0, 200) };
    }
  } finally {
    image.close();
  }
  return [`${name} could not be made small enough for a shoot’s file.`, 'Nothing was changed.'];
}

function drawn(image: ImageBitmap, [width, height]: [number, number], quality: number): string {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const on = canvas.getContext('2d')!;
  // What a sketch leaves clear is paper.
  on.fillStyle = '#fff';
  on.fillRect(0, 0, width, height);
  on.imageSmoothingQuality = 'high';
  on.drawImage(image, 0, 0, width, height);
  return canvas.toDataURL('image/jpeg', quality);
}
