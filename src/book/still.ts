/** What a one-file page shows before any script runs: pictures, readings, troubles, plans, power; plain HTML. */
import type { powerTold, readTold } from '../scheme/told.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import { lightName } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { escapeHtml as e } from './onePage.ts';

export interface StillAngle {
  told: ReturnType<typeof readTold>;
  /** As a data URI. */
  picture: string;
  pictureSize: { width: number; height: number };
  /** `<svg>`. */
  plan: string;
}

export interface StillPower {
  scene: string;
  /** Angles in which the supply is so. */
  angles: readonly string[];
  told: ReturnType<typeof powerTold>;
  cautions: readonly string[];
}

/** The supply of every scene, angles in which it is the same together. */
export function stillPower(
  found: readonly {
    ref: AngleRef;
    told: StillPower['told'];
    cautions: readonly string[];
    uncounted: readonly string[];
  }[],
): StillPower[] {
  const sheets = new Map<string, StillPower & { angles: string[] }>();
  for (const { ref, told, cautions, uncounted } of found) {
    const whole = { ...told, notChecked: [...uncounted, ...told.notChecked] };
    const key = JSON.stringify([ref.scene, whole]);
    const sheet = sheets.get(key) ?? { scene: ref.scene, angles: [], told: whole, cautions };
    sheet.angles.push(ref.angle);
    sheets.set(key, sheet);
  }
  return [...sheets.values()];
}

type Mark = StillAngle['told']['marks'][number];
type Cell = string | { n: string };

const number = (v: number | undefined, places = 1): string =>
  v === undefined
    ? '?'
    : v
        .toFixed(places)
        .replace('-', '−')
        .replace(/^−(0(\.0*)?)$/, '$1');
const signed = (v: number | undefined): string => {
  const text = number(v);
  return v !== undefined && Number(v.toFixed(1)) > 0 ? `+${text}` : text;
};
const lux = (v: number | undefined): string => number(v, v !== undefined && v >= 10 ? 0 : 1);
/** Amps, rounded up to a tenth. */
const amps = (v: number | undefined): string =>
  v === undefined ? '?' : number(Math.ceil(v * 10 - 1e-7) / 10);

function table(caption: string, head: readonly Cell[], rows: readonly (readonly Cell[])[]): string {
  const cell = (tag: string) => (c: Cell) =>
    typeof c === 'string' ? `<${tag}>${e(c)}</${tag}>` : `<${tag} class="n">${e(c.n)}</${tag}>`;
  return `<div class="wide"><table><caption>${e(caption)}</caption><thead><tr>${head.map(cell('th')).join('')}</tr></thead><tbody>${rows
    .map((r) => `<tr>${r.map(cell('td')).join('')}</tr>`)
    .join('')}</tbody></table></div>`;
}

function facesHtml(shoot: Shoot, { told }: StillAngle): string {
  const scene = shoot.scenes[told.scene]!;
  const name = (mark: string) => scene.marks[mark]?.name ?? mark;
  const lamp = (id: string) => lightName({ lamps: scene.rig.lamps, place: shoot.places[scene.place] }, id);
  const faces = table(
    'Faces',
    [
      '',
      { n: 'lux' },
      'toward',
      { n: 'asks T' },
      { n: 'over' },
      { n: '±' },
      { n: 'ratio' },
      { n: 'stops' },
      { n: '±' },
    ],
    told.marks.map((m) => [
      name(m.mark),
      { n: lux(m.incidentLx) },
      m.toward in scene.rig.lamps ? lamp(m.toward) : m.toward,
      { n: number(m.askedT) },
      { n: signed(m.overStops) },
      { n: number(m.bandStops) },
      { n: m.ratio === undefined ? '?' : `${number(m.ratio)}:1` },
      { n: number(m.ratioStops) },
      { n: number(m.ratioBandStops) },
    ]),
  );
  const lamps = (m: Mark) =>
    table(
      `On ${name(m.mark)}`,
      ['lamp', 'does', { n: 'lux' }, { n: 'bounced' }, 'from', 'round', { n: 'up' }],
      m.lamps.map((l) => [
        lamp(l.lamp),
        l.role,
        { n: lux(l.directLx) },
        { n: lux(l.bouncedLx) },
        l.where,
        `${number(l.azimuthDeg, 0)}° ${l.side}`,
        { n: `${number(l.elevationDeg, 0)}°` },
      ]),
    );
  const doubts = [...new Set(told.marks.flatMap((m) => m.doubts))];
  const spots = told.spots.length
    ? table(
        'Spots',
        ['', { n: 'lux' }, { n: 'under key' }, { n: 'over grey' }, { n: '±' }],
        told.spots.map((s) => [
          s.seen ? s.spot : `${s.spot} (not in frame)`,
          { n: lux(s.lx) },
          { n: number(s.underKeyStops) },
          { n: signed(s.overGreyStops) },
          { n: number(s.bandStops) },
        ]),
      )
    : '';
  return `<div>${faces}${doubts.length ? `<p class="small">± hangs on: ${e(doubts.join('; '))}.</p>` : ''}</div>${told.marks
    .filter((m) => m.lamps.length)
    .map(lamps)
    .join('')}${spots}`;
}

