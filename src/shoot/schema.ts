/**
 * The document: a shoot as it is saved, described once. Lengths are metres, angles degrees, volts, amps,
 * watts, kelvin. Unknown keys are kept everywhere (`looseObject`), so that a newer program's notes survive.
 * Records are kept by id; ids are short words (`L1`, `W1`, `A`).
 */
import { z } from 'zod';
import { Shape } from './shape.ts';
import { Underlay } from './underlay.ts';

const metres = (what: string) => z.number().min(-1000).max(1000).describe(`${what}, metres`);
const positiveM = (what: string) => z.number().gt(0).max(1000).describe(`${what}, metres`);
const degrees = (what: string) => z.number().min(-720).max(720).describe(`${what}, degrees`);
const share = (what: string) => z.number().min(0).max(1).describe(`${what}, 0–1`);
const words = z.string().max(2000);
/** An id: a short word, the key of a record and the name that others point with. */
export const Id = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9_-]{0,39}$/, 'an id is a letter followed by letters, digits, - or _');
const id = Id;
/** Figures a finish can have (`stage/figure.ts` draws them). */
const FIGURES = [
  'none',
  'boards',
  'wood',
  'panels',
  'bricks',
  'tiles',
  'slabs',
  'stone',
  'plaster',
  'pile',
  'cloth',
  'check',
  'motif',
  'ground',
  'marbled',
  'ruled',
] as const;
const byId = <T extends z.ZodType>(item: T) => z.record(id, item);
const plan = z.tuple([metres('x, east'), metres('y, north')]);
const place3 = z.tuple([metres('x, east'), metres('y, north'), metres('z, up')]);

/** Nobody has looked or counted yet: supposed, drawn dashed, replaced by the first thing told. */
const guessed = z.boolean().optional().describe('true: supposed, nobody has looked yet');

