/** What a cause is called, for a person. */
import { kitLampById } from '../light/kitlamps.ts';
import type { Shoot } from '../shoot/schema.ts';

/** an 800 W open-face, a 650 W fresnel, an LED panel; eight, eleven and eighteen begin with a vowel when said. */
export const withArticle = (words: string): string =>
  `${/^(?:[aeio]|8|1[18]\b|LED\b)/i.test(words) ? 'an' : 'a'} ${words}`;

/** The heads of the kit by the numbers the crew calls them in a scene. */
export function headNumbers(shoot: Shoot, scene: string): Map<string, string> {
  const out = new Map<string, string>();
  for (const l of Object.values(shoot.scenes[scene]?.rig.lamps ?? {}))
    if (!out.has(l.head)) out.set(l.head, l.number);
  return out;
}

export function causeWords(shoot: Shoot, scene: string, cause: string): string {
  const at = cause.indexOf(':');
  const sort = at < 0 ? cause : cause.slice(0, at);
  const what = cause.slice(at + 1);
  switch (sort) {
    case 'kind':
      return `what ${withArticle(kitLampById(what)?.words ?? what)} gives`;
    case 'head':
    case 'oldhead': {
      const number = headNumbers(shoot, scene).get(what);
      const old = sort === 'oldhead' ? ', its bulb old' : '';
      return number === undefined ? `the head ${what}${old}` : `this very head, ${number}${old}`;
    }
    case 'place': {
      const [where, lamp] = what.split('@')[0]!.split('/');
      const number = shoot.scenes[where ?? '']?.rig.lamps[lamp ?? '']?.number ?? lamp;
      return `where ${number} stands`;
    }
    case 'surfaces':
      return `how light the surfaces are, ${shoot.places[what]?.name ?? what}`;
    case 'constant':
      return 'the exposure constant';
    case 'meter':
      return 'the light meter';
    default:
      return cause;
  }
}
