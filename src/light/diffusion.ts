/** Sheets that scatter, and wires and nets that only take light away. */

export interface Diffusion {
  id: string;
  words: string;
  /** Total transmittance, 0–1, straight and scattered together. */
  transmittance: number;
  /** Share of the passed light that goes straight on, 0–1; the rest leaves as from a matte sheet. */
  straightShare: number;
}

const sheet = (id: string, words: string, lossStops: number, straightShare: number): Diffusion => ({
  id,
  words,
  transmittance: 2 ** -lossStops,
  straightShare,
});

/**
 * Generic grades: loss in stops as read [CHECKS-CAMERA §6.1]; the straight share 0.8 eighth, 0.6 quarter, 0.4 half, 0.1
 * full, 0 heavy is a planning value from memory, for frosts, cloths and silks set by us to the same scale.
 */
export const DIFFUSIONS: readonly Diffusion[] = [
  sheet('full-white', 'full white diffusion', 1.5, 0.1),
  sheet('half-white', 'half white diffusion', 0.75, 0.4),
  sheet('quarter-white', 'quarter white diffusion', 1 / 3, 0.6),
  sheet('eighth-white', 'eighth white diffusion', 0.25, 0.8),
  sheet('light-frost', 'light frost', 0.5, 0.6),
  sheet('light-light-frost', 'light light frost', 0.25, 0.8),
  sheet('heavy-frost', 'heavy frost', 2, 0),
  sheet('full-grid', 'full grid cloth', 2.5, 0),
  sheet('light-grid', 'light grid cloth', 2, 0.1),
  sheet('quarter-grid', 'quarter grid cloth', 1, 0.4),
  sheet('full-spun', 'full spun diffusion', 2.5, 0.1),
  sheet('half-spun', 'half spun diffusion', 1.5, 0.4),
  sheet('quarter-spun', 'quarter spun diffusion', 0.75, 0.6),
  sheet('silk', 'artificial silk', 5 / 3, 0.1),
  sheet('quarter-silk', 'quarter silk', 2 / 3, 0.6),
  sheet('china-silk', 'china silk', 1, 0.4),
  sheet('muslin', 'muslin', 2, 0),
];

export const diffusionById = (id: string): Diffusion | undefined => DIFFUSIONS.find((d) => d.id === id);

/** Several sheets in a row: losses multiply, straight shares multiply (light between the sheets left out). */
export const stackDiffusion = (
  sheets: readonly Diffusion[],
): { transmittance: number; straightShare: number } =>
  sheets.reduce(
    (s, d) => ({
      transmittance: s.transmittance * d.transmittance,
      straightShare: s.straightShare * d.straightShare,
    }),
    { transmittance: 1, straightShare: 1 },
  );

export interface Wire {
  id: string;
  words: string;
  stops: number;
  transmittance: number;
}

const wire = (id: string, words: string, stops: number): Wire => ({
  id,
  words,
  stops,
  transmittance: 2 ** -stops,
});

/** Wire scrims for the lamp's slot [CHECKS-CAMERA §6.3]. 'half' and 'full' name the loss: half a stop, a stop. */
export const SCRIMS: readonly Wire[] = [
  wire('half', 'half-stop scrim', 0.5),
  wire('full', 'one-stop scrim', 1),
];

/** Nets on a stand [CHECKS-CAMERA §6.3]. */
export const NETS: readonly Wire[] = [
  wire('net-half', 'half-stop net', 0.5),
  wire('net-one', 'one-stop net', 1),
  wire('net-one-and-half', 'stop-and-a-half net', 1.5),
];

export const scrimById = (id: string): Wire | undefined => SCRIMS.find((s) => s.id === id);
export const netById = (id: string): Wire | undefined => NETS.find((s) => s.id === id);