/** A surface's finish. */
export const Finish = z.looseObject({
  words: words.optional().describe('what it is, e.g. "pale yellow paint"'),
  reflectance: share('luminous reflectance'),
  colour: z
    .string()
    .regex(/^#[0-9a-fA-F]{6}$/)
    .optional()
    .describe('hue as #rrggbb; its lightness is ignored'),
  glossF0: share('normal-incidence gloss').optional(),
  roughness: share('gloss roughness').optional(),
  metal: z.boolean().optional().describe('true: a metal, its gloss has its colour'),
  mirror: z.boolean().optional(),
  passes: share('light let straight through: a net, a gauze').optional(),
  figure: z.enum(FIGURES).optional().describe('what is seen of it from near; absent: by its words'),
  guessed: z.boolean().optional().describe('true: nobody has looked yet; counts as a doubt'),
});

export const Opening = z.looseObject({
  kind: z.enum(['door', 'window', 'gap']),
  words: words.optional(),
  room: id.optional().describe('the room whose wall it is in; absent: the place’s own outline'),
  wall: z.number().int().min(0).describe('wall i runs from outline corner i to corner i + 1'),
  fromM: metres('along the wall from its first corner, near edge'),
  toM: metres('along the wall, far edge'),
  sillM: metres('height of the lower edge'),
  headM: metres('height of the upper edge'),
  fill: z.enum(['open', 'shut', 'glass']).describe('what is in it'),
  finish: Finish.optional().describe('of a shut leaf'),
  leafDeg: degrees('how far a hinged leaf stands open').optional(),
  guessed,
  barsAcross: z.number().int().min(0).max(12).optional().describe('glazing bars standing between the panes'),
  barsUp: z.number().int().min(0).max(12).optional().describe('glazing bars lying between the panes'),
  inside: z.boolean().optional().describe('true: it leads to another room, no daylight comes by it'),
  panes: z.array(z.string().max(40)).max(4).optional().describe('neutral sheets on the glass, e.g. nd-6'),
  light: z
    .looseObject({
      lux: z.number().gt(0).max(200_000).describe('a meter facing it, square to its middle'),
      atM: positiveM('how far in front of it the meter was held').optional().describe('absent: at the pane'),
      cctK: z.number().min(1000).max(25_000).optional(),
      out: z.boolean().optional().describe('true: it shines outward, a lit window in the night'),
    })
    .optional()
    .describe('light through it by a stated or metered level, in place of the sky’s'),
});

export const Furniture = z.looseObject({
  kind: z.string().max(40).describe('a body the stage can build: box, table, chair, worktop, hull …'),
  words: words.optional(),
  at: place3.describe('middle of its footprint, at its lowest point'),
  sizeM: z.tuple([positiveM('width (local x)'), positiveM('depth (local y)'), positiveM('height')]),
  turnDeg: degrees('about the vertical, counter-clockwise').optional(),
  finish: Finish,
  finishes: z.record(z.string().max(40), Finish).optional().describe('of named parts that differ'),
  detail: z
    .record(z.string().max(40), z.number())
    .optional()
    .describe('measures a kind needs, metres or counts'),
  shape: Shape.optional().describe('drawn elsewhere and brought here, in place of what its kind builds'),
});

export const Rigging = z.looseObject({
  kind: z.enum(['beam', 'rail', 'pipe', 'cupboard', 'gantry']),
  words: words.optional(),
  from: place3.describe('middle line, lower face'),
  to: place3,
  widthM: positiveM('width'),
  depthM: positiveM('depth'),
  loadKg: z.number().gt(0).max(5000).optional().describe('what may hang; absent: unknown'),
  finish: Finish,
});

const Load = z.looseObject({
  words,
  watts: z.number().min(0).max(50_000),
  volts: z.number().gt(0).max(1000).optional().describe('marked on it'),
  kind: z.enum(['resistive', 'electronic', 'magnetic', 'motor', 'tungsten']).optional(),
  powerFactor: share('power factor').optional(),
  on: z.boolean().describe('counted now'),
  socket: id.optional().describe('where it is plugged in; absent: somewhere on the circuit'),
});

export const Circuit = z.looseObject({
  words,
  device: z.enum(['mcb-b', 'mcb-c', 'mcb-d', 'bs3036', 'nema', 'unknown']),
  ratingA: z.number().gt(0).max(1000).optional(),
  cable: z
    .looseObject({
      mm2: z.number().gt(0).max(500).optional(),
      lengthM: z.number().min(0).max(5000).optional(),
      loopOhm: z.number().min(0).max(100).optional().describe('both ways, hot'),
      known: z.boolean().describe('false: size or state not told'),
    })
    .optional(),
  ring: z.looseObject({ continuityTested: z.boolean() }).optional(),
  rcdMa: z.number().min(0).max(1000).optional().describe('absent: not told; 0: none'),
  loopImpedanceOhm: z.number().min(0).max(1000).optional().describe('earth fault loop at the board, as told'),
  houseLoads: byId(Load),
});

export const Socket = z.looseObject({
  words: words.optional(),
  circuit: id,
  at: place3,
  kind: z.enum(['uk-single', 'uk-double', 'eu', 'us-15', 'us-20', 'au-10', 'jp-double', 'iec-16', 'iec-32']),
  dead: z.boolean().optional(),
  keepOff: words.optional().describe('why nobody of the crew may use it'),
  guessed,
  ringFraction: share('how far round the ring from its first end').optional(),
});

export const Supply = z.looseObject({
  words: words.optional(),
  region: z.enum(['uk', 'eu', 'na', 'au', 'jp']),
  nominalV: z.number().gt(0).max(1000),
  frequencyHz: z.number().gt(0).max(400),
  earthing: z.enum(['TN', 'TT', 'IT', 'unknown']),
  boardAt: place3.optional(),
  generator: z
    .looseObject({
      words: words.optional(),
      kind: z.enum(['generator', 'inverter']),
      continuousVa: z.number().gt(0).max(1e6).optional().describe('what it holds for hours'),
      continuousW: z.number().gt(0).max(1e6).optional(),
      bondedNeutral: z.boolean().optional().describe('absent: not told, so it floats'),
      at: place3.optional(),
    })
    .optional()
    .describe('in place of the mains'),
  circuits: byId(Circuit),
  sockets: byId(Socket),
});

/** Corners, ceiling and finishes: what every room has. */
const shell = {
  outline: z.array(plan).min(3).max(200).describe('floor corners counter-clockwise seen from above'),
  ceilingM: positiveM('ceiling height').optional().describe('absent: no ceiling, walls 3 m'),
  slopes: z
    .array(
      z.looseObject({
        wall: z.number().int().min(0).describe('rises from this wall inward'),
        eavesM: positiveM('height where it leaves the wall'),
        pitchDeg: z.number().gt(0).max(85),
      }),
    )
    .max(40)
    .optional()
    .describe('sloping parts of the ceiling, under ceilingM, its highest'),
  floor: Finish,
  ceiling: Finish.optional(),
  walls: Finish,
  wallFinishes: z
    .record(z.string().regex(/^\d+$/), Finish)
    .optional()
    .describe('walls that differ, by number'),
};

/** One more room under the same roof, at the same level. */
export const Room = z.looseObject({ name: words, ...shell });

export const Place = z.looseObject({
  name: words,
  words: words.optional(),
  northDeg: degrees('bearing of +y from north').optional(),
  latitudeDeg: z.number().min(-90).max(90).optional().describe('north is positive, degrees'),
  longitudeDeg: z.number().min(-180).max(180).optional().describe('east is positive, degrees'),
  utcOffsetH: z.number().min(-14).max(14).optional().describe('its clocks ahead of universal time, hours'),
  outline: shell.outline,
  ceilingM: shell.ceilingM,
  slopes: shell.slopes,
  wallM: positiveM('thickness of the walls, outward').optional().describe('absent: 0.2 m; boards: 0.03'),
  floor: shell.floor,
  ceiling: shell.ceiling,
  walls: shell.walls,
  wallFinishes: shell.wallFinishes,
  rooms: byId(Room)
    .optional()
    .describe('more rooms, their walls as far from the next room’s as the wall between is thick'),
  openings: byId(Opening),
  furniture: byId(Furniture),
  rigging: byId(Rigging),
  outside: z
    .looseObject({
      groundM: metres('level of the ground outside'),
      ground: Finish,
      furniture: byId(Furniture).optional(),
    })
    .optional(),
  supply: Supply,
});

/* -------------------------------------------------------------------------------------------- kit */

const Held = {
  held: z.enum(['owned', 'borrowed', 'hired']),
  pricePerDay: z.number().min(0).max(1e6).optional(),
  note: words.optional(),
};

/** One reading that says how this very head differs from its kind. */
export const HeadReading = z.union([
  z.looseObject({
    kind: z.literal('lux'),
    lux: z.number().gt(0).max(1e7),
    distanceM: positiveM('from the lamp'),
    offAxisDeg: degrees('off its axis').optional(),
    focus: share('0 flood … 1 spot').optional(),
  }),
  z.looseObject({
    kind: z.literal('stop'),
    stop: z.number().gt(0).max(90).describe('T-stop at which a grey card facing the lamp reads grey'),
    ei: z.number().gt(0).max(1e6),
    shutterS: z.number().gt(0).max(10),
    distanceM: positiveM('from the lamp'),
    offAxisDeg: degrees('off its axis').optional(),
    focus: share('0 flood … 1 spot').optional(),
  }),
]);

export const KitLamp = z.looseObject({
  kind: z.string().max(60).describe('a lamp of the generic kit, e.g. fresnel-650'),
  words: words.optional().describe('what the owner calls it'),
  ...Held,
  volts: z.number().gt(0).max(1000).optional().describe('marked on the bulb'),
  cctK: z
    .number()
    .min(1000)
    .max(25_000)
    .optional()
    .describe('of a lamp whose colour can be set, or as measured'),
  reading: HeadReading.optional(),
  old: z.boolean().optional().describe('its bulb is old: nobody knows how much light is gone'),
});
export const KitThing = z.looseObject({
  kind: z.string().max(60),
  words: words.optional(),
  count: z.number().int().min(0).max(1000),
  ...Held,
  guessed,
  mm2: z.number().gt(0).optional(),
  lengthM: z.number().gt(0).optional(),
  loopOhm: z.number().min(0).optional().describe('both ways, as told'),
  ratingA: z.number().gt(0).optional(),
  reel: z.boolean().optional(),
  woundRatingA: z.number().gt(0).optional(),
  sizeM: z.tuple([positiveM('width'), positiveM('height')]).optional(),
  heightM: z.tuple([positiveM('lowest'), positiveM('highest')]).optional(),
  footM: positiveM('radius of the foot').optional(),
  holdsKg: z.number().gt(0).max(5000).optional().describe('what it carries, as told'),
  ways: z.number().int().min(1).max(20).optional().describe('sockets of a multiway'),
});
export const Kit = z.looseObject({
  lamps: byId(KitLamp),
  supports: byId(KitThing).describe('stands, clamps, arms'),
  sheets: byId(KitThing).describe('gels and diffusion, kind = id of the sheet'),
  flags: byId(KitThing),
  leads: byId(KitThing),
  multiways: byId(KitThing),
});

/* ------------------------------------------------------------------------------------------ scenes */

export const Support = z.looseObject({
  kind: z.enum(['stand', 'clamp', 'foot', 'hung', 'wall', 'hand']),
  kit: id.optional(),
  on: id.optional().describe('rigging or furniture it holds to'),
  footM: positiveM('radius of the foot').optional(),
  dropM: z.number().min(0).max(20).optional().describe('drop pipe'),
  baseM: metres('height of what it stands on').optional(),
  bond: z.boolean().optional().describe('safety bond'),
  words: words.optional(),
});

export const Feed = z.looseObject({
  socket: id,
  outlet: z.number().int().min(0).max(8).optional(),
  via: id.optional().describe('a multiway of the rig'),
  leads: z.array(z.looseObject({ kit: id, coiled: z.boolean().optional() })).max(20),
  way: z
    .enum(['left', 'right'])
    .optional()
    .describe('which way round the walls it is laid, facing the socket’s wall; absent: the shorter'),
  taped: z.boolean().optional().describe('taped along the wall, matted, or covered where it would show'),
});

export const RigLamp = z.looseObject({
  head: id.describe('the head of the kit'),
  number: z.string().max(6).describe('what the crew calls it on this rig'),
  words: words.optional(),
  on: z.boolean(),
  at: place3.describe('middle of the luminous face'),
  aim: place3,
  focus: share('0 flood … 1 spot'),
  level: share('dimmer: share of volts for tungsten, share of light for the rest'),
  rollDeg: degrees('about its axis').optional(),
  scrims: z.array(z.enum(['half', 'full'])).max(6),
  doors: z
    .looseObject({
      top: degrees('opening from the axis'),
      bottom: degrees('opening from the axis'),
      left: degrees('opening from the axis'),
      right: degrees('opening from the axis'),
    })
    .optional(),
  sheets: z.array(z.string().max(40)).max(8).describe('pegged on the doors or in the frame ahead, in order'),
  support: Support,
  feed: Feed.optional().describe('absent: battery'),
  batteryWh: z.number().gt(0).optional(),
  strokes: z
    .array(z.looseObject({ atS: z.number().min(0).max(3600), lengthS: z.number().gt(0).max(60) }))
    .max(200)
    .optional()
    .describe('flashes on cue: when each begins and how long it lasts, seconds'),
  practical: z.boolean().optional().describe('a lamp that belongs to the story and may be seen'),
});

/** A lamp changed for one angle: only what differs. */
export const Cheat = z.looseObject({
  on: z.boolean().optional(),
  at: place3.optional(),
  aim: place3.optional(),
  focus: share('focus').optional(),
  level: share('level').optional(),
  sheets: z.array(z.string().max(40)).max(8).optional(),
  scrims: z
    .array(z.enum(['half', 'full']))
    .max(6)
    .optional(),
  doors: RigLamp.shape.doors,
  support: Support.optional(),
});

export const RigFlag = z.looseObject({
  words: words.optional(),
  at: place3.describe('middle'),
  facing: place3.describe('direction its face looks (need not be unit)'),
  sizeM: z.tuple([positiveM('width'), positiveM('height')]),
  kind: z.enum(['flag', 'board', 'net-half', 'net-full', 'bounce', 'frame']),
  sheet: z.string().max(40).optional().describe('for a frame: the diffusion in it'),
  finish: Finish.optional(),
  pattern: z
    .looseObject({
      kind: z.string().max(40).describe('panes, slats, slot, round, leaves, branch …'),
      detail: z
        .record(z.string().max(40), z.number().min(-1000).max(1000))
        .optional()
        .describe('measures that differ from the usual ones: metres, degrees or counts'),
    })
    .optional()
    .describe('cut in a flag or board, or hanging in its place'),
  rollDeg: degrees('about the way it faces').optional(),
  angles: z.array(id).max(60).optional().describe('angles it stands in; absent: all'),
  support: Support.optional(),
});

export const RigMultiway = z.looseObject({
  words: words.optional(),
  kit: id.optional(),
  socket: id,
  leads: z.array(z.looseObject({ kit: id, coiled: z.boolean().optional() })).max(20),
  ratingA: z.number().gt(0).optional(),
  ways: z.number().int().min(1).max(20).optional(),
});

export const Mark = z.looseObject({
  name: words,
  person: z.string().max(40).optional().describe('who stands there; absent: nobody yet'),
  at: plan,
  eyeM: metres('eye height'),
  baseM: metres('height of what they stand on, a landing; absent: the floor').optional(),
  posture: z.enum(['standing', 'walking', 'leaning', 'seated', 'crouching', 'lying']),
  seatM: metres('height of the seat').optional(),
  tableM: metres('height of the table the hands are on').optional(),
  facings: z.array(degrees('0 = east, counter-clockwise')).min(1).max(8),
  complexion: z.string().max(40).optional(),
  top: z.string().max(20).optional().describe('#rrggbb of what is worn'),
  bottom: z.string().max(20).optional(),
  topCloth: z.enum(['plain', 'satin', 'leather', 'wet']).optional().describe('how what is worn shines'),
  bottomCloth: z.enum(['plain', 'satin', 'leather', 'wet']).optional(),
  looksAt: z
    .string()
    .max(60)
    .optional()
    .describe('what the eyes rest on: mark:B, camera:OA, thing:table; absent: the nearest face before them'),
  hair: z.string().max(20).optional(),
  cut: z.enum(['own', 'crop', 'afro', 'bald']).optional().describe('how the hair is cut; absent: their own'),
  wears: z
    .array(z.enum(['spectacles', 'brimmed-hat', 'flat-cap', 'knitted-cap']))
    .max(4)
    .optional(),
  present: z.array(id).max(60).optional().describe('angles in which they are there; absent: all'),
});

export const Spot = z.looseObject({
  name: words,
  at: place3,
  normal: place3,
  reflectance: share('reflectance of what is there').optional(),
  kind: z.enum(['wall', 'table', 'floor', 'window', 'thing']),
});

export const WhiteBalance = z.union([
  z.looseObject({ kind: z.literal('kelvin'), kelvin: z.number().min(1000).max(25_000) }),
  z.looseObject({
    kind: z.literal('read'),
    at: z.union([id, place3]).describe('a mark, a spot or a point where the card is held'),
    toward: place3.optional().describe('direction the card faces; absent: as the mark or spot faces'),
    lamps: z.array(id).max(60).optional().describe('lamps that burn while reading; absent: all'),
  }),
]);

export const CameraSettings = z.looseObject({
  class: z.enum(['old-sd', 'tape', 'hd-knee', 'large-8bit', 'modern', 'wide', 'negative']),
  ei: z.number().gt(0).max(1e6),
  fps: z.number().gt(0).max(1000),
  shutter: z.union([
    z.looseObject({ kind: z.literal('time'), seconds: z.number().gt(0).max(10) }),
    z.looseObject({ kind: z.literal('angle'), deg: z.number().gt(0).max(360) }),
  ]),
  stop: z.number().gt(0).max(90).describe('T-stop as marked or typed'),
  ndDensity: z.number().min(0).max(6).optional(),
  whiteBalance: WhiteBalance,
});

export const Wish = z.looseObject({
  mark: id.optional(),
  spot: id.optional(),
  reading: z.enum(['overStops', 'ratioStops', 'underKeyStops', 'lux']),
  target: z.number(),
  within: z.number().min(0).optional(),
});

/** A trouble that is wanted: matched by kind, lamp and subject. */
export const Meant = z.looseObject({
  kind: z.string().max(60),
  lamp: id.optional(),
  subject: z.string().max(80).optional(),
  word: words.optional(),
});

/** How far two sides of a cut may differ and still cut, as this scene has it; absent: as is usual. */
export const CutTolerance = z.looseObject({
  stops: z.number().min(0.05).max(3).optional().describe('levels and contrast, stops'),
  mired: z.number().min(1).max(300).optional().describe('colours, mired'),
  hours: z.number().min(0.1).max(6).optional().describe('the key round the face, hours of the clock'),
});

export const Angle = z.looseObject({
  name: words,
  at: place3.describe('lens'),
  lookAt: place3,
  focalMm: z.number().gt(0).max(3000),
  sensorMm: z.tuple([z.number().gt(0).max(100), z.number().gt(0).max(100)]),
  camera: CameraSettings.partial().optional().describe('settings that differ from the scene’s'),
  hour: z.number().min(0).max(24).optional().describe('when it is shot, where that differs from the scene’s'),
  facings: z.record(id, z.number().int().min(0)).optional().describe('which facing a mark has in this angle'),
  cutFrom: id.optional().describe('the angle it is cut from; absent: the widest that sees its faces'),
  cheats: byId(Cheat),
  wishes: z.array(Wish).max(100),
  meant: z.array(Meant).max(200),
});

/** What a meter said of the daylight once: the whole day is held to it. */
export const DayReading = z.looseObject({
  hour: z.number().min(0).max(24),
  lux: z.number().gt(0).max(200_000),
  at: id.describe('a mark or a spot; the meter faces the opening that gives most there'),
  panes: z
    .record(id, z.array(z.string().max(40)).max(4))
    .optional()
    .describe('neutral that lay on the glass of openings then; absent: none'),
});
/** Sun and sky of a scene. Absent: night, or no daylight reaches. */
export const Day = z.looseObject({
  date: z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a date is written 2026-11-27'),
  hour: z.number().min(0).max(24).describe('by the clocks of the place'),
  weather: z.enum(['clear', 'partly', 'overcast']),
  skyType: z.number().int().min(1).max(16).optional().describe('CIE general sky; 16 traditional overcast'),
  skyK: z.number().min(2000).max(40_000).optional().describe('colour temperature of the sky'),
  levelLx: z
    .number()
    .gt(0)
    .max(200_000)
    .optional()
    .describe('open level ground at this hour, told or metered'),
  readings: z.array(DayReading).max(40).optional(),
});

/** What hangs in the air of a scene, and what falls out of doors. Absent: clear air. */
export const SceneAir = z.looseObject({
  haze: z
    .looseObject({
      extinctionPerM: z
        .number()
        .gt(0)
        .max(3)
        .describe('share of light taken per metre: .01 just shows a beam, .05 is thick smoke, .3 fog'),
      kind: z.enum(['haze', 'fog']).optional().describe('absent: haze, as a machine makes it'),
      g: z.number().gt(-1).lt(1).optional().describe('in place of a kind: mean cosine of one lobe'),
    })
    .optional(),
  falls: z
    .looseObject({
      kind: z.enum(['rain', 'snow']),
      mmPerH: z.number().gt(0).max(300).describe('of water: 2 light, 10 heavy, 50 from a hose'),
    })
    .optional(),
});

export const Scene = z.looseObject({
  name: words,
  words: words.optional(),
  place: id,
  day: Day.optional(),
  air: SceneAir.optional(),
  hours: z.number().gt(0).max(48).optional().describe('planned on the set'),
  cut: CutTolerance.optional(),
  camera: CameraSettings,
  marks: byId(Mark),
  spots: byId(Spot),
  angles: byId(Angle),
  rig: z.looseObject({
    lamps: byId(RigLamp),
    flags: byId(RigFlag),
    multiways: byId(RigMultiway),
  }),
});

/* ---------------------------------------------------------------------------------------- readings */

/**
 * A reading made on the set and kept. `expected` is what the program expected of every lamp that burned, before any
 * reading corrected it: so a reading still tells of its heads when the rig has long been struck.
 */
export const MeterReading = z.looseObject({
  scene: id,
  angle: id.describe('whose rig stood, cheats and all'),
  mark: id.optional().describe('where the meter or the card was held; a mark or a spot'),
  spot: id.optional(),
  toward: z
    .string()
    .max(40)
    .optional()
    .describe('what it was turned to: a lamp, camera, front, left or right; absent: as the spot faces'),
  lamps: z.array(z.string().max(60)).min(1).max(60).describe('lamps that burned, and the day’s lights'),
  how: z
    .enum(['lux', 'footcandle', 'stop', 'zebra'])
    .describe('stop: a grey card looked grey; zebra: it just showed on that card'),
  value: z.number().gt(0).max(1e7).describe('lux, foot-candles or T-stop'),
  zebraPercent: z.number().gt(0).max(100).optional(),
  ei: z.number().gt(0).max(1e6).optional().describe('of a reading by camera'),
  shutterS: z.number().gt(0).max(10).optional(),
  filterStops: z.number().min(0).max(20).optional(),
  class: z.enum(['old-sd', 'tape', 'hd-knee', 'large-8bit', 'modern', 'wide', 'negative']).optional(),
  when: z.string().max(40).optional().describe('by the clock, e.g. 2026-11-26T19:40'),
  words: words.optional(),
  expected: z
    .array(
      z.looseObject({
        lamp: z.string().max(60),
        head: z.string().max(60),
        kind: z.string().max(80).optional().describe('the cause that names its kind; absent: as the head’s'),
        place: z.string().max(200).describe('the cause that names where the lamp stood'),
        directLx: z.number().min(0).max(1e7),
        bouncedLx: z.number().min(0).max(1e7),
      }),
    )
    .max(60),
  noiseStops: z.number().min(0).max(4).optional().describe('one sigma of what was expected'),
  aside: z.boolean().optional().describe('true: kept on the sheet, corrects nothing'),
});

/** A character’s own light, kept from one angle to be asked for in another. */
export const Look = z.looseObject({
  words,
  person: z.string().max(40).optional().describe('whose it is'),
  scene: id.describe('where it was kept from'),
  angle: id,
  mark: id,
  azimuthDeg: z.number().min(0).max(180).describe('key, round from the way the face looks'),
  elevationDeg: z.number().min(-90).max(90).describe('key, above the eyes'),
  farSide: z
    .boolean()
    .optional()
    .describe('key on the side turned from the camera; absent: the camera looks straight at the face'),
  side: z.enum(['left', 'right']).describe('their own side it came from then'),
  sourceDeg: z.number().min(0).max(180).describe('how wide the key looks from the face'),
  overStops: z.number().min(-20).max(20).describe('incident light over the set stop'),
  ratioStops: z.number().min(0).max(20).optional().describe('lit side over shadow side'),
  keyMired: z.number().min(-1000).max(1000).optional().describe('lit side against the balance, + warmer'),
  fillMired: z.number().min(-1000).max(1000).optional().describe('shadow side against the balance'),
});

export const FORMAT = 'rushlight-shoot';
/** Major: an older program must not write it. Minor: additions only. */
export const VERSION = { major: 1, minor: 1 } as const;

export const Shoot = z.looseObject({
  format: z.literal(FORMAT),
  version: z.looseObject({ major: z.number().int().min(0), minor: z.number().int().min(0) }),
  title: words,
  words: words.optional(),
  exposureConstant: z
    .number()
    .min(100)
    .max(600)
    .describe('C of the incident-light equation (lux); 250 flat receptor'),
  units: z.enum(['metric', 'imperial']).optional(),
  light: z.enum(['lux', 'footcandle']).optional(),
  places: byId(Place),
  scenes: byId(Scene),
  kit: Kit,
  readings: byId(MeterReading).optional().describe('made on the set, in the order they were made'),
  looks: byId(Look).optional().describe('lights that belong to characters'),
  crewNote: words.optional(),
  under: byId(Underlay).optional().describe('by place: a photograph or sketch under its plan'),
  edition: z
    .looseObject({
      number: z.number().int().min(0).max(1e6),
      content: z.string().max(20).describe('a word for what the shoot was then'),
    })
    .optional()
    .describe('the version number on paper: grows when a changed shoot is printed or saved'),
});

export type Finish = z.infer<typeof Finish>;
export type Opening = z.infer<typeof Opening>;
export type Furniture = z.infer<typeof Furniture>;
export type Rigging = z.infer<typeof Rigging>;
export type Circuit = z.infer<typeof Circuit>;
export type Socket = z.infer<typeof Socket>;
export type Supply = z.infer<typeof Supply>;
export type Room = z.infer<typeof Room>;
export type Place = z.infer<typeof Place>;
export type HeadReading = z.infer<typeof HeadReading>;
export type KitLamp = z.infer<typeof KitLamp>;
export type KitThing = z.infer<typeof KitThing>;
export type Kit = z.infer<typeof Kit>;
export type Support = z.infer<typeof Support>;
export type Feed = z.infer<typeof Feed>;
export type RigLamp = z.infer<typeof RigLamp>;
export type Cheat = z.infer<typeof Cheat>;
export type RigFlag = z.infer<typeof RigFlag>;
export type RigMultiway = z.infer<typeof RigMultiway>;
export type Mark = z.infer<typeof Mark>;
export type Spot = z.infer<typeof Spot>;
export type WhiteBalance = z.infer<typeof WhiteBalance>;
export type CameraSettings = z.infer<typeof CameraSettings>;
export type Wish = z.infer<typeof Wish>;
export type Meant = z.infer<typeof Meant>;
export type CutTolerance = z.infer<typeof CutTolerance>;
export type Angle = z.infer<typeof Angle>;
export type Day = z.infer<typeof Day>;
export type DayReading = z.infer<typeof DayReading>;
export type SceneAir = z.infer<typeof SceneAir>;
export type Scene = z.infer<typeof Scene>;
export type Look = z.infer<typeof Look>;
export type MeterReading = z.infer<typeof MeterReading>;
export type Shoot = z.infer<typeof Shoot>;
