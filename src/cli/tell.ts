/** `rushlight tell`: readings of every face, angle by angle. */
import type { AirReading } from '../readings/airReading.ts';
import { faceWords } from '../readings/faces.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { Trouble } from '../scheme/trouble.ts';
import { lightName } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { command, type Effort, readingOptions } from './command.ts';
import { type Surveyed, surveys } from './compute.ts';
import { progress } from './progress.ts';
import { anglesAsked, readShoot } from './shoot.ts';
import { figure, signed, table } from './table.ts';

/** Lux in one foot-candle: square feet in a square metre. */
const LUX_PER_FOOTCANDLE = 1 / 0.3048 ** 2;

/** Troubles by the numbers that `cure` takes them by, their cures under them; what is meant is said so. */
export function troublesText(troubles: readonly Trouble[]): string {
  if (troubles.length === 0) return 'Nothing found that would look unintended.';
  return troubles
    .map((t, n) =>
      [
        `Trouble ${n}: ${t.says}${t.meant === undefined ? '' : `\n  meant${t.meant ? `: ${t.meant}` : ''}`}`,
        ...t.cures.map((cure, k) => `  cure ${k}: ${cure.says}`),
        ...(t.cures.length || t.meant !== undefined ? [] : ['  no cure is known']),
      ].join('\n'),
    )
    .join('\n');
}

/** How far the readings of an angle are settled. */
const settled = ({ survey: { reading } }: Surveyed): string =>
  reading.quick
    ? `quick: from fewer rays, noise about ${figure(reading.noiseStops, 2)} stop`
    : `converged: noise ${figure(reading.noiseStops, 3)} stop`;

/** One angle's readings as text. */
export function angleText(shoot: Shoot, at: Surveyed, light: 'lux' | 'footcandle'): string {
  const { ref, survey } = at;
  const { marks, spots } = survey.reading;
  const scene = shoot.scenes[ref.scene]!;
  const angle = scene.angles[ref.angle]!;
  const unit = light === 'lux' ? 'lx' : 'fc';
  const lit = (lux: number | undefined) => {
    const v = lux === undefined || light === 'lux' ? lux : lux / LUX_PER_FOOTCANDLE;
    return figure(v, v !== undefined && v >= 10 ? 0 : 1);
  };
  const number = (id: string) => lightName(survey.angle.rig, id);
  const faces = table(
    [
      { head: 'face' },
      { head: unit, right: true },
      { head: 'toward' },
      { head: 'asks T', right: true },
      { head: 'over', right: true },
      { head: '±', right: true },
      { head: 'ratio', right: true },
      { head: 'stops', right: true },
      { head: '±', right: true },
      { head: 'lit cheek', right: true },
      { head: 'other', right: true },
    ],
    marks.map((m) => [
      scene.marks[m.mark]?.name ?? m.mark,
      lit(m.incidentLx),
      m.toward in scene.rig.lamps ? number(m.toward) : m.toward,
      figure(m.askedT),
      signed(m.overStops),
      figure(m.bandStops),
      m.ratio === undefined ? '?' : `${figure(m.ratio)}:1`,
      figure(m.ratioStops),
      figure(m.ratioBandStops),
      signed(m.litOverGreyStops),
      signed(m.shadeOverGreyStops),
    ]),
  );
  const onFaces = marks.flatMap((m) =>
    m.face ? [`On ${scene.marks[m.mark]?.name ?? m.mark}: ${faceWords(m.face, number)}.`] : [],
  );
  const lamps = (m: MarkReading) =>
    table(
      [
        { head: `lamps on ${scene.marks[m.mark]?.name ?? m.mark}` },
        { head: 'does' },
        { head: `direct ${unit}`, right: true },
        { head: `bounced ${unit}`, right: true },
        { head: 'over', right: true },
        { head: "o'clock", right: true },
        { head: 'round', right: true },
        { head: 'up', right: true },
        { head: 'm off', right: true },
      ],
      m.lamps.map((l) => [
        number(l.lamp),
        l.role,
        lit(l.directLx),
        lit(l.bouncedLx),
        Number.isFinite(l.overStops) ? signed(l.overStops) : '—',
        String(l.clock),
        `${figure(l.azimuthDeg, 0)}° ${l.side}`,
        `${figure(l.elevationDeg, 0)}°`,
        figure(l.distanceM),
      ]),
    );
  const places = table(
    [
      { head: 'spot' },
      { head: unit, right: true },
      { head: 'under key', right: true },
      { head: 'over grey', right: true },
      { head: '±', right: true },
      { head: '' },
    ],
    spots.map((p) => [
      p.spot,
      lit(p.lx),
      figure(p.underKeyStops),
      signed(p.overGreyStops),
      figure(p.bandStops),
      p.seen ? '' : 'not seen from here',
    ]),
  );
  const doubts = [...new Set(marks.flatMap((m) => m.doubts))];
  return [
    `${scene.name} · ${angle.name} (${ref.scene} ${ref.angle})\n${settled(at)}; C ${shoot.exposureConstant}; the stop that saves the highlights: T${figure(survey.savingStop)}`,
    faces,
    ...(onFaces.length ? [onFaces.join('\n')] : []),
    ...(doubts.length ? [`± hangs on: ${doubts.join('; ')}`] : []),
    ...marks.filter((m) => m.lamps.length).map(lamps),
    ...(spots.length ? [places] : []),
    ...(survey.air ? [airText(survey.air, number)] : []),
    troublesText(survey.troubles),
    ...survey.notes.map((note) => `Note: ${note}`),
  ].join('\n\n');
}

/** “The air: lit from behind 2.3 stops over from the front (3 most), 4.1 stops under grey over the frame …” */
function airText(air: AirReading, number: (lamp: string) => string): string {
  if (air.ratioStops === undefined) return 'The air: no lamp lights it.';
  const ratio = Number.isFinite(air.ratioStops)
    ? `${figure(Math.abs(air.ratioStops))} stops ${air.ratioStops < 0 ? 'less' : 'more'} from behind than from the front`
    : `lit only from ${air.ratioStops > 0 ? 'behind' : 'the front'}`;
  const most = air.lamps[0] ? `, most by ${number(air.lamps[0].lamp)}` : '';
  return `The air: ${ratio}${most}; ${signed(air.overGreyStops)} about grey over the frame. By its law of scattering a lamp behind it shows ${figure(air.lawRatio, 0)} times what one at the lens does. Scattered once only.`;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = readingOptions(
    command('tell', 'What a meter and the eye would say of every face, angle by angle.', [
      'rushlight tell kitchen.json --scene K --angle OA',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene only')
      .option('--angle <id>', 'this angle only')
      .option('--footcandles', 'light in foot-candles (default: as the shoot says)')
      .option('--json', 'as data'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<{ scene?: string; angle?: string; footcandles?: boolean; json?: boolean } & Effort>();
  const { shoot } = await readShoot(parsed.args[0]!);
  const asked = anglesAsked(shoot, o.scene, o.angle);
  const bar = progress('Reading');
  let found: Surveyed[];
  try {
    found = await surveys(shoot, asked, o, bar.at, undefined, o.json === true);
  } finally {
    bar.end();
  }
  const light = o.footcandles ? 'footcandle' : (shoot.light ?? 'lux');
  if (o.json) {
    const { told } = await import('../scheme/told.ts');
    process.stdout.write(`${JSON.stringify(told(shoot, found), null, 2)}\n`);
  } else process.stdout.write(`${found.map((at) => angleText(shoot, at, light)).join('\n\n\n')}\n`);
  return 0;
}
