import type { JobInput } from '../../worker/engine/model/job.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { gbp } from './fixtures.ts';
import { randomBelow } from './randomBelow.ts';

/** How big the job is, and which of the jobs of that size it is. */
interface Size {
  /** In all; more than one loom may hold become several looms. */
  wires: number;
  suppliers: number;
  seed: number;
}

type PartEntry = JobInput['parts'][number];
type Offer = JobInput['offers'][number];
type Supplier = JobInput['suppliers'][number];
type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type End = Wire['from'];
type Point = NonNullable<Loom['points']>[number];
type PointKind = 'device' | 'joiner' | 'stud';

interface Random {
  below(limit: number): number;
  between(low: number, high: number): number;
  pick<T>(list: readonly T[]): T;
}

/** A wire to be bought: a part, and the marks under which the looms ask for it. */
interface Spec {
  letters: string;
  strands: number;
  part: PartEntry;
}

const COLOURS = {
  B: 'black',
  G: 'green',
  N: 'brown',
  R: 'red',
  U: 'blue',
  W: 'white',
  P: 'purple',
  Y: 'yellow',
} as const;
const LETTERS = Object.keys(COLOURS) as (keyof typeof COLOURS)[];
const CABLES = [
  { strands: 14, grams: 15, pence: 42 },
  { strands: 28, grams: 26, pence: 73 },
  { strands: 44, grams: 38, pence: 108 },
  { strands: 65, grams: 54, pence: 155 },
] as const;
const OFFERS_OF_A_SUPPLIER = 25;

/**
 * A job in the style of an old vehicle's loom, as big as is asked: wires in base and tracer colours and trade sizes, about
 * a point for each, blades, bullets and rings with shared ends, coverings of three kinds; price lists in packs, by the
 * metre, in hanks and kits, with breaks, and suppliers of every rule. The same size and seed make the same job.
 */
export function bigJob({ wires, suppliers, seed }: Size): JobInput {
  const random = randomFrom(seed);
  const specs = wireSpecs(Math.min(60, 6 + Math.floor(wires / 20)));
  const parts = [...specs.map((spec) => spec.part), ...OTHER_PARTS];
  const looms = split(wires, Math.min(LIMITS.wires, LIMITS.points)).map((share, index) =>
    loomOf(`loom-${index + 1}`, share, specs, random),
  );
  const sellers = Array.from({ length: suppliers }, (_, index) => supplierOf(index, random));
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-24',
    club: { currency: 'GBP', settings: { cuttingStepMm: 5, besideSeconds: 0 } },
    parts,
    suppliers: sellers,
    offers: priceLists(parts, sellers, random),
    looms,
    request: { looms: looms.map(({ code }) => ({ loom: code, quantity: 1 })) },
  };
}

function split(total: number, most: number): number[] {
  const whole = Math.floor(total / most);
  const rest = total % most;
  return [...Array.from({ length: whole }, () => most), ...(rest > 0 ? [rest] : [])];
}

/** Sizes change fastest, then bases; every third colour is plain. */
function wireSpecs(count: number): Spec[] {
  return Array.from({ length: count }, (_, index): Spec => {
    const { strands, grams } = at(CABLES, index);
    const turn = Math.floor(index / CABLES.length);
    const base = at(LETTERS, turn);
    const tracer = turn % 3 === 0 ? undefined : at(LETTERS, turn + 1 + Math.floor(turn / LETTERS.length));
    const letters = base + (tracer ?? '');
    return {
      letters,
      strands,
      part: {
        kind: 'wire',
        code: `cable-${strands}-${letters.toLowerCase()}`,
        description: `PVC vehicle cable ${strands}/0.30 ${letters}`,
        cableType: 'pvc-vehicle',
        size: { system: 'metricStrands', strands, strandMm: 0.3 },
        colour: { base: COLOURS[base], ...(tracer ? { tracer: COLOURS[tracer] } : {}) },
        gramsPerM: grams,
      },
    };
  });
}

