import type { JobInput } from '../../../worker/engine/model/job.ts';

export type PartEntry = JobInput['parts'][number];

/** What shops make their lists by. */
export type Group = 'wire' | 'sleeve' | 'terminal' | 'family' | 'tool' | 'fitting' | 'device';

/** A part, and what a piece or a metre of it is about worth, pence. */
export interface Item {
  part: PartEntry;
  group: Group;
  pence: number;
}

/** A connector family: its parts only work together. Codes: `family`-housing, -contact, and -seal where it is sealed. */
export interface Family {
  code: string;
  ways: number;
  sealed: boolean;
}

const BASES = ['black', 'green', 'brown', 'red', 'blue', 'white', 'purple', 'yellow'] as const;

/** Sizes by strands of 0.30 mm: grams and pence a metre, and in how many colours each is made. */
const SIZES = [
  { strands: 14, grams: 15, pence: 42, colours: 22 },
  { strands: 28, grams: 26, pence: 73, colours: 13 },
  { strands: 44, grams: 38, pence: 108, colours: 8 },
  { strands: 65, grams: 54, pence: 155, colours: 5 },
] as const;

export interface Wire {
  strands: number;
  colour: { base: (typeof BASES)[number]; tracer?: (typeof BASES)[number] };
}

/** Every wire that looms may ask for: plain colours first, then with tracers. */
export const WIRES: readonly (Wire & { item: Item })[] = SIZES.flatMap(({ strands, grams, pence, colours }) =>
  Array.from({ length: colours }, (_, at) => {
    const base = BASES[at % BASES.length] ?? 'black';
    const tracer = BASES[(at + Math.floor(at / BASES.length)) % BASES.length];
    const colour = at < BASES.length || tracer === undefined ? { base } : { base, tracer };
    const code = `cable-${strands}-${base}${'tracer' in colour ? `-${colour.tracer}` : ''}`;
    return {
      strands,
      colour,
      item: {
        group: 'wire' as const,
        // What has a tracer is printed, and dearer.
        pence: Math.round(pence * ('tracer' in colour ? 1.12 : 1)),
        part: {
          kind: 'wire' as const,
          code,
          description: `PVC vehicle cable ${strands}/0.30, ${base}`,
          cableType: 'pvc-vehicle',
          size: { system: 'metricStrands' as const, strands, strandMm: 0.3 },
          colour,
          gramsPerM: grams,
        },
      },
    };
  }),
);

/** Thin wire, to 2.5 mm², and thick wire have terminals of their own. */
export const isThin = ({ strands }: Wire) => strands <= 28;
const RANGES = {
  thin: { wireMinMm2: 0.5, wireMaxMm2: 2.5 },
  thick: { wireMinMm2: 2.5, wireMaxMm2: 6 },
} as const;
const RANGE_NAMES = ['thin', 'thick'] as const;
export const STUDS_MM = [4, 5, 6, 8] as const;

/** Families that looms name; another stands in for each of the first four as a whole. */
export const FAMILIES: readonly Family[] = [
  { code: 'duo', ways: 2, sealed: true },
  { code: 'trio', ways: 3, sealed: false },
  { code: 'quad', ways: 4, sealed: true },
  { code: 'six', ways: 6, sealed: false },
  { code: 'eight', ways: 8, sealed: false },
];
const REPLACED = FAMILIES.slice(0, 4);
export const standInFamily = (code: string) => `new-${code}`;

const CONFIRMED = 'Ann';

