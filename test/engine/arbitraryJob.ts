import fc from 'fast-check';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { gbp, mm2 } from './fixtures.ts';

type LoomInput = JobInput['looms'][number];
type EndInput = NonNullable<LoomInput['wires']>[number]['from'];

const COUNTED = ['ring', 'bullet', 'seal', 'boot', 'tie'] as const;
const BY_LENGTH = ['braid', 'spool'] as const;
const COLOURS = ['red', 'green', 'black'] as const;
const SIZES = [1, 2] as const;
const POINTS = ['A', 'B', 'C'] as const;

const supply = fc.oneof(
  { weight: 5, arbitrary: fc.constant('buy' as const) },
  fc.constantFrom('reuse' as const, 'stock' as const, 'ownerSupplies' as const),
);
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
const defined = <T extends object>(value: T) =>
  Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)) as T;

const use = (parts: readonly string[]) => fc.record({ part: fc.constantFrom(...parts), supply });

/** Ends that share a terminal all state the same one, as the model asks; some leave it to the others. */
const end: fc.Arbitrary<EndInput> = fc
  .record({
    point: fc.constantFrom(...POINTS),
    join: fc.constantFrom('crimp' as const, 'solder' as const, 'bare' as const),
    terminal: maybe(use(['ring', 'bullet', 'braid'])),
    seal: maybe(use(['seal'])),
    cover: maybe(use(['boot'])),
    label: maybe(use(['tie', 'spool'])),
    sharesTerminal: maybe(fc.constantFrom('x', 'y')),
    stripMm: maybe(fc.integer({ min: 0, max: 20 })),
    tailMm: maybe(fc.integer({ min: 0, max: 60 })),
  })
  .map((given) =>
    defined(
      given.sharesTerminal !== undefined && given.terminal
        ? { ...given, terminal: { part: `ring`, supply: 'buy' as const } }
        : given,
    ),
  );

const wire = (id: string) =>
  fc
    .record({
      cableType: fc.constantFrom('thin-wall', 'pvc'),
      areaMm2: fc.constantFrom(...SIZES),
      base: fc.constantFrom(...COLOURS),
      supply,
      from: end,
      to: end,
      length: maybe(
        fc.record({
          mm: fc.integer({ min: 1, max: 9000 }),
          basis: fc.constantFrom('route' as const, 'sheathToSheath' as const, 'tipToTip' as const),
        }),
      ),
      fixed: maybe(fc.constant({ fixedMm: 100 })),
      core: maybe(fc.constant('cable')),
      amps: maybe(fc.integer({ min: 1, max: 20 })),
    })
    .map(({ areaMm2, base, fixed, core, ...rest }) =>
      defined({
        ...rest,
        id,
        size: mm2(areaMm2),
        colour: { base },
        function: rest.length && rest.length.mm % 5 === 0 ? fixed : undefined,
        inCable: rest.length && rest.length.mm % 7 === 0 ? core : undefined,
      }),
    );

const loom = (code: string) =>
  fc
    .record({
      wires: fc
        .integer({ min: 1, max: 6 })
        .chain((count) => fc.tuple(...Array.from({ length: count }, (_, index) => wire(`w${index}`)))),
      pointParts: fc.array(maybe(use([...COUNTED, ...BY_LENGTH])), { minLength: 3, maxLength: 3 }),
      fittings: fc.array(
        fc.record({ part: fc.constantFrom(...COUNTED), supply, quantity: fc.integer({ min: 1, max: 4 }) }),
        { maxLength: 3 },
      ),
      parts: fc.array(
        fc.record({
          part: fc.constantFrom(...COUNTED, ...BY_LENGTH),
          supply,
          quantity: fc.integer({ min: 1, max: 30 }),
        }),
        { maxLength: 3 },
      ),
      coverings: fc.array(
        fc.record({
          part: maybe(fc.constantFrom(...BY_LENGTH, 'tie')),
          supply,
          lengthMm: fc.integer({ min: 1, max: 4000 }),
          overlapEndMm: fc.constantFrom(0, 20),
        }),
        { maxLength: 3 },
      ),
      cable: fc.record({
        part: maybe(fc.constant('twin')),
        supply,
        length: maybe(
          fc.record({ mm: fc.integer({ min: 1, max: 5000 }), basis: fc.constant('route' as const) }),
        ),
      }),
      settings: maybe(
        fc.record({
          slackPercent: fc.constantFrom(0, 2.5, 7),
          cuttingStepMm: fc.constantFrom(1, 5, 10),
          sparePercent: fc.constantFrom(0, 5, 33.3333),
          spareMinimum: fc.integer({ min: 0, max: 3 }),
        }),
      ),
    })
    .map(({ wires, pointParts, fittings, parts, settings, coverings, cable }): LoomInput => ({
      code,
      name: `Loom ${code}`,
      ...(settings ? { settings } : {}),
      points: POINTS.map((id, index) => ({ id, kind: 'connector' as const, ...pointParts[index] })),
      cables: [defined({ id: 'cable', ...cable })],
      coverings: coverings.map((covering, index) =>
        defined({ ...covering, id: `c${index}`, kind: 'other' as const }),
      ),
      wires: wires,
      fittings,
      parts,
    }));

