/**
 * Parameters of the corrections, solved by scripts/fit-gels.ts. Published: mired shift [TRADE-MIRED],
 * transmittance (from memory, ±5 points; ¾ and ⅛ CTO and ¾ CTB have none), colour-correcting density of the greens
 * (common practice). Behind each row: what its curve gives on its design light.
 */
/**
 * Density of a correction: film + `amount` of a dye + `trim` of a green-absorbing one (negative: the dye is lighter
 * there) + an even `grey`.
 */
export interface GelParameters {
  family: 'orange' | 'blue' | 'plus-green' | 'minus-green';
  /** Strength of the dye, density units. */
  amount: number;
  /** Where the dye's flank stands, nm (orange, blue); middle of the dye (greens). */
  edgeNm: number;
  trim: number;
  grey: number;
}

export interface GelRow extends GelParameters {
  id: string;
  publishedMired: number;
  /** Design light, kelvin (black body). */
  onK: number;
  publishedT?: number;
  /** Density of the green or its complement, log10. */
  cc?: number;
}

// biome-ignore format: a table
export const GEL_PARAMETERS: readonly GelRow[] = [
  { id: 'full-cto', family: 'orange', amount: 0.89543, edgeNm: 479.53018, trim: 0.19209, grey: 0, publishedMired: 159, onK: 5600, publishedT: 0.55 }, // 159.0 mired, Duv -0.0012, T 0.555
  { id: 'three-quarter-cto', family: 'orange', amount: 0.60802, edgeNm: 501.55713, trim: 0.0615, grey: 0, publishedMired: 124, onK: 5600 }, // 124.0 mired, Duv 0.0013, T 0.656
  { id: 'half-cto', family: 'orange', amount: 0.50103, edgeNm: 515.57325, trim: -0.00077, grey: 0, publishedMired: 109, onK: 5600, publishedT: 0.71 }, // 109.0 mired, Duv 0.0022, T 0.704
  { id: 'quarter-cto', family: 'orange', amount: 0.2758, edgeNm: 531.20949, trim: -0.04279, grey: 0, publishedMired: 64, onK: 5600, publishedT: 0.81 }, // 64.0 mired, Duv 0.0022, T 0.805
  { id: 'eighth-cto', family: 'orange', amount: 0.10765, edgeNm: 533.10813, trim: -0.02067, grey: 0, publishedMired: 26, onK: 5600 }, // 26.0 mired, Duv 0.0010, T 0.878
  { id: 'full-ctb', family: 'blue', amount: 0.87501, edgeNm: 599.99794, trim: 0.18602, grey: 0, publishedMired: -137, onK: 3200, publishedT: 0.35 }, // -137.0 mired, Duv 0.0008, T 0.346
  { id: 'three-quarter-ctb', family: 'blue', amount: 0.72808, edgeNm: 602.48243, trim: 0.14869, grey: 0, publishedMired: -112, onK: 3200 }, // -112.0 mired, Duv 0.0010, T 0.417
  { id: 'half-ctb', family: 'blue', amount: 0.5351, edgeNm: 610.78989, trim: 0.10318, grey: 0, publishedMired: -78, onK: 3200, publishedT: 0.54 }, // -78.0 mired, Duv 0.0010, T 0.538
  { id: 'quarter-ctb', family: 'blue', amount: 0.27858, edgeNm: 619.22211, trim: 0.07142, grey: 0, publishedMired: -35, onK: 3200, publishedT: 0.69 }, // -35.0 mired, Duv -0.0012, T 0.691
  { id: 'eighth-ctb', family: 'blue', amount: 0.16441, edgeNm: 638.84054, trim: 0.03265, grey: 0, publishedMired: -18, onK: 3200, publishedT: 0.81 }, // -18.0 mired, Duv -0.0001, T 0.810
  { id: 'full-plus-green', family: 'plus-green', amount: 0.3, edgeNm: 592, trim: -0.09408, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.76, cc: 0.3 }, // 0.0 mired, Duv 0.0305, T 0.771
  { id: 'half-plus-green', family: 'plus-green', amount: 0.15, edgeNm: 592, trim: -0.07939, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.87, cc: 0.15 }, // -0.0 mired, Duv 0.0160, T 0.841
  { id: 'quarter-plus-green', family: 'plus-green', amount: 0.075, edgeNm: 592, trim: -0.07274, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.92, cc: 0.075 }, // 0.0 mired, Duv 0.0082, T 0.881
  { id: 'eighth-plus-green', family: 'plus-green', amount: 0.035, edgeNm: 592, trim: -0.06938, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.95, cc: 0.035 }, // 0.0 mired, Duv 0.0038, T 0.905
  { id: 'full-minus-green', family: 'minus-green', amount: 0.3, edgeNm: 540, trim: -0.01855, grey: 0.03, publishedMired: 0, onK: 5600, publishedT: 0.55, cc: 0.3 }, // 0.0 mired, Duv -0.0352, T 0.571
  { id: 'half-minus-green', family: 'minus-green', amount: 0.15, edgeNm: 540, trim: -0.01846, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.71, cc: 0.15 }, // 0.0 mired, Duv -0.0171, T 0.750
  { id: 'quarter-minus-green', family: 'minus-green', amount: 0.075, edgeNm: 540, trim: -0.01079, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.82, cc: 0.075 }, // -0.0 mired, Duv -0.0084, T 0.832
  { id: 'eighth-minus-green', family: 'minus-green', amount: 0.035, edgeNm: 540, trim: -0.00544, grey: 0, publishedMired: 0, onK: 5600, publishedT: 0.89, cc: 0.035 }, // -0.0 mired, Duv -0.0039, T 0.881
];