function familyItems({ code, ways, sealed }: Family, standsFor?: string): Item[] {
  // Newer ones are cheaper, but need their own tool.
  const share = standsFor === undefined ? 1 : 0.72;
  const item = (kind: string, pence: number, part: PartEntry): Item => ({
    group: 'family',
    pence: Math.round(pence * share * 10) / 10,
    part: {
      ...part,
      family: code,
      ...(standsFor === undefined
        ? {}
        : { standsInFor: [{ part: `${standsFor}-${kind}`, confirmedBy: CONFIRMED }] }),
    },
  });
  const named = (kind: string) => ({ code: `${code}-${kind}`, description: `${code}: ${kind}` });
  return [
    item('housing', 60 + 18 * ways, {
      kind: 'housing',
      ...named('housing'),
      ways,
      housingGender: 'plug',
      contactGender: 'female',
      sealed,
      weightG: 3 + 1.5 * ways,
    }),
    item('contact', sealed ? 19 : 14, {
      kind: 'terminal',
      ...named('contact'),
      terminalType: 'pin',
      gender: 'female',
      join: 'crimp',
      ...RANGES.thin,
      weightG: 0.6,
    }),
    ...(sealed ? [item('seal', 9, { kind: 'seal', ...named('seal'), weightG: 0.2 })] : []),
  ];
}

const tool = (code: string, pence: number, worksFamilies: string[]): Item => ({
  group: 'tool',
  pence,
  part: { kind: 'tool', code, description: `Crimp tool ${code}`, worksFamilies, weightG: 480 },
});

const TOOLS = [
  tool('tool-small', 2_450, ['duo', 'trio']),
  tool('tool-large', 2_900, ['quad', 'six']),
  tool('tool-all', 4_900, ['duo', 'trio', 'quad', 'six', 'eight']),
  tool(
    'tool-new',
    2_100,
    REPLACED.map(({ code }) => standInFamily(code)),
  ),
];

type Terminal = Extract<PartEntry, { kind: 'terminal' }>;

function terminal(code: string, pence: number, more: Partial<Terminal>, standsFor?: string): Item {
  return {
    group: 'terminal',
    pence,
    part: {
      kind: 'terminal',
      code,
      description: `Terminal ${code}`,
      terminalType: 'other',
      join: 'crimp',
      weightG: 1.2,
      ...more,
      ...(standsFor === undefined ? {} : { standsInFor: [{ part: standsFor, confirmedBy: CONFIRMED }] }),
    },
  };
}

const TERMINALS: readonly Item[] = RANGE_NAMES.flatMap((range) => {
  const more = range === 'thin' ? 0 : 5;
  const sized = RANGES[range];
  const ring = (mm: number) => ({ terminalType: 'ring' as const, sizeMm: mm, ...sized });
  const blade = { terminalType: 'blade' as const, gender: 'female' as const, sizeMm: 6.3, ...sized };
  const bullet = { terminalType: 'bullet' as const, gender: 'male' as const, sizeMm: 4.7, ...sized };
  return [
    ...STUDS_MM.map((mm) => terminal(`ring-${mm}-${range}`, 10 + mm + more, ring(mm))),
    terminal(`blade-${range}`, 11 + more, blade),
    terminal(`bullet-${range}`, 15 + more, bullet),
    // Tinned ones stand in for plain brass.
    terminal(`ring-5-${range}-tin`, 14 + more, ring(5), `ring-5-${range}`),
    terminal(`blade-${range}-tin`, 10 + more, blade, `blade-${range}`),
    terminal(`bullet-${range}-tin`, 14 + more, bullet, `bullet-${range}`),
  ];
});

const other = (group: Group, pence: number, part: PartEntry): Item => ({ group, pence, part });

const JOINTS: readonly Item[] = [
  other('terminal', 7, { kind: 'cover', code: 'cover', description: 'Cover for a blade', weightG: 0.5 }),
  ...([2, 4] as const).map((positions) =>
    other('terminal', positions === 2 ? 42 : 85, {
      kind: 'joiner',
      code: `joiner-${positions}`,
      description: `Joiner for ${positions} bullets`,
      joinerType: positions === 2 ? 'sleeve' : 'block',
      positions,
      weightG: positions * 1.3,
    }),
  ),
];