const supplier = (code: string) =>
  fc
    .record({
      charge: fc.integer({ min: 0, max: 600 }),
      free: maybe(fc.integer({ min: 100, max: 3000 })),
      minimum: maybe(fc.integer({ min: 100, max: 1500 })),
      handling: maybe(fc.integer({ min: 1, max: 200 })),
      byWeight: fc.boolean(),
    })
    .map(({ charge, free, minimum, handling, byWeight }) => ({
      code,
      name: `Supplier ${code}`,
      currency: 'GBP',
      ...(minimum === undefined ? {} : { minimumOrder: pence(minimum) }),
      ...(handling === undefined ? {} : { handling: pence(handling) }),
      postage: byWeight
        ? {
            by: 'weight' as const,
            bands: [
              { fromG: 0, charge: pence(charge) },
              { fromG: 20, charge: pence(charge + 100) },
            ],
            ...(free === undefined ? {} : { freeFromValue: pence(free) }),
          }
        : {
            by: 'value' as const,
            bands: [
              { fromValue: gbp('0'), charge: pence(charge) },
              ...(free === undefined ? [] : [{ fromValue: pence(free), charge: gbp('0') }]),
            ],
          },
    }));

function pence(count: number) {
  return gbp((count / 100).toFixed(2));
}

const WIRE_PARTS = COLOURS.flatMap((base) =>
  SIZES.map((areaMm2) => ({ code: `${base}-${areaMm2}`, base, areaMm2 })),
);
const SUPPLIERS = ['s0', 's1', 's2'] as const;
const price = fc
  .integer({ min: 1, max: 40_000 })
  .map((tenThousandths) => gbp((tenThousandths / 10_000).toFixed(4)));

const offers = fc
  .array(
    fc.record({
      supplier: fc.constantFrom(...SUPPLIERS),
      part: fc.constantFrom(...COUNTED, ...BY_LENGTH, 'twin', ...WIRE_PARTS.map(({ code }) => code)),
      kit: fc.constantFrom(false, false, false, true),
      length: fc.boolean(),
      breakAt: maybe(fc.integer({ min: 1, max: 6 })),
      step: fc.constantFrom(1, 1, 2),
      stock: maybe(fc.integer({ min: 0, max: 12 })),
      condition: fc.constantFrom('new' as const, 'new' as const, 'oldStock' as const, 'used' as const),
      price,
      size: fc.constantFrom(1, 5, 10, 25),
      minimum: fc.integer({ min: 1, max: 3 }),
    }),
    { maxLength: 14 },
  )
  .map((list) =>
    list.map(
      (
        { supplier: from, part, price: each, size, minimum, kit, length, breakAt, step, stock, condition },
        index,
      ) => {
        const common = { code: `o${index}`, supplier: from, condition };
        const cheaper = gbp((Number(each.amount) * 0.8).toFixed(4));
        const packed = {
          packPrice: each,
          minimumPacks: minimum,
          stepPacks: step,
          ...(stock === undefined ? {} : { stockPacks: stock }),
          ...(breakAt === undefined
            ? {}
            : { breaks: [{ fromPacks: minimum + breakAt, packPrice: cheaper }] }),
        };
        if (kit)
          return {
            ...common,
            ...packed,
            form: 'kit' as const,
            contents: [
              { part, quantity: size },
              ...COUNTED.filter((other) => other !== part)
                .slice(0, 2)
                .map((other) => ({ part: other, quantity: minimum })),
            ],
          };
        if ((COUNTED as readonly string[]).includes(part))
          return { ...common, ...packed, part, form: 'pack' as const, packCount: size };
        if (length)
          return {
            ...common,
            ...packed,
            part,
            form: 'length' as const,
            nominalMm: size * 500,
            tolerancePercent: 2,
            endLossMm: 10,
          };
        return {
          ...common,
          part,
          form: 'metre' as const,
          pricePerMetre: each,
          stepMm: size * 100,
          minimumMm: minimum * 500,
          ...(stock === undefined ? {} : { stockMm: stock * 2000 }),
          ...(breakAt === undefined
            ? {}
            : { breaks: [{ fromMm: minimum * 500 + breakAt * 1000, pricePerMetre: cheaper }] }),
        };
      },
    ),
  );