const range = { wireMinMm2: 1, wireMaxMm2: 10 };
const OTHER_PARTS: PartEntry[] = [
  { kind: 'terminal', code: 'blade', description: 'Blade', terminalType: 'blade', ...range, weightG: 1 },
  { kind: 'terminal', code: 'bullet', description: 'Bullet', terminalType: 'bullet', ...range, weightG: 1 },
  { kind: 'terminal', code: 'ring-5', description: 'Ring 5 mm', terminalType: 'ring', ...range, weightG: 1 },
  { kind: 'terminal', code: 'ring-6', description: 'Ring 6 mm', terminalType: 'ring', ...range, weightG: 2 },
  { kind: 'cover', code: 'cover', description: 'Cover for a blade', weightG: 0.5 },
  { kind: 'joiner', code: 'joiner-2', description: 'Joiner', joinerType: 'sleeve', positions: 2, weightG: 2 },
  { kind: 'joiner', code: 'joiner-4', description: 'Block', joinerType: 'block', positions: 4, weightG: 5 },
  { kind: 'device', code: 'lamp', description: 'Lamp', deviceType: 'lamp', weightG: 90 },
  { kind: 'fitting', code: 'grommet', description: 'Grommet', fittingType: 'grommet', weightG: 3 },
  { kind: 'fitting', code: 'clip', description: 'P-clip', fittingType: 'clip', weightG: 6 },
  { kind: 'sleeve', code: 'braid', description: 'Braided sleeve', sleeveType: 'braided', gramsPerM: 14 },
  { kind: 'sleeve', code: 'pvc', description: 'PVC sleeving', sleeveType: 'pvc', gramsPerM: 16 },
  { kind: 'sleeve', code: 'shrink', description: 'Heat-shrink', sleeveType: 'heatShrink', gramsPerM: 20 },
];
const PENCE: Record<string, number> = {
  ...{ blade: 12, bullet: 16, 'ring-5': 14, 'ring-6': 16, cover: 7, 'joiner-2': 45, 'joiner-4': 80 },
  ...{ lamp: 720, grommet: 24, clip: 32, braid: 140, pvc: 45, shrink: 150 },
};

/** Wire n runs from point n to one of the few before it, so that what is near is joined to what is near. */
function loomOf(code: string, wires: number, specs: readonly Spec[], random: Random): Loom {
  const points = Array.from({ length: Math.max(2, wires) }, (_, index) => pointOf(index, random));
  const used = points.map(() => 0);
  const isFull = (index: number) => at(used, index) >= (ROOM[at(points, index).part ?? ''] ?? Infinity);
  const take = (index: number): End => {
    const nth = at(used, index);
    used[index] = nth + 1;
    return endOf(at(points, index), nth);
  };
  const wireList = Array.from({ length: wires }, (_, index): Wire => {
    const from = take(index);
    let other = index === 0 ? 1 : index - 1 - random.below(Math.min(index, 12));
    // The first two points are no joiners, and never full.
    while (isFull(other)) other -= 1;
    const { letters, strands } = index < specs.length ? at(specs, index) : random.pick(specs);
    return {
      id: `W${index + 1}`,
      cableType: 'pvc-vehicle',
      size: random.pick([
        { system: 'imperialStrands', strands, strandInch: 0.012 },
        { system: 'metricStrands', strands, strandMm: 0.3 },
      ]),
      colour: { letters },
      from,
      to: take(other),
      length: {
        mm: 5 * random.between(30, 800),
        basis: random.pick(['route', 'tipToTip', 'sheathToSheath']),
      },
    };
  });
  // The second runs beside the first, from point to point, and is as long.
  const [first, second] = wireList;
  if (first?.length && second?.length) second.length.mm = first.length.mm;
  return {
    code,
    name: `A loom of ${wires} wires`,
    colourSystem: 'bsAu7',
    points,
    wires: wireList,
    coverings: Array.from({ length: Math.min(LIMITS.coverings, Math.ceil(wires / 3)) }, (_, index) =>
      coveringOf(index, random),
    ),
    fittings: [
      { part: 'grommet', quantity: 1 + Math.floor(wires / 12) },
      { part: 'clip', quantity: 2 + Math.floor(wires / 4) },
    ],
  };
}