function troublesHtml({ told }: StillAngle): string {
  if (told.troubles.length === 0) return '<p>Nothing found that would look unintended.</p>';
  return `<ul class="troubles">${told.troubles
    .map((t) => {
      const meant = typeof t.meant === 'string';
      const cures = t.cures.map((c) => `<li>${e(c.says)}</li>`).join('');
      return `<li class="${meant ? 'meant' : t.severity > 0 ? 'trouble' : 'note'}">${e(t.says)}${
        meant ? ` <i>Meant${t.meant === 'meant' ? '' : `: ${e(String(t.meant))}`}.</i>` : ''
      }${cures && !meant ? `<ul>${cures}</ul>` : ''}</li>`;
    })
    .join('')}</ul>`;
}

function cameraWords(told: StillAngle['told']): string {
  const c = told.settings;
  const shutter =
    c.shutter.kind === 'angle' ? `${c.shutter.deg}°` : `1/${Math.round(1 / c.shutter.seconds)} s`;
  const wb = c.whiteBalance.kind === 'kelvin' ? `${c.whiteBalance.kelvin} K` : 'balanced on a card';
  return `T${c.stop}, EI ${c.ei}, ${c.fps} fps, ${shutter}, ${wb}`;
}

function powerHtml(shoot: Shoot, p: StillPower): string {
  const scene = shoot.scenes[p.scene]!;
  const way = (words: string, d: (typeof p.told.circuits)[number] | (typeof p.told.devices)[number]) => [
    words,
    { n: amps(d.currentA) },
    { n: number(d.limitA) },
    d.verdict,
  ];
  const name = (id: string) => {
    const lamp = scene.rig.lamps[id];
    return lamp ? `${lamp.number} ${shoot.kit.lamps[lamp.head]?.words ?? lamp.words ?? lamp.head}` : id;
  };
  const circuit = (id: string) => shoot.places[scene.place]?.supply.circuits[id]?.words ?? id;
  return `<section class="power"><h2>Power: ${e(scene.name)} <small>${e(p.angles.join(', '))}</small></h2>
${table(
  'Circuits, nothing dimmed',
  ['', { n: 'A' }, { n: 'of A' }, 'checked'],
  p.told.circuits.map((c) => way(circuit(c.circuit), c)),
)}
${
  p.told.devices.length
    ? table(
        'On the way',
        ['', { n: 'A' }, { n: 'of A' }, 'checked'],
        p.told.devices.map((d) => way(d.words, d)),
      )
    : ''
}
${table(
  'Lamps, as they burn',
  ['', { n: 'volts' }, { n: 'A' }, { n: 'light' }, { n: 'K' }],
  p.told.lamps.map((l) => [
    name(l.lamp),
    { n: number(l.volts) },
    { n: amps(l.currentA) },
    { n: l.lightFactor === undefined ? '?' : `${number(100 * l.lightFactor, 0)} %` },
    { n: number(l.cctK, 0) },
  ]),
)}
<h3>Not checked</h3><ul>${p.told.notChecked.map((x) => `<li>${e(x)}</li>`).join('')}</ul>
<h3>Cautions</h3><ul>${p.cautions.map((x) => `<li>${e(x)}</li>`).join('')}</ul></section>`;
}

const count = ({ told }: StillAngle): string => {
  const found = told.troubles.filter((t) => t.meant === false && t.severity > 0).length;
  return found === 0 ? 'no trouble found' : found === 1 ? '1 trouble' : `${found} troubles`;
};

const savingWords = ({ savingStop, settings }: StillAngle['told']): string =>
  savingStop !== undefined && savingStop > settings.stop * 1.02
    ? `T${number(savingStop)} would save every highlight not meant to go.`
    : 'No highlight goes that is not meant to.';

