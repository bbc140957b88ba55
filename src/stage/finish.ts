/** A finish as people tell it, as a material. */
import { neutral, reflectanceFromColour } from '../colour/reflectance.ts';
import type { Spectrum } from '../colour/spectrum.ts';
import { type Figure, type FigureKind, figureIn } from './figure.ts';
import type { Material } from './stage.ts';

/** What somebody says of a surface. */
export interface FinishSpec {
  words?: string;
  /** Luminous reflectance, 0–1. */
  reflectance: number;
  /** Hue as `#rrggbb`; its lightness is ignored. */
  colour?: string;
  /** Normal-incidence gloss, 0–1. */
  glossF0?: number;
  /** 0 polished … 1 dull. */
  roughness?: number;
  /** True: a metal's, its gloss has its colour. */
  metal?: boolean;
  mirror?: boolean;
  /** Share of light let straight through, 0–1: a net, a gauze. Never more than is not sent back. */
  passes?: number;
  /** What is seen of it from near; absent: by its words. */
  figure?: FigureKind;
}

/** Gloss of kinds of surface where the finish tells none; common values of refractive index 1.5, and judgement. */
export const ENAMEL = { glossF0: 0.05, roughness: 0.2 } as const;
/** Varnished or waxed wood. */
export const VARNISH = { glossF0: 0.04, roughness: 0.45 } as const;
/** Brushed steel; its diffuse part is what the finish tells. */
export const STEEL = { glossF0: 0.45, roughness: 0.3 } as const;

/**
 * The material of a finish: mirror, or diffuse with gloss as told, else as `usual` for such a thing. `laid`: how its figure
 * lies, and which it has where neither the finish nor its words tell one.
 */
export function materialOf(
  f: FinishSpec,
  usual?: { glossF0: number; roughness: number },
  laid?: Partial<Figure>,
): Material {
  const name = f.words ?? (f.mirror ? 'mirror' : 'a surface');
  const reflectance = f.colour ? reflectanceFromColour(f.colour, f.reflectance) : neutral(f.reflectance);
  if (f.mirror) return { name, reflectance, kind: 'mirror' };
  if (f.passes)
    return { name, reflectance, kind: 'sheet', straight: Math.max(0, Math.min(f.passes, 1 - f.reflectance)) };
  const told = figureIn(f.words);
  const kind = f.figure ?? told?.kind ?? laid?.kind ?? 'none';
  const f0 = f.glossF0 ?? usual?.glossF0 ?? 0;
  return {
    name,
    reflectance,
    kind: 'opaque',
    ...(f0 > 0 ? { gloss: { ...glossOf(f, f0), roughness: f.roughness ?? usual?.roughness ?? 0.5 } } : {}),
    ...(kind === 'none' ? {} : { figure: { ...laid, ...(told?.kind === kind ? told : {}), kind } }),
  };
}

/** What a metal sends back without scattering it is coloured; `f0` is then what the eye sees of that. */
function glossOf(f: FinishSpec, f0: number): { f0: number; tint?: Spectrum } {
  if (!f.metal || !f.colour) return { f0 };
  const own = reflectanceFromColour(f.colour, f0);
  const top = Math.max(...own);
  return { f0: top, tint: own.map((v) => v / top) };
}

const black = (name: string, rho: number, f0: number, roughness: number): Material => ({
  name,
  reflectance: neutral(rho),
  kind: 'opaque',
  gloss: { f0, roughness },
});

/** Finishes of lamps and grip where nobody tells them; reflectances are judgement. */
export const BLACK_PAINT: Material = black('black paint', 0.05, 0.04, 0.5);
/** Chromed tubes and knobs; judgement. */
export const CHROME: Material = {
  name: 'chromed steel',
  reflectance: neutral(0.25),
  kind: 'opaque',
  gloss: { f0: 0.55, roughness: 0.2 },
};
/** Zinc-plated or galvanised steel; judgement. */
export const GREY_STEEL: Material = {
  name: 'grey steel',
  reflectance: neutral(0.25),
  kind: 'opaque',
  gloss: { f0: 0.3, roughness: 0.4 },
};
/** Flag cloth, velvet; judgement. */
export const BLACK_CLOTH: Material = { name: 'black cloth', reflectance: neutral(0.03), kind: 'opaque' };
/** Lamp caps, roses, sockets; judgement. */
export const WHITE_PLASTIC: Material = {
  name: 'white plastic',
  reflectance: neutral(0.75),
  kind: 'opaque',
  gloss: { f0: 0.04, roughness: 0.3 },
};
/** Clear window glass; the tracer knows its laws by angle. */
export const PANE: Material = { name: 'window glass', reflectance: neutral(0), kind: 'glass' };
