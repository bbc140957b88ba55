/** The metering sheet: at every mark each lamp alone and all together, what is expected, and room for what is read. */
import type { MarkReading } from '../readings/readMark.ts';
import type { Read } from '../scheme/read.ts';
import { rigFor } from '../shoot/rigFor.ts';
import { putHeading, putWords } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { anglesIn, type BookFacts, keyOf, scenesOf, unitsFor } from './facts.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { type Cell, putTable } from './table.ts';
import { SIZE } from './type.ts';
import { figure, lightOf, lightUnit, otherLight, otherUnit, signed, stopOf } from './units.ts';

export function sheetMeter(f: BookFacts): DraftPage[] {
  return scenesOf(f).flatMap((scene) => {
    const reads = anglesIn(f, scene).flatMap((ref) => f.reads.get(keyOf(ref)) ?? []);
    return reads.length ? oneMeter(f, scene, reads) : [];
  });
}

/** One mark as it stands in one or more angles that expect the same. */
interface Same {
  mark: string;
  angles: string[];
  reading: MarkReading;
  read: Read;
  /** Dome to each camera, which differs by angle. */
  domes: { angle: string; lx: number }[];
}

function oneMeter(f: BookFacts, scene: string, reads: readonly Read[]): DraftPage[] {
  const s = f.shoot.scenes[scene]!;
  const u = unitsFor(f, scene);
  const C = f.shoot.exposureConstant;
  const sheet = newSheet(f, {
    title: 'Metering',
    about: `${s.name}: expected and read`,
    foot: `${cameraWords(s.camera)}   C = ${C} lx`,
  });
  const { flow } = sheet;
  putWords(
    flow,
    `Set the meter to EI ${s.camera.ei} and the shutter above. One lamp alone: the others out or shaded by hand and flag, flat receptor at the face, turned to that lamp. Together: turned to the key; then dome toward the camera. Sums with C = ${C} lx (incident-light equation, ISO 2720); a dome has a constant of its own, so a steady difference on every line is the meter’s: note it once and take it off.`,
    { sizeMm: SIZE.small },
  );
  const quick = reads.some((r) => r.quick);
  putWords(
    flow,
    `${quick ? 'Expected figures are quick ones, from few rays.' : `Expected figures are converged, noise about ${figure(Math.max(...reads.map((r) => r.noiseStops)), 2)} stop.`} ± is how far one may be off, nine times in ten. A grey card in the light of the face, on the monitor, should stand as many stops from grey as the column “over” says.`,
    { sizeMm: SIZE.small },
  );

  const same: Same[] = [];
  for (const read of reads)
    for (const m of read.marks) {
      const had = same.find((x) => x.mark === m.mark && alike(x.reading, m));
      const dome = { angle: read.ref.angle, lx: m.towardCameraLx };
      if (had) {
        had.angles.push(read.ref.angle);
        had.domes.push(dome);
      } else same.push({ mark: m.mark, angles: [read.ref.angle], reading: m, read, domes: [dome] });
    }
  same.sort((a, b) => a.mark.localeCompare(b.mark));
  const lampIds = Object.keys(s.rig.lamps);
  for (const x of same) {
    const rig = rigFor(f.shoot, x.read.ref);
    const stop = x.read.exposure.stop;
    const ask = x.read.exposure.eRefLx;
    const mark = s.marks[x.mark];
    const askedT = (lx: number) => stop * Math.sqrt(lx / ask);
    const line = (first: Cell[], lx: number, over: number | undefined, band: string): Cell[] => [
      ...first,
      { text: lightOf(lx, u), face: 'bold' },
      otherLight(lx, u),
      lx > 0 ? stopOf(askedT(lx)) : '—',
      signed(over),
      band,
      '',
      '',
    ];
    const toward = rig.lamps[x.reading.toward]?.number;
    const rows: Cell[][] = [
      ...x.reading.lamps
        .filter((l) => rig.lamps[l.lamp]!.on && rig.lamps[l.lamp]!.level > 0)
        .map((l) =>
          line(
            [
              { text: rig.lamps[l.lamp]!.number, face: 'bold', pattern: lampIds.indexOf(l.lamp) + 1 },
              { text: l.role === 'none' ? '' : l.role, face: 'said' },
            ],
            l.lx,
            l.lx > 0 ? Math.log2(l.lx / ask) : Number.NEGATIVE_INFINITY,
            '',
          ),
        ),
      line(
        [{ text: 'all', face: 'bold' }, toward === undefined ? 'toward camera' : `toward ${toward}`],
        x.reading.incidentLx,
        x.reading.overStops,
        figure(x.reading.bandStops),
      ),
      ...(toward === undefined
        ? []
        : x.domes.map((d) =>
            line(
              [{ text: 'all', face: 'bold' as const }, `dome to ${d.angle}’s camera`],
              d.lx,
              Math.log2(d.lx / ask),
              '',
            ),
          )),
    ];
    const ratio = x.reading.ratio;
    flow.gap(2.5);
    putTable(flow, {
      title: `${x.mark}${mark ? `, ${mark.name}` : ''}: in ${x.angles.join(', ')}${ratio === undefined ? '' : `. Lit side to other ${figure(ratio)}:1 (${figure(x.reading.ratioStops)} stops, ±${figure(x.reading.ratioBandStops)})`}`,
      columns: [
        { head: '', widthMm: 15 },
        { head: 'does', grow: 1 },
        { head: lightUnit(u), align: 'end' },
        { head: otherUnit(u), align: 'end' },
        { head: 'asks T', align: 'end' },
        { head: 'over', align: 'end' },
        { head: '±', align: 'end' },
        { head: 'measured', widthMm: 26, box: true },
        { head: 'difference', widthMm: 22, box: true },
      ],
      rows,
      rowMm: 6.4,
      heavyOver: new Set([rows.length - 1 - (toward === undefined ? 0 : x.domes.length)]),
    });
  }

  const spots = spotRows(f, scene, reads);
  if (spots.length) {
    putHeading(flow, 'Walls, tables, things', 20);
    putTable(flow, {
      columns: [
        { head: 'spot', grow: 1 },
        { head: 'in' },
        { head: lightUnit(u), align: 'end' },
        { head: otherUnit(u), align: 'end' },
        { head: 'under key', align: 'end' },
        { head: 'over grey', align: 'end' },
        { head: '±', align: 'end' },
        { head: 'measured', widthMm: 26, box: true },
        { head: 'difference', widthMm: 22, box: true },
      ],
      rows: spots,
      rowMm: 6.4,
    });
  }
  return sheet.finish();

  function spotRows(b: BookFacts, sc: string, all: readonly Read[]): Cell[][] {
    const out: { key: string; angles: string[]; row: (angles: string) => Cell[] }[] = [];
    for (const read of all)
      for (const p of read.spots) {
        const key = JSON.stringify([p.spot, round(p.lx), round(p.underKeyStops), round(p.overGreyStops)]);
        const had = out.find((o) => o.key === key);
        if (had) had.angles.push(read.ref.angle);
        else
          out.push({
            key,
            angles: [read.ref.angle],
            row: (angles) => [
              b.shoot.scenes[sc]!.spots[p.spot]?.name ?? p.spot,
              angles,
              { text: lightOf(p.lx, u), face: 'bold' },
              otherLight(p.lx, u),
              figure(p.underKeyStops),
              signed(p.overGreyStops),
              figure(p.bandStops),
              '',
              '',
            ],
          });
      }
    return out
      .sort((a, c) => a.key.localeCompare(c.key))
      .map((o) => o.row(o.angles.length === all.length ? 'all' : o.angles.join(', ')));
  }
}

/** To a tenth of a stop, so that noise between angles does not make two of one. */
const round = (v: number | undefined) =>
  v === undefined ? '?' : v > 10 ? Math.round(Math.log2(v) * 8) : v.toFixed(1);
function alike(a: MarkReading, b: MarkReading): boolean {
  const near = (x: number, y: number) => Math.abs(Math.log2(Math.max(x, 0.05) / Math.max(y, 0.05))) < 0.1;
  return (
    a.toward === b.toward &&
    near(a.incidentLx, b.incidentLx) &&
    a.lamps.every((l, i) => near(l.lx, b.lamps[i]?.lx ?? 0))
  );
}
