import fc from 'fast-check';
import type { JobInput } from '../../worker/engine/model/job.ts';

type PartInput = JobInput['parts'][number];
type Given = Pick<JobInput, 'rates' | 'lanes' | 'stock' | 'fits'> & {
  country: string | undefined;
  /** Which parts may stand in for which. */
  standIns: NonNullable<JobInput['fits']>;
  request: Omit<JobInput['request'], 'looms'>;
  /** With which order each of the lines comes: of the first loom, of the second, and of the first again. */
  waves: readonly [number, number, number] | undefined;
};

export const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });

const seldom = <T>(arbitrary: fc.Arbitrary<T>) =>
  fc.oneof({ weight: 3, arbitrary: fc.constant(undefined) }, arbitrary);

/** Parts beside those that looms name: they stand in for these, or are the tools of their families. */
export const BESIDE: readonly PartInput[] = [
  { kind: 'terminal', code: 'ring-b', description: 'Ring B', terminalType: 'ring', family: 'fam-b' },
  { kind: 'terminal', code: 'bullet-b', description: 'Bullet B', terminalType: 'bullet', family: 'fam-b' },
  { kind: 'seal', code: 'seal-b', description: 'Seal B', weightG: 0.5 },
  { kind: 'seal', code: 'seal-c', description: 'Seal C' },
  { kind: 'sleeve', code: 'braid-b', description: 'Braid B', sleeveType: 'braided' },
  { kind: 'tape', code: 'spool-b', description: 'Tape B', tapeType: 'cloth', widthMm: 19 },
  {
    kind: 'wire',
    code: 'red-old',
    description: 'Red wire',
    cableType: 'old',
    size: { system: 'mm2', areaMm2: 1 },
    colour: { base: 'red' },
  },
  { kind: 'tool', code: 'press', description: 'Press', worksFamilies: ['fam-a'] },
  { kind: 'tool', code: 'press-all', description: 'Press', worksFamilies: ['fam-a', 'fam-b', 'fam-x'] },
];

/** From what to what; seal-c serves for seal-b alone, so that it is two steps from seal; the boot is needed itself. */
const STAND_INS = [
  ['ring-b', 'ring'],
  ['bullet-b', 'bullet'],
  ['seal-b', 'seal'],
  ['seal-c', 'seal-b'],
  ['boot', 'tie'],
  ['tie', 'seal'],
  ['braid-b', 'braid'],
  ['spool-b', 'spool'],
  ['red-old', 'red-1'],
  ['green-1', 'red-2'],
] as const;

const status = fc.constantFrom('confirmed' as const, 'confirmed' as const, 'proposed' as const);
const fits = (most: number, statuses: fc.Arbitrary<'confirmed' | 'proposed' | 'refuted'>) =>
  fc
    .subarray([...STAND_INS], { maxLength: most })
    .chain((list) =>
      fc.tuple(
        ...list.map(([from, to]) =>
          statuses.map((known) => ({ from, relation: 'standsInFor' as const, to, status: known })),
        ),
      ),
    );

const FAMILY_B = new Set(['ring-b', 'bullet-b']);
const WHOLE_FAMILY = STAND_INS.flatMap(([from, to]) =>
  FAMILY_B.has(from) ? [{ from, relation: 'standsInFor' as const, to, status: 'confirmed' as const }] : [],
);

const CURRENCIES = ['GBP', 'EUR', 'JPY'] as const;

/** An amount of hundredths; in yen, of which there are none, twice as many whole ones. */
export function money(hundredths: number, currency: string) {
  return {
    amount: currency === 'JPY' ? `${hundredths * 2}` : (hundredths / 100).toFixed(2),
    currency,
  };
}

const anyMoney = (most: number) =>
  fc
    .tuple(fc.integer({ min: 0, max: most }), fc.constantFrom(...CURRENCIES))
    .map(([hundredths, currency]) => money(hundredths, currency));

const percent = fc.constantFrom(0, 2.5, 19, 20, 33.3333, 100);

const lane = (from: string) =>
  fc
    .record({
      taxPercent: percent,
      sellerTaxPercent: fc.constantFrom(0, 19, 7.7),
      dutyPercent: percent,
      taxOverValue: maybe(anyMoney(2000)),
      dutyOverValue: maybe(anyMoney(2000)),
      dutyOn: fc.constantFrom('goods' as const, 'goodsAndPostage' as const),
      clearanceFee: maybe(anyMoney(800)),
      clearanceOverValue: maybe(anyMoney(1500)),
      valueIs: fc.constantFrom('goods' as const, 'goodsAndPostage' as const),
      exactlyThere: fc.constantFrom('free' as const, 'charged' as const),
    })
    .map((terms) => ({ code: `lane-${from}`, from, to: 'GB', ...stated(terms) }));

