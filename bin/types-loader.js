import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { transformSync } from 'rolldown/experimental';

export async function load(url, context, next) {
  if (!url.endsWith('.ts')) return next(url, context);
  const path = fileURLToPath(url);
  const out = transformSync(path, await readFile(path, 'utf8'), { sourcemap: true });
  if (out.errors?.length) throw new SyntaxError(`${path}: ${out.errors[0].message ?? out.errors[0]}`);
  const map = `\n//# sourceMappingURL=data:application/json;base64,${Buffer.from(JSON.stringify(out.map)).toString('base64')}`;
  return { format: 'module', shortCircuit: true, source: out.code + map };
}
