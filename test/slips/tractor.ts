import type { JobInput } from '../../worker/engine/model/job.ts';

type LoomInput = JobInput['looms'][number];
export type WireInput = NonNullable<LoomInput['wires']>[number];
export type PartInput = JobInput['parts'][number];
export type OfferInput = JobInput['offers'][number];
type EndInput = WireInput['from'];

type Lists = 'points' | 'wires' | 'branches' | 'coverings' | 'fittings' | 'parts';

/** A job with every list of its loom there, to be changed in place. */
export type Tractor = Omit<JobInput, 'looms'> & {
  looms: [Omit<LoomInput, Lists> & { [L in Lists]-?: NonNullable<LoomInput[L]> }];
};

const strands = (count: number) => ({ system: 'metricStrands' as const, strands: count, strandMm: 0.3 });
const gbp = (amount: string) => ({ amount, currency: 'GBP' });

const WIRES: [
  code: string,
  count: number,
  base: string,
  tracer: string | undefined,
  pricePerMetre: string,
][] = [
  ['brown-44', 44, 'brown', undefined, '1.10'],
  ['brown-28', 28, 'brown', 'blue', '0.80'],
  ['brown-14', 14, 'brown', 'yellow', '0.45'],
  ['purple-14', 14, 'purple', undefined, '0.45'],
  ['red-14', 14, 'red', undefined, '0.44'],
  ['red-green-14', 14, 'red', 'green', '0.46'],
  ['white-14', 14, 'white', undefined, '0.44'],
  ['green-14', 14, 'green', undefined, '0.44'],
  ['blue-14', 14, 'blue', 'white', '0.46'],
  ['black-14', 14, 'black', undefined, '0.40'],
];

const parts = (): PartInput[] => [
  ...WIRES.map(
    ([code, count, base, tracer]) =>
      ({
        kind: 'wire',
        code,
        description: `PVC cable ${count}/0.30, ${base}${tracer ? ` with ${tracer}` : ''}`,
        cableType: 'pvc-vehicle',
        size: strands(count),
        colour: { base, ...(tracer ? { tracer } : {}) },
      }) as PartInput,
  ),
  terminal('ring-6', 'Ring, 6 mm stud', {
    terminalType: 'ring',
    sizeMm: 6.4,
    wireMinMm2: 0.65,
    wireMaxMm2: 2.5,
  }),
  terminal('ring-6-big', 'Ring, 6 mm stud, larger wire', {
    terminalType: 'ring',
    sizeMm: 6.4,
    wireMinMm2: 2.5,
    wireMaxMm2: 6,
  }),
  terminal('ring-8', 'Ring, 8 mm stud, larger wire', {
    terminalType: 'ring',
    sizeMm: 8.4,
    wireMinMm2: 2.5,
    wireMaxMm2: 6,
  }),
  terminal('blade', 'Blade, female, 6.3 mm', {
    terminalType: 'blade',
    gender: 'female',
    sizeMm: 6.3,
    wireMinMm2: 0.5,
    wireMaxMm2: 2.5,
  }),
  terminal('bullet', 'Bullet, 4.7 mm', {
    terminalType: 'bullet',
    gender: 'male',
    sizeMm: 4.7,
    join: 'either',
    wireMinMm2: 0.65,
    wireMaxMm2: 2,
  }),
  terminal('plough-pin', 'Pin of the plough-lamp plug', {
    terminalType: 'pin',
    gender: 'male',
    family: 'rain',
    wireMinMm2: 0.5,
    wireMaxMm2: 1.5,
    insulationMinMm: 1.6,
    insulationMaxMm: 3,
  }),
  {
    kind: 'seal',
    code: 'plough-seal',
    description: 'Seal of the plough-lamp plug',
    family: 'rain',
    insulationMinMm: 1.6,
    insulationMaxMm: 3,
  },
  {
    kind: 'housing',
    code: 'plough-plug',
    description: 'Plough-lamp plug, two ways',
    family: 'rain',
    ways: 2,
    sealed: true,
    housingGender: 'plug',
    contactGender: 'male',
  },
  {
    kind: 'cover',
    code: 'blade-cover',
    description: 'Cover over a 6.3 mm blade',
    coverType: 'terminalCover',
  },
  {
    kind: 'joiner',
    code: 'joiner-4',
    description: 'Bullet block for four',
    joinerType: 'block',
    positions: 4,
    sizeMm: 4.7,
  },
  {
    kind: 'device',
    code: 'holder-8',
    description: 'Line holder with a fuse that blows at 15 A',
    deviceType: 'fuseHolder',
    pins: ['in', 'out'],
    ratedAmps: 15,
    fuseBasis: 'blow',
  },
  { kind: 'device', code: 'diode', description: 'Diode', deviceType: 'diode', pins: ['A', 'K'] },
  {
    kind: 'device',
    code: 'flasher',
    description: 'Flasher unit, either earth',
    deviceType: 'flasher',
    pins: ['B', 'L'],
    madeForEarth: 'either',
  },
  {
    kind: 'sleeve',
    code: 'braid-8',
    description: 'Braided sleeve, black, 5 to 12 mm',
    sleeveType: 'braided',
    shade: 'black',
    holdsMinMm: 5,
    holdsMaxMm: 12,
  },
  {
    kind: 'sleeve',
    code: 'shrink-64',
    description: 'Heat-shrink 6.4/3.2 mm',
    sleeveType: 'heatShrink',
    shade: 'black',
    boreMm: 6.4,
    recoveredBoreMm: 3.2,
  },
  { kind: 'fitting', fittingType: 'clip', code: 'clip-10', description: 'P-clip, rubber lined, 10 mm' },
  { kind: 'fitting', fittingType: 'grommet', code: 'grommet-12', description: 'Grommet, 12 mm' },
  { kind: 'consumable', code: 'tie', description: 'Cable tie' },
];