const rate = (code: string, currency: string, on: string, rates: readonly string[]) =>
  maybe(fc.constantFrom(...rates).map((amount) => ({ code, currency, on, rate: amount })));

const present = <T>(list: readonly (T | undefined)[]) => list.flatMap((item) => item ?? []);

/** Without the fields that are undefined. */
export function stated<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)) as T;
}

const stock = (pieces: readonly string[], lengths: readonly string[]) =>
  fc
    .array(
      fc.record({
        part: fc.constantFrom(...pieces, ...lengths),
        count: fc.integer({ min: 1, max: 12 }),
        lengthMm: fc.integer({ min: 1, max: 12_000 }),
      }),
      { maxLength: 4 },
    )
    .map((list) =>
      list.map(({ part, count, lengthMm }, index) => {
        const common = { code: `shelf-${index}`, part, count };
        return lengths.includes(part)
          ? { ...common, form: 'length' as const, lengthMm }
          : { ...common, form: 'pieces' as const };
      }),
    );

const WAVES = [
  [1, 1, 2],
  [1, 2, 2],
  [2, 1, 1],
  [1, 2, 3],
] as const;

/** What is asked beside the looms; `suppliers` and `offers` are the codes that it may name. */
export function terms(
  suppliers: readonly string[],
  pinnable: readonly string[],
  pieces: readonly string[],
  lengths: readonly string[],
): fc.Arbitrary<Given & { pin: [part: string, offer: number] | undefined }> {
  const supplier = fc.constantFrom(...suppliers);
  return fc
    .record({
      country: fc.constantFrom('GB', 'GB', 'GB', undefined),
      // Half of the time a whole family stands in for another.
      standIns: fc
        .tuple(fits(4, status), fc.boolean())
        .map(([list, whole]) =>
          whole ? [...WHOLE_FAMILY, ...list.filter(({ from }) => !FAMILY_B.has(from))] : list,
        ),
      fits: fits(3, fc.constantFrom('confirmed', 'proposed', 'refuted')),
      rates: fc.tuple(
        rate('e1', 'EUR', '2026-01-05', ['0.85123457']),
        fc.constantFrom(
          { code: 'e2', currency: 'EUR', on: '2026-02-20', rate: '0.85' },
          { code: 'e2', currency: 'EUR', on: '2026-03-02', rate: '0.83333333' },
        ),
        rate('e3', 'EUR', '2026-03-03', ['5']),
        rate('j1', 'JPY', '2026-03-01', ['0.0053', '0.00512345', '0.0052']),
      ),
      lanes: fc.tuple(
        maybe(lane('DE')),
        maybe(lane('JP')),
        maybe(percent.map((taxPercent) => ({ code: 'lane-GB', from: 'GB', to: 'GB', taxPercent }))),
      ),
      stock: stock(pieces, lengths),
      pin: seldom(
        fc.tuple(fc.constantFrom(...pinnable), fc.nat({ max: 30 })).map((pin): [string, number] => pin),
      ),
      waves: fc.option(fc.constantFrom(...WAVES), { nil: undefined, freq: 2 }),
      samples: seldom(fc.integer({ min: 1, max: 5 })),
      neededBy: fc.option(fc.constantFrom('2026-03-05', '2026-03-12'), { nil: undefined, freq: 2 }),
      atMostSuppliers: seldom(fc.integer({ min: 1, max: 2 })),
      shut: seldom(supplier),
      insisted: seldom(supplier),
      nuisance: seldom(anyMoney(400)),
      useStock: seldom(fc.boolean()),
      accepted: seldom(fc.subarray(['confirmed' as const, 'proposed' as const])),
    })
    .map(({ rates, lanes, samples, shut, insisted, nuisance, accepted, useStock, ...rest }) => {
      const { neededBy, atMostSuppliers, ...lists } = rest;
      return {
        ...lists,
        rates: present(rates),
        lanes: present(lanes),
        request: stated({
          samples: rest.waves && samples,
          neededBy,
          atMostSuppliers,
          shutOut: shut === undefined ? undefined : [shut],
          insistOn: insisted === undefined || insisted === shut ? undefined : [insisted],
          parcelNuisance: nuisance,
          useStock,
          settings: accepted && { standInsAccepted: accepted },
        }),
      };
    });
}
