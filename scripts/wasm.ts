/** Compiles what lies in wasm/ to text in src/engine/ (`npm run wasm`). */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import asc from 'assemblyscript/asc';

const root = join(import.meta.dirname, '..');

/** Sources by name: the text each becomes is `<name>Module.ts`, a constant `<NAME>_MODULE`. */
export const SOURCES = ['rays', 'build', 'sums', 'bare'] as const;

/** A module's text as it should stand. */
export async function compiled(name: (typeof SOURCES)[number]): Promise<string> {
  let bytes: Uint8Array | undefined;
  const { error, stderr } = await asc.main(
    [
      `${name}.ts`,
      '-o',
      `${name}.wasm`,
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
      readFile: (file: string, base: string) => {
        try {
          return readFileSync(join(root, 'wasm', base === '.' ? file : join(base, file)), 'utf8');
        } catch {
          return null;
        }
      },
      writeFile: (_file: string, contents: string | Uint8Array) => {
        if (typeof contents !== 'string') bytes = contents;
      },
      listFiles: () => [],
    },
  );
  if (error || !bytes) throw new Error(`wasm/${name}.ts does not compile: ${error?.message}\n${stderr}`);
  const text = Buffer.from(bytes).toString('base64');
  const lines = text.match(/.{1,100}/g)!.map((line) => `  '${line}'`);
  return `/** Made by \`npm run wasm\` from wasm/${name}.ts: ${bytes.length} bytes. Do not edit. */\nexport const ${name.toUpperCase()}_MODULE =\n${lines.join(' +\n')};\n`;
}

if (import.meta.filename === process.argv[1])
  for (const name of SOURCES) writeFileSync(join(root, `src/engine/${name}Module.ts`), await compiled(name));
