/**
 * Pictures that a one-file page came with: seen until the program has its own. They are read from the page before
 * anything is drawn over it.
 */
const pictures = new Map<string, string>();
if (typeof document !== 'undefined')
  for (const img of document.querySelectorAll<HTMLImageElement>('#root img[data-picture-of]'))
    pictures.set(img.dataset.pictureOf!, img.src);

/** A picture's address; undefined: the page brought none. It is right only for the shoot as the page brought it. */
export const sentPicture = (scene: string, angle: string): string | undefined =>
  pictures.get(`${scene}/${angle}`);