const KINDS: readonly PointKind[] = ['stud', 'device', 'device', 'joiner', 'device', 'joiner'];
const ROOM: Record<string, number> = { 'joiner-2': 2, 'joiner-4': 4 };

function pointOf(index: number, random: Random): Point {
  const id = `P${index + 1}`;
  const kind = index < 2 ? at(KINDS, index) : random.pick(KINDS);
  if (kind === 'stud') return { id, kind };
  if (kind === 'joiner') return { id, kind, part: random.pick(['joiner-2', 'joiner-4', 'joiner-4']) };
  return { id, kind, part: 'lamp', supply: random.pick(['buy', 'reuse', 'reuse', 'ownerSupplies']) };
}

/** Bullets at joiners, rings at studs, blades with covers elsewhere; of three ends at a stud or device two share one. */
function endOf(point: Point, nth: number): End {
  if (point.kind === 'joiner') return { point: point.id, join: 'crimp', terminal: { part: 'bullet' } };
  const terminal: Partial<End> =
    point.kind === 'stud'
      ? { terminal: { part: point.id.endsWith('5') ? 'ring-5' : 'ring-6' } }
      : { terminal: { part: 'blade' }, cover: { part: 'cover' } };
  return {
    point: point.id,
    join: 'crimp',
    ...(nth % 3 === 2 ? {} : terminal),
    ...(nth % 3 === 0 ? {} : { sharesTerminal: `pair-${Math.floor(nth / 3) + 1}` }),
  };
}

const COVERINGS = [
  { kind: 'braided', part: 'braid', leastCm: 40, mostCm: 240 },
  { kind: 'pvc', part: 'pvc', leastCm: 20, mostCm: 90 },
  { kind: 'heatShrink', part: 'shrink', leastCm: 4, mostCm: 8 },
] as const;

function coveringOf(index: number, random: Random): NonNullable<Loom['coverings']>[number] {
  const { kind, part, leastCm, mostCm } = at(COVERINGS, index);
  return { id: `C${index + 1}`, kind, part, lengthMm: 10 * random.between(leastCm, mostCm) };
}

function supplierOf(index: number, random: Random): Supplier {
  const code = `shop-${index + 1}`;
  const named = { code, name: `Shop ${index + 1}`, currency: 'GBP', website: `https://${code}.example` };
  const charge = random.between(250, 650);
  const byValue = (...bands: [from: number, charge: number][]): Supplier['postage'] => ({
    by: 'value',
    bands: bands.map(([from, charged]) => ({ fromValue: pence(from), charge: pence(charged) })),
  });
  const free = 100 * random.between(30, 160);
  const rules: Partial<Supplier>[] = [
    { postage: byValue([0, charge], [free, 0]) },
    { postage: byValue([0, charge]) },
    { postage: byValue([0, charge + 200], [free, charge], [3 * free, 0]) },
    {
      postage: {
        by: 'weight',
        bands: [
          { fromG: 0, charge: pence(charge) },
          { fromG: 1000, charge: pence(charge + 180) },
          { fromG: 5000, charge: pence(charge + 520) },
        ],
        freeFromValue: pence(2 * free),
      },
    },
    { postage: byValue([0, charge]), minimumOrder: pence(1500), handling: pence(200) },
    {},
  ];
  return { ...named, ...at(rules, index) };
}

/** Each supplier sells the next stretch of one shuffled list, so that every part is sold by somebody; and one kit. */
function priceLists(parts: readonly PartEntry[], suppliers: readonly Supplier[], random: Random): Offer[] {
  const deck = shuffled(parts, random);
  const each = Math.min(
    deck.length,
    Math.max(OFFERS_OF_A_SUPPLIER - 1, Math.ceil(deck.length / Math.max(1, suppliers.length))),
  );
  return suppliers.flatMap(({ code }, index) => {
    const level = random.between(86, 118);
    return [
      ...Array.from({ length: each }, (_, card) => {
        const place = index * each + card;
        return offerOf({ supplier: code, level, again: place >= deck.length }, at(deck, place), random);
      }),
      kitOf(code, level, random),
    ];
  });
}

