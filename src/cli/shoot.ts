/** A shoot from a file, and the angles a command was asked about. */
import { type AngleRef, anglesOf } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { BadUse } from './command.ts';
import { readText } from './files.ts';

/** The shoot of a file, with its text. What the reader has to say of it goes to standard error. */
export async function readShoot(path: string): Promise<{ shoot: Shoot; text: string; readOnly: boolean }> {
  const text = readText(path);
  const { openShoot } = await import('../shoot/file.ts');
  const opened = openShoot(text);
  if (!opened.ok)
    throw new BadUse([
      `${path} is not a shoot that can be opened:`,
      ...opened.message.map((line) => `  ${line}`),
    ]);
  for (const note of opened.notes) process.stderr.write(`${path}: ${note}\n`);
  return { shoot: opened.shoot, text, readOnly: opened.readOnly };
}

const listed = (names: readonly string[]) => (names.length ? names.join(', ') : 'none');

/** A scene's id: the one named, or the only one there is. */
export function sceneOf(shoot: Shoot, named: string | undefined): string {
  const names = Object.keys(shoot.scenes);
  if (named !== undefined && names.includes(named)) return named;
  if (named === undefined && names.length === 1) return names[0]!;
  throw new BadUse([
    named === undefined ? 'Which scene? Name it with --scene.' : `There is no scene ${named}.`,
    `Scenes of this shoot: ${listed(names)}.`,
  ]);
}

/** The angles asked about, in file order: all, those of a scene, or one. */
export function anglesAsked(shoot: Shoot, scene: string | undefined, angle: string | undefined): AngleRef[] {
  if (scene !== undefined) sceneOf(shoot, scene);
  const within = anglesOf(shoot).filter((ref) => scene === undefined || ref.scene === scene);
  const found = within.filter((ref) => angle === undefined || ref.angle === angle);
  if (found.length) return found;
  throw new BadUse([
    angle === undefined ? 'There is no angle to speak of.' : `There is no angle ${angle}.`,
    `Angles: ${listed(within.map((ref) => (scene === undefined ? `${ref.scene} ${ref.angle}` : ref.angle)))}.`,
  ]);
}

/** The one angle asked about. */
export function angleAsked(shoot: Shoot, scene: string | undefined, angle: string | undefined): AngleRef {
  const found = anglesAsked(shoot, scene, angle);
  if (found.length === 1) return found[0]!;
  throw new BadUse([
    'Which angle? Name it with --scene and --angle.',
    `Angles: ${found.map((ref) => `${ref.scene} ${ref.angle}`).join(', ')}.`,
  ]);
}
