/** The house: which folder may import which. The table is the allow-list of ARCHITECTURE.md. */
import { dirname, relative, resolve } from 'node:path';

const readings = 'setup shoot stage light camera transport power colour maths';
export const MAY: Record<string, string> = {
  maths: '',
  optimise: 'maths',
  colour: 'maths',
  light: 'maths colour',
  camera: 'maths colour',
  stage: 'maths colour',
  transport: 'maths colour light stage',
  engine: 'maths transport',
  power: 'maths',
  shoot: '',
  setup: 'shoot stage light camera transport power colour maths',
  readings,
  scheme: `readings optimise ${readings}`,
  drawing: 'shoot maths',
  book: 'drawing scheme readings shoot maths colour',
  checks: `readings scheme optimise engine ${readings}`,
  app: 'maths optimise colour light camera stage transport engine power shoot setup readings scheme drawing book checks',
  cli: 'maths optimise colour light camera stage transport engine power shoot setup readings scheme drawing book checks',
};

/** Imports of a source text that its folder may not make. */
export function violations(folder: string, file: string, source: string, root: string): string[] {
  const allowed = new Set([folder, ...(MAY[folder] ?? '').split(' ')]);
  const bad: string[] = [];
  for (const match of source.matchAll(/(?:from|import\(|import)\s*['"](\.[^'"]+)['"]/g)) {
    const target = relative(root, resolve(dirname(file), match[1]!)).split('/')[0]!;
    if (target.startsWith('..')) continue; // data files beside src
    if (!allowed.has(target)) bad.push(`${folder} imports ${target} (${file})`);
  }
  return bad;
}