/** Sleeves that looms name: pieces of so many cm, at the least and the most. */
export const SLEEVES = [
  ...[3, 4, 5, 6, 8, 10].map((bore) => ({
    kind: 'pvc' as const,
    code: `pvc-${bore}`,
    bore,
    cm: [15, 90] as const,
  })),
  ...[6, 10, 16, 22].map((bore) => ({
    kind: 'braided' as const,
    code: `braid-${bore}`,
    bore,
    cm: [30, 220] as const,
  })),
  ...[3, 5, 6, 10].map((bore) => ({
    kind: 'heatShrink' as const,
    code: `shrink-${bore}`,
    bore,
    cm: [3, 9] as const,
  })),
];
const BY_BORE = { pvc: [14, 5], braided: [62, 9], heatShrink: [70, 16] } as const;

const SLEEVE_ITEMS: readonly Item[] = [
  ...SLEEVES.map(({ kind, code, bore }) => {
    const [least, more] = BY_BORE[kind];
    return other('sleeve', least + more * bore, {
      kind: 'sleeve',
      code,
      description: `Sleeve ${code}`,
      sleeveType: kind,
      gramsPerM: 2 * bore,
    });
  }),
  other('sleeve', 9, {
    kind: 'tape',
    code: 'tape',
    description: 'Loom tape',
    tapeType: 'nonAdhesive',
    widthMm: 19,
    gramsPerM: 4,
  }),
];

export const FITTINGS = [
  ...[6, 8, 10, 13, 16, 20].map((mm) => ({
    type: 'grommet' as const,
    code: `grommet-${mm}`,
    pence: 12 + 2 * mm,
  })),
  ...[6, 8, 10, 13].map((mm) => ({ type: 'clip' as const, code: `clip-${mm}`, pence: 18 + mm })),
  { type: 'tie' as const, code: 'tie', pence: 4 },
];
const FITTING_ITEMS: readonly Item[] = [
  ...FITTINGS.map(({ type, code, pence }) =>
    other('fitting', pence, {
      kind: 'fitting',
      code,
      description: `Fitting ${code}`,
      fittingType: type,
      weightG: 3.5,
    }),
  ),
  other('fitting', 24, {
    kind: 'fitting',
    code: 'grommet-10-rubber',
    description: 'Grommet of another make',
    fittingType: 'grommet',
    weightG: 3.5,
    standsInFor: [{ part: 'grommet-10', confirmedBy: CONFIRMED }],
  }),
];

/** Devices that are bought new with a loom. */
export const DEVICES = [
  { type: 'lamp', code: 'holder-side', pence: 340, grams: 25 },
  { type: 'lamp', code: 'holder-dash', pence: 260, grams: 14 },
  { type: 'lamp', code: 'lamp-number', pence: 890, grams: 80 },
  { type: 'flasher', code: 'flasher', pence: 720, grams: 60 },
  { type: 'relay', code: 'relay', pence: 540, grams: 35 },
  { type: 'fuseHolder', code: 'fuse-box-4', pence: 1_480, grams: 120 },
  { type: 'fuseHolder', code: 'fuse-line', pence: 210, grams: 12 },
  { type: 'switch', code: 'switch-brake', pence: 960, grams: 55 },
  { type: 'switch', code: 'switch-dip', pence: 1_850, grams: 140 },
] as const;
const DEVICE_ITEMS: readonly Item[] = DEVICES.map(({ type, code, pence, grams }) =>
  other('device', pence, {
    kind: 'device',
    code,
    description: `Device ${code}`,
    deviceType: type,
    weightG: grams,
  }),
);

/** Everything. A part comes after what it stands in for. */
export const CATALOGUE: readonly Item[] = [
  ...WIRES.map(({ item }) => item),
  ...TERMINALS,
  ...JOINTS,
  ...FAMILIES.flatMap((family) => familyItems(family)),
  ...REPLACED.flatMap((family) => familyItems({ ...family, code: standInFamily(family.code) }, family.code)),
  ...TOOLS,
  ...SLEEVE_ITEMS,
  ...FITTING_ITEMS,
  ...DEVICE_ITEMS,
];