function terminal(code: string, description: string, more: object): PartInput {
  return { kind: 'terminal', code, description, ...more } as PartInput;
}

const end = (point: string, terminalPart: string, way?: string, more: Partial<EndInput> = {}): EndInput => ({
  point,
  join: 'crimp',
  terminal: { part: terminalPart },
  ...(way === undefined ? {} : { way }),
  ...(terminalPart === 'blade' ? { cover: { part: 'blade-cover' } } : {}),
  ...more,
});

const wire = (
  id: string,
  count: number,
  colour: WireInput['colour'],
  from: EndInput,
  to: EndInput,
  mm: number,
  more: Partial<WireInput> = {},
): WireInput => ({
  id,
  cableType: 'pvc-vehicle',
  size: strands(count),
  colour,
  from,
  to,
  length: { mm, basis: 'sheathToSheath', measured: 'oldLoom' },
  ...more,
});

/** The whole loom of an invented small tractor, every figure in order: nothing is to be said of it. */
export function tractor(): Tractor {
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-20',
    club: { currency: 'GBP', settings: { besideSeconds: 0 } },
    parts: parts(),
    suppliers: ['Orchard', 'Millrace', 'Tannery'].map((name) => ({
      code: name.toLowerCase(),
      name: `${name} Electrical`,
      currency: 'GBP',
    })),
    offers: offers(),
    looms: [
      {
        code: 'tractor',
        name: 'Whole loom of a small tractor',
        systemVoltage: 12,
        earth: 'negative',
        points: [
          { id: 'battery', kind: 'stud', label: 'Battery, positive post', feed: {} },
          { id: 'ammeter', kind: 'stud', label: 'Ammeter, stud on the load side' },
          {
            id: 'horn-fuse',
            kind: 'device',
            part: 'holder-8',
            label: 'Line fuse of the horn',
            supply: 'buy',
          },
          {
            id: 'lamp-fuse',
            kind: 'device',
            part: 'holder-8',
            label: 'Line fuse of the lamps',
            supply: 'buy',
          },
          { id: 'horn', kind: 'device', label: 'Horn', pins: ['1', '2'] },
          { id: 'switch', kind: 'device', label: 'Lighting switch', pins: ['in', 'S', 'H'] },
          { id: 'side-block', kind: 'joiner', part: 'joiner-4', label: 'Side lamps, in common' },
          { id: 'lamp-left', kind: 'device', label: 'Left side lamp', pins: ['1'] },
          { id: 'lamp-right', kind: 'device', label: 'Right side lamp', pins: ['1'] },
          { id: 'lamp-rear', kind: 'device', label: 'Rear lamp', pins: ['1'] },
          { id: 'plough-plug', kind: 'connector', part: 'plough-plug', label: 'Plug of the plough lamp' },
          { id: 'earth', kind: 'stud', label: 'Earth stud, 6 mm' },
          { id: 'dash', kind: 'breakout', label: 'Behind the dash' },
          { id: 'nose', kind: 'breakout', label: 'At the nose' },
        ],
        branches: [{ id: 'trunk', from: 'dash', to: 'nose', lengthMm: 900 }],
        wires: [
          wire('1', 44, { base: 'brown' }, end('battery', 'ring-8'), end('ammeter', 'ring-6-big'), 700, {
            amps: 14,
            circuit: 'feed',
          }),
          wire(
            '2',
            28,
            { base: 'brown', tracer: 'blue' },
            end('ammeter', 'ring-6'),
            end('lamp-fuse', 'blade', 'in'),
            800,
            { amps: 5, circuit: 'feed' },
          ),
          wire(
            '3',
            14,
            { base: 'brown', tracer: 'yellow' },
            end('ammeter', 'ring-6'),
            end('horn-fuse', 'blade', 'in'),
            600,
            { amps: 4, circuit: 'feed' },
          ),
          wire(
            '4',
            14,
            { base: 'purple' },
            end('horn-fuse', 'blade', 'out'),
            end('horn', 'blade', '1'),
            1200,
            { amps: 4, circuit: 'horn' },
          ),
          wire(
            '5',
            14,
            { base: 'red', tracer: 'green' },
            end('lamp-fuse', 'blade', 'out'),
            end('switch', 'blade', 'in'),
            500,
            { amps: 5, circuit: 'lamps' },
          ),
          wire('6', 14, { base: 'red' }, end('switch', 'blade', 'S'), end('side-block', 'bullet'), 900, {
            amps: 2,
            circuit: 'sides',
          }),
          wire('7', 14, { base: 'red' }, end('side-block', 'bullet'), end('lamp-left', 'blade', '1'), 450, {
            amps: 0.5,
            circuit: 'sides',
          }),
          wire('8', 14, { base: 'red' }, end('side-block', 'bullet'), end('lamp-right', 'blade', '1'), 480, {
            amps: 0.5,
            circuit: 'sides',
          }),
          wire('9', 14, { base: 'red' }, end('side-block', 'bullet'), end('lamp-rear', 'blade', '1'), 1900, {
            amps: 0.5,
            circuit: 'sides',
          }),
          wire(
            '10',
            14,
            { base: 'blue', tracer: 'white' },
            end('switch', 'blade', 'H'),
            end('plough-plug', 'plough-pin', '1', { seal: { part: 'plough-seal' } }),
            1700,
            { amps: 2, circuit: 'plough' },
          ),
          wire(
            '11',
            14,
            { base: 'black' },
            end('plough-plug', 'plough-pin', '2', { seal: { part: 'plough-seal' } }),
            end('earth', 'ring-6'),
            1500,
            { amps: 2, circuit: 'earth' },
          ),
          wire('12', 14, { base: 'black' }, end('horn', 'blade', '2'), end('earth', 'ring-6'), 650, {
            amps: 4,
            circuit: 'earth',
          }),
        ],
        coverings: [{ id: 'braid', kind: 'braided', part: 'braid-8', lengthMm: 900 }],
        fittings: [
          { part: 'clip-10', branch: 'trunk', atMm: 200 },
          { part: 'grommet-12', branch: 'trunk', atMm: 500 },
        ],
        parts: [{ part: 'tie', quantity: 12 }],
      },
    ],
    request: { looms: [{ loom: 'tractor', quantity: 1 }] },
  };
}

