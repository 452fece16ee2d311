import fc from 'fast-check';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { offerParts } from '../../worker/engine/model/offer.ts';
import { BY_LENGTH, CATALOGUE, COLOURS, COUNTED, SIZES } from './arbitraryCatalogue.ts';
import { LENGTHS, offers, SOLD_BY_COUNT, supplier, SUPPLIERS } from './arbitraryOffers.ts';
import { maybe, stated as defined, terms } from './arbitraryTerms.ts';
import { mm2 } from './fixtures.ts';

type LoomInput = JobInput['looms'][number];
type EndInput = NonNullable<LoomInput['wires']>[number]['from'];

const POINTS = ['A', 'B', 'C'] as const;

const supply = fc.oneof(
  { weight: 5, arbitrary: fc.constant('buy' as const) },
  fc.constantFrom('reuse' as const, 'stock' as const, 'ownerSupplies' as const),
);

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

const PLAIN = {
  country: undefined,
  standIns: [],
  fits: [],
  rates: [
    { code: 'e', currency: 'EUR', on: '2026-02-20', rate: '0.85' },
    { code: 'j', currency: 'JPY', on: '2026-02-20', rate: '0.0053' },
  ],
  lanes: [],
  stock: [],
  request: {},
  waves: undefined,
  pin: undefined,
};

/** Small whole jobs of every sort that this engine works: two looms, some of whose wires and parts nobody sells. */
export const arbitraryJob: fc.Arbitrary<Job> = fc
  .record({
    looms: fc.tuple(loom('one'), loom('two')),
    suppliers: fc.tuple(...SUPPLIERS.map(supplier)),
    offers,
    quantities: fc.tuple(fc.integer({ min: 1, max: 3 }), maybe(fc.integer({ min: 1, max: 2 }))),
    given: fc.oneof(fc.constant(PLAIN), {
      weight: 3,
      arbitrary: terms(SUPPLIERS, [...COUNTED, 'braid', 'red-1'], SOLD_BY_COUNT, LENGTHS),
    }),
  })
  .map(({ looms, suppliers, offers: offeredAt, quantities: [one, two], given }) => {
    const { standIns, pin, waves, request, country, ...lists } = given;
    const offered = offeredAt(new Map(suppliers.map(({ code, currency }) => [code, currency])));
    // An offer of the part, where there is one.
    const sold = pin && offered.filter((offer) => offerParts(offer).some(({ part }) => part === pin[0]));
    const pinned = pin && (sold?.[pin[1] % sold.length] ?? offered[pin[1] % offered.length]);
    return Job.parse({
      format: 'loomwright-job',
      version: 1,
      asOf: '2026-03-02',
      club: defined({ currency: 'GBP', country, settings: { besideSeconds: 0 } }),
      ...lists,
      parts: CATALOGUE.map((part) => {
        const own = standIns.filter(({ from }) => from === part.code);
        return own.length === 0
          ? part
          : {
              ...part,
              standsInFor: own.map(({ to, status }) => ({
                part: to,
                ...(status === 'confirmed' ? { confirmedBy: 'A member' } : {}),
              })),
            };
      }),
      suppliers,
      offers: offered,
      looms,
      request: {
        ...request,
        ...(pin && pinned ? { pinned: [{ part: pin[0], offer: pinned.code }] } : {}),
        looms: waves
          ? [
              { loom: 'one', quantity: one, wave: waves[0] },
              { loom: 'two', quantity: two ?? 1, wave: waves[1] },
              ...(waves[2] === waves[0] ? [] : [{ loom: 'one', quantity: 1, wave: waves[2] }]),
            ]
          : [{ loom: 'one', quantity: one }, ...(two === undefined ? [] : [{ loom: 'two', quantity: two }])],
      },
    } satisfies JobInput);
  });

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