/** Small whole jobs of every sort that this engine works: two looms, some of whose wires and parts nobody sells. */
export const arbitraryJob: fc.Arbitrary<Job> = fc
  .record({
    looms: fc.tuple(loom('one'), loom('two')),
    suppliers: fc.tuple(...SUPPLIERS.map(supplier)),
    offers,
    quantities: fc.tuple(fc.integer({ min: 1, max: 3 }), maybe(fc.integer({ min: 1, max: 2 }))),
  })
  .map(({ looms, suppliers, offers: sold, quantities: [one, two] }) =>
    Job.parse({
      format: 'loomwright-job',
      version: 1,
      asOf: '2026-03-02',
      club: { currency: 'GBP' },
      parts: [
        { kind: 'terminal', code: 'ring', description: 'Ring', terminalType: 'ring', weightG: 2.25 },
        { kind: 'terminal', code: 'bullet', description: 'Bullet', terminalType: 'bullet' },
        { kind: 'seal', code: 'seal', description: 'Seal' },
        { kind: 'boot', code: 'boot', description: 'Boot' },
        { kind: 'fitting', code: 'tie', description: 'Tie', fittingType: 'tie' },
        { kind: 'sleeve', code: 'braid', description: 'Braid', sleeveType: 'braided' },
        {
          kind: 'cable',
          code: 'twin',
          description: 'Twin',
          cableType: 'pvc',
          cores: [{ size: mm2(1), colour: { base: 'red' } }],
          gramsPerM: 30.5,
        },
        { kind: 'tape', code: 'spool', description: 'Tape', tapeType: 'cloth', widthMm: 19 },
        ...WIRE_PARTS.map(({ code, base, areaMm2 }) => ({
          kind: 'wire',
          code,
          description: `Wire ${code}`,
          cableType: 'thin-wall',
          size: mm2(areaMm2),
          colour: { base },
          gramsPerM: 12.5,
        })),
      ],
      suppliers,
      offers: sold,
      looms,
      request: {
        looms: [
          { loom: 'one', quantity: one },
          ...(two === undefined ? [] : [{ loom: 'two', quantity: two }]),
        ],
      },
    }),
  );

const ORDERED = new Set(['bands', 'breaks', 'via', 'over', 'pins', 'cores', 'shortensTo']);

/** The same document with every list whose order means nothing in another order. */
export function shuffled<T>(value: T, random: () => number, key = ''): T {
  if (Array.isArray(value)) {
    const list = value.map((item: unknown) => shuffled(item, random));
    if (!ORDERED.has(key))
      for (let at = list.length - 1; at > 0; at--) {
        const other = Math.floor(random() * (at + 1));
        [list[at], list[other]] = [list[other], list[at]];
      }
    return list as T;
  }
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(
    ([name, inner]) => [name, shuffled(inner, random, name)] as const,
  );
  return Object.fromEntries(entries.reverse()) as T;
}
