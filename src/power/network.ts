/**
 * A supply as plain data: source → what stands ahead of the board → circuits → plugs, leads, reels → loads.
 * A lamp is a load here, nothing else. All volts and amps r.m.s.; every resistance counts both ways
 * (line + neutral) and hot, unless a name says otherwise. `undefined` means nobody told: never zero, never a pass.
 */

/** Whose wiring rules and socket ratings apply. */
export type Region = 'uk' | 'eu' | 'na' | 'au' | 'jp';

/** How the mains is earthed; `unknown` gives no earth-fault verdict. */
export type Earthing = 'TN' | 'TT' | 'IT' | 'unknown';

/** Where the current comes from. `continuousVa`/`continuousW`: what it holds for hours, already derated. */
export type Source =
  | { readonly kind: 'mains'; readonly earthing: Earthing }
  | {
      readonly kind: 'generator' | 'inverter';
      readonly continuousVa: number | undefined;
      readonly continuousW?: number | undefined;
      /** Whether neutral is joined to earth at the set; undefined = unknown = floating. */
      readonly bondedNeutral: boolean | undefined;
    };

/** The device at the head of a circuit. `nema-breaker` is a North American thermal-magnetic breaker. */
export type BreakerKind = 'mcb-b' | 'mcb-c' | 'mcb-d' | 'bs3036' | 'nema-breaker' | 'unknown';

/** One thing ahead of the board (cut-out, main switch, contract limiter, a house's own feed). */
export interface Upstream {
  readonly id: string;
  readonly words: string;
  readonly ratingA: number | undefined;
  /** Resistance of line and neutral of this piece, ohm. Unknown counts as 0 in the drop, and the sheet says so. */
  readonly loopOhm?: number | undefined;
  /** Amps of other people's loads behind it, as far as told. */
  readonly otherA?: number | undefined;
}

/** What a load's current does when its volts change. Tungsten I ∝ V^0.55, resistive I ∝ V, the others hold their power. */
export type LoadKind = 'tungsten' | 'resistive' | 'electronic' | 'magnetic';

/** One thing that takes current. */
export interface Load {
  readonly id: string;
  readonly words: string;
  readonly kind: LoadKind;
  /** Input watts at `ratedV`, level 1. */
  readonly watts: number;
  /** Volts marked on the item. */
  readonly ratedV: number;
  /** True power over volt-amps, 0..1. Unknown: 0.55 electronic, 0.4 magnetic, said on the sheet. */
  readonly powerFactor?: number | undefined;
  /** Current leads the volts (capacitor-like input); else it lags. */
  readonly leading?: boolean | undefined;
  /** Dimmed to this share of its watts, 0..1. Lowers the solved amps only: ratings count the full draw. */
  readonly level?: number | undefined;
  readonly on: boolean;
  /** Needs its earth: a metal head. */
  readonly classI?: boolean | undefined;
  /** Standing earth leakage, mA. */
  readonly leakageMa?: number | undefined;
  /** On for at most ten minutes (a kettle). Set lighting is long. */
  readonly brief?: boolean | undefined;
  /** Stands out of doors or in the wet: needs an RCD that counts. */
  readonly outdoors?: boolean | undefined;
  /** Lowest volts the maker states. */
  readonly lowestV?: number | undefined;
  /** Start amps over running amps (motor, discharge run-up). Unknown for a magnetic load: not checked. */
  readonly startTimes?: number | undefined;
  /** Somebody or something depends on it: care, lifting, medical or alarm gear; or goods (freezer, till, server). */
  readonly depends?: 'care' | 'goods' | undefined;
  /** House loads on a ring: how far round from end A, 0..1. */
  readonly ringFraction?: number | undefined;
}

/** What a node is. `flex` is a lamp's own cord; `plate` a double socket's face. */
export type NodeKind =
  | 'socket'
  | 'plate'
  | 'plug'
  | 'fuse'
  | 'lead'
  | 'multiway'
  | 'reel'
  | 'adaptor'
  | 'dimmer'
  | 'flex';