/** Three shops sell everything, at prices that lie near each other. */
function offers(): OfferInput[] {
  const metres = WIRES.flatMap(([code, , , , price]) =>
    three(price).map(([shop, amount]) => ({
      form: 'metre' as const,
      code: `${shop}-${code}`,
      supplier: shop,
      part: code,
      pricePerMetre: gbp(amount),
      seenOn: '2026-11-10',
    })),
  );
  const sleeves = [
    ['braid-8', '0.95'],
    ['shrink-64', '0.70'],
  ].flatMap(([code = '', price = '']) =>
    three(price).map(([shop, amount]) => ({
      form: 'metre' as const,
      code: `${shop}-${code}`,
      supplier: shop,
      part: code,
      pricePerMetre: gbp(amount),
      seenOn: '2026-11-10',
    })),
  );
  const packs = PACKS.flatMap(([code, count, price]) =>
    three(price).map(([shop, amount]) => ({
      form: 'pack' as const,
      code: `${shop}-${code}`,
      supplier: shop,
      part: code,
      packCount: count,
      packPrice: gbp(amount),
      seenOn: '2026-11-10',
    })),
  );
  return [...metres, ...sleeves, ...packs];
}

const PACKS: [part: string, count: number, price: string][] = [
  ['ring-6', 10, '1.60'],
  ['ring-6-big', 5, '1.50'],
  ['ring-8', 5, '1.70'],
  ['blade', 10, '1.40'],
  ['bullet', 10, '1.30'],
  ['plough-pin', 5, '1.90'],
  ['plough-seal', 5, '1.10'],
  ['plough-plug', 1, '2.40'],
  ['blade-cover', 10, '0.90'],
  ['joiner-4', 1, '1.20'],
  ['holder-8', 1, '1.85'],
  ['clip-10', 1, '0.36'],
  ['grommet-12', 1, '0.25'],
  ['tie', 50, '1.60'],
];

/** A price at three shops: as given, a tenth more, a fifth more. */
function three(price: string): [shop: string, amount: string][] {
  const pence = Math.round(Number(price) * 100);
  return [
    ['orchard', pence],
    ['millrace', Math.ceil(pence * 1.1)],
    ['tannery', Math.ceil(pence * 1.2)],
  ].map(([shop, amount]) => [`${shop}`, (Number(amount) / 100).toFixed(2)]);
}