/** `again`: others sell the part too, so that this supplier may have only a few. */
function offerOf(
  { supplier, level, again }: { supplier: string; level: number; again: boolean },
  part: PartEntry,
  random: Random,
): Offer {
  const common = {
    code: `${supplier}-${part.code}`,
    supplier,
    supplierCode: `${part.code.toUpperCase()}/${random.between(100, 999)}`,
    part: part.code,
    seenOn: `2026-${random.pick(['02', '07', '10', '11'])}-${random.between(10, 20)}`,
  };
  const worth = (pencePer(part) * level * random.between(94, 106)) / 10_000;
  if (part.kind === 'wire' || part.kind === 'sleeve') {
    if (random.below(2) === 0)
      return {
        ...common,
        form: 'metre',
        pricePerMetre: price(worth),
        minimumMm: random.pick([1000, 2000, 5000]),
        stepMm: random.pick([500, 1000]),
        ...(random.below(2) === 0
          ? { breaks: [{ fromMm: random.pick([10_000, 25_000]), pricePerMetre: price(worth * 0.88) }] }
          : {}),
      };
    const metres = random.pick([5, 10, 25, 50, 100]);
    return {
      ...common,
      form: 'length',
      nominalMm: metres * 1000,
      packPrice: price(metres * worth * bulk(metres)),
      tolerancePercent: random.pick([0, 0, 2]),
      endLossMm: random.pick([0, 50]),
    };
  }
  const packCount = random.pick([1, 10, 25, 50, 100]);
  const packPrice = packCount * worth * bulk(packCount);
  const lots = random.pick([1, 1, 1, 2, 5]);
  return {
    ...common,
    form: 'pack',
    packCount,
    packPrice: price(packPrice),
    ...(lots === 1 ? {} : { minimumPacks: lots, stepPacks: lots }),
    ...(random.below(3) === 0
      ? { breaks: [{ fromPacks: 2 * lots, packPrice: price(packPrice * 0.9) }] }
      : {}),
    ...(again && random.below(6) === 0
      ? { condition: 'oldStock', stockPacks: random.between(1, 6) * lots }
      : {}),
  };
}

function kitOf(supplier: string, level: number, random: Random): Offer {
  const counted = OTHER_PARTS.filter((part) => part.kind !== 'sleeve' && part.kind !== 'device');
  const contents = shuffled(counted, random)
    .slice(0, random.between(2, 4))
    .map((part) => ({ part, quantity: 5 * random.between(1, 8) }));
  const worth = contents.reduce((sum, { part, quantity }) => sum + quantity * pencePer(part), 0);
  return {
    form: 'kit',
    code: `${supplier}-kit`,
    supplier,
    supplierCode: 'ASSORTED',
    contents: contents.map(({ part, quantity }) => ({ part: part.code, quantity })),
    packPrice: price((worth * level * 0.8) / 100),
  };
}

function pencePer(part: PartEntry): number {
  const cable = CABLES.find(({ strands }) => part.code.startsWith(`cable-${strands}-`));
  return cable?.pence ?? PENCE[part.code] ?? 100;
}

/** What a pack of so many costs apiece, against one: 50 come for about two thirds. */
function bulk(count: number): number {
  return count ** -0.1;
}

function pence(count: number) {
  return gbp((count / 100).toFixed(2));
}

/** A price in pence, to the tenth of a penny: what costs pennies still differs from shop to shop. */
function price(count: number) {
  return gbp((count / 100).toFixed(3));
}

/** The entry at an index that goes round. */
function at<T>(list: readonly T[], index: number): T {
  const item = list[index % list.length];
  if (item === undefined) throw new RangeError('the list is empty');
  return item;
}

function shuffled<T>(list: readonly T[], random: Random): T[] {
  return list
    .map((item) => ({ item, rank: random.below(2 ** 31) }))
    .sort((a, b) => a.rank - b.rank)
    .map(({ item }) => item);
}

/** The linear congruential generator of Numerical Recipes (ranqd1). */
function randomFrom(seed: number): Random {
  const below = randomBelow(seed);
  return {
    below,
    between: (low, high) => low + below(high - low + 1),
    pick: (list) => at(list, below(list.length)),
  };
}
