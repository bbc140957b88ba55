/** The typefaces on paper as files, from their packages. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Face } from '../book/page.ts';

const FROM = '@expo-google-fonts';
export const FONT_FILES: Readonly<Record<Face, string>> = {
  plain: `${FROM}/sofia-sans-semi-condensed/400Regular/SofiaSansSemiCondensed_400Regular.ttf`,
  bold: `${FROM}/sofia-sans-semi-condensed/700Bold/SofiaSansSemiCondensed_700Bold.ttf`,
  said: `${FROM}/newsreader/500Medium_Italic/Newsreader_500Medium_Italic.ttf`,
};
const require = createRequire(import.meta.url);
export const fontPath = (file: string): string => require.resolve(file);

/** The bytes of each face. */
export const paperFonts = (): Record<Face, Uint8Array<ArrayBuffer>> => ({
  plain: Uint8Array.from(readFileSync(fontPath(FONT_FILES.plain))),
  bold: Uint8Array.from(readFileSync(fontPath(FONT_FILES.bold))),
  said: Uint8Array.from(readFileSync(fontPath(FONT_FILES.said))),
});