/** The page's content. */
export function stillHtml(
  shoot: Shoot,
  angles: readonly StillAngle[],
  power: readonly StillPower[],
  { quick }: { quick: boolean },
): string {
  const parts = angles.map((a) => {
    const { told } = a;
    const scene = shoot.scenes[told.scene]!;
    const title = `${scene.name} · ${scene.angles[told.angle]!.name}`;
    return `<section class="angle"><h2>${e(title)} <small>${e(told.angle)}</small></h2>
<div class="pair"><div><figure><img data-picture-of="${e(`${told.scene}/${told.angle}`)}" src="${a.picture}" width="${a.pictureSize.width}" height="${a.pictureSize.height}" alt="${e(`What the camera sees: ${title}`)}"><figcaption>${e(cameraWords(told))}. ${savingWords(told)}</figcaption></figure>
<h3>Trouble and cure</h3>${troublesHtml(a)}</div>
<div class="plan">${a.plan}</div></div>
<h3>Readings</h3><div class="readings">${facesHtml(shoot, a)}</div>${told.notes.map((x) => `<p class="small">Note: ${e(x)}</p>`).join('')}</section>`;
  });
  return `<main id="still"><h1>${e(shoot.title)}</h1>
${shoot.crewNote ? `<p>${e(shoot.crewNote)}</p>` : ''}<p class="small">${
    quick
      ? 'Pictures and readings here are quick ones, from few rays: readings mostly within a third of a stop of what more rays would say. '
      : ''
  }Computed, not measured; ± is how far a reading may be off, nine times in ten. Meter constant C = ${shoot.exposureConstant}.</p>
<nav><ul>${angles.map((a) => `<li>${e(a.told.angle)}: ${count(a)}</li>`).join('')}</ul></nav>
${parts.join('\n')}
${power.map((p) => powerHtml(shoot, p)).join('\n')}</main>`;
}

/** Style of that content: dark, readable on a phone and on paper. */
export const STILL_STYLE = `body{margin:0;background:#0f0f0f;color:#ded8cb;font:16px/1.45 "Sofia Sans Semi Condensed",system-ui,sans-serif}
#still{max-width:1180px;margin:0 auto;padding:16px}
#still h1{font:italic 30px/1.2 Newsreader,Georgia,serif;margin:8px 0 4px}
#still h2{font-size:24px;line-height:1.25;margin:0 0 12px}#still h2 small{font-size:16px;font-weight:normal;color:#aca598}
#still h3{font-size:16px;margin:16px 0 4px;color:#aca598;font-weight:normal}
#still p{margin:4px 0;max-width:76ch}#still .small{color:#aca598;font-size:14.5px}
#still nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:4px 24px;padding:0;margin:8px 0;color:#aca598}
#still section{background:#191918;border-top:1px solid #35332f;padding:16px;margin:24px 0}
#still .pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,480px),1fr));gap:16px;align-items:start}
#still figure{margin:0}#still img{width:100%;height:auto;display:block;background:#000}
#still figcaption{color:#aca598;font-size:14.5px;padding-top:4px}
#still .wide{overflow-x:auto}#still .plan svg{display:block;width:100%;height:auto}
#still .readings{display:flex;flex-wrap:wrap;gap:8px 40px;align-items:start}#still .readings>*{max-width:100%}#still .readings td{white-space:nowrap}
#still table{border-collapse:collapse;margin:8px 0}
#still caption{text-align:left;color:#aca598;padding:4px 0 2px;white-space:nowrap}
#still th,#still td{padding:3px 14px 3px 0;text-align:left;font-variant-numeric:tabular-nums;vertical-align:top;border-top:1px solid #35332f}
#still th{font-weight:normal;color:#8b8579;white-space:nowrap;border:0}#still .n{text-align:right}
#still ul{padding-left:20px;margin:4px 0}#still li{margin:4px 0;max-width:86ch}
#still .troubles{list-style:none;padding:0}#still .troubles>li{border-left:3px solid #35332f;padding-left:12px;margin:10px 0}
#still .troubles>.trouble{border-color:#ff8563}#still .meant{color:#aca598}#still .troubles ul{color:#ded8cb}
#still .meant i{font-family:Newsreader,Georgia,serif}
@media (max-width:600px){#still{padding:8px}#still section{padding:12px 10px}#still table{font-size:14px}#still th,#still td{padding-right:5px}}
@media print{body,#still section{background:#fff;color:#000}#still .small,#still figcaption,#still caption,#still th,#still h3{color:#444}#still section{break-inside:avoid-page}}`;
