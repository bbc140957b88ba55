/** Compiles wasm/rays.ts to src/engine/raysModule.ts (`npm run wasm`); with `--check` only says whether they agree. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import asc from 'assemblyscript/asc';

const root = join(import.meta.dirname, '..');
const target = join(root, 'src/engine/raysModule.ts');

/** The module's text as it should stand. */
export async function compiled(): Promise<string> {
  let bytes: Uint8Array | undefined;
  const { error, stderr } = await asc.main(
    [
      'rays.ts',
      '-o',
      'rays.wasm',
      '--runtime',
      'stub',
      '--enable',
      'simd',
      '-O3',
      '--noAssert',
      '--memoryBase',
      '8192',
      '--initialMemory',
      '1',
    ],
    {
      readFile: (name: string, base: string) => {
        try {
          return readFileSync(join(root, 'wasm', base === '.' ? name : join(base, name)), 'utf8');
        } catch {
          return null;
        }
      },
      writeFile: (_name: string, contents: string | Uint8Array) => {
        if (typeof contents !== 'string') bytes = contents;
      },
      listFiles: () => [],
    },
  );
  if (error || !bytes) throw new Error(`wasm/rays.ts does not compile: ${error?.message}\n${stderr}`);
  const text = Buffer.from(bytes).toString('base64');
  const lines = text.match(/.{1,100}/g)!.map((line) => `  '${line}'`);
  return `/** Made by \`npm run wasm\` from wasm/rays.ts: ${bytes.length} bytes. Do not edit. */\nexport const RAYS_MODULE =\n${lines.join(' +\n')};\n`;
}

if (import.meta.filename === process.argv[1]) writeFileSync(target, await compiled());