/** One thing the current passes on its way out: everything below it hangs on it. */
export interface Node {
  readonly id: string;
  readonly kind: NodeKind;
  readonly words: string;
  /** Marked amps; undefined on a socket or plate = the region's ordinary one, elsewhere = not checked. */
  readonly ratingA?: number | undefined;
  /** Both ways, hot, ohm; 0 for a plug or fuse. */
  readonly resistanceOhm?: number | undefined;
  /** Left wound up (a reel or a coil). */
  readonly coiled?: boolean | undefined;
  /** Amps marked for use wound up; undefined = unmarked = 500 W. */
  readonly woundRatingA?: number | undefined;
  /** Resistance of its line and earth cores for an earth fault, ohm, hot; undefined = the same as `resistanceOhm`. */
  readonly faultLoopOhm?: number | undefined;
  /** A plug-in RCD: its mA (undefined = not marked) and type. */
  readonly rcd?: { readonly ma: number | undefined; readonly type?: RcdType | undefined } | undefined;
  /** On a ring: how far round from end A, 0..1; undefined = not told. Only on a circuit's own outlets. */
  readonly ringFraction?: number | undefined;
  readonly children: readonly Node[];
  readonly loads: readonly Load[];
}

/** RCD kinds: AC can be blinded by electronic loads. `S` is time-delayed. */
export type RcdType = 'AC' | 'A' | 'F' | 'B' | 'S' | 'gfci-a';

/** Everything behind one breaker or fuse. */
export interface Circuit {
  readonly id: string;
  readonly words: string;
  readonly device: { readonly kind: BreakerKind; readonly ratingA: number | undefined };
  readonly cable: {
    /** Board to the outlets, both ways, hot, ohm. For a ring: the whole ring from end to end, both conductors. */
    readonly loopOhm: number | undefined;
    /** What the cable carries, A; of a ring, one leg. Undefined = plan at 10 A. */
    readonly ratingA?: number | undefined;
    /** Line and earth core to the outlets, hot, ohm; undefined = taken as `loopOhm`, and the sheet says so. */
    readonly faultLoopOhm?: number | undefined;
  };
  readonly ring?: { readonly continuityTested: boolean } | undefined;
  /** mA; `none` = there is none; undefined = not told. */
  readonly rcdMa?: number | 'none' | undefined;
  readonly rcdType?: RcdType | undefined;
  /** An arc-fault breaker ahead of it; undefined = not told (asked in North America). */
  readonly afci?: boolean | undefined;
  /** Earth-fault loop impedance at the board, ohm, on a hot basis. */
  readonly loopImpedanceOhm?: number | undefined;
  readonly houseLoads: readonly Load[];
  readonly outlets: readonly Node[];
}

/** A whole supply at one moment. Ids of loads, nodes and circuits are each unique over the network. */
export interface Network {
  readonly region: Region;
  readonly nominalV: number;
  /** Worst volts; undefined = the region's (region.ts). */
  readonly lowestV?: number | undefined;
  readonly highestV?: number | undefined;
  /** Volts measured on the day: replaces nominal and both worst. */
  readonly measuredV?: number | undefined;
  readonly frequencyHz: number;
  readonly source: Source;
  readonly upstream: readonly Upstream[];
  readonly circuits: readonly Circuit[];
}

/** Every node below these, parents first. */
export function* walk(nodes: readonly Node[]): Generator<Node> {
  for (const node of nodes) {
    yield node;
    yield* walk(node.children);
  }
}

/** Every load behind these nodes. */
export function* loadsBehind(nodes: readonly Node[]): Generator<Load> {
  for (const node of walk(nodes)) yield* node.loads;
}

/** Every load on a circuit with the nodes on its way, outlet first; house loads first, on no way. */
export function* waysOn(circuit: Circuit): Generator<{ load: Load; way: readonly Node[] }> {
  for (const load of circuit.houseLoads) yield { load, way: [] };
  for (const outlet of circuit.outlets) yield* waysBelow(outlet, []);
}

function* waysBelow(node: Node, way: readonly Node[]): Generator<{ load: Load; way: readonly Node[] }> {
  const here = [...way, node];
  for (const load of node.loads) yield { load, way: here };
  for (const child of node.children) yield* waysBelow(child, here);
}

/** Every load on a circuit, house loads first. */
export function* loadsOn(circuit: Circuit): Generator<Load> {
  yield* circuit.houseLoads;
  yield* loadsBehind(circuit.outlets);
}
