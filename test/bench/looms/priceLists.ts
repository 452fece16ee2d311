import type { JobInput } from '../../../worker/engine/model/job.ts';
import type { Random } from '../../sourcing/random.ts';
import { pence } from '../pence.ts';
import type { Item } from './catalogue.ts';
import { some } from './members.ts';
import type { Seller } from './sellers.ts';

export type Offer = JobInput['offers'][number];

/** What a unit of so many pieces or metres costs apiece, against one: 50 come for about two thirds. */
const bulk = (count: number) => count ** -0.1;
const isByLength = ({ group }: Item) => group === 'wire' || group === 'sleeve';

/** No piece of a loom is as long. */
const LONG_ENOUGH_MM = 5_000;

/**
 * Each shop's list of what it sells of the items, so many of a hundred of what its kind sells; what nobody has without end,
 * the first shop has.
 */
export function priceListsOf(
  items: readonly Item[],
  sellers: readonly Seller[],
  percent: number,
  random: Random,
): Offer[] {
  const lists = sellers.flatMap((seller) => [
    ...items.flatMap((item) =>
      random.percent(((seller.role.sells[item.group] ?? 0) * percent) / 100)
        ? offersOf(item, seller, random)
        : [],
    ),
    ...kitsOf(items, seller, random),
  ]);
  const [first] = sellers;
  if (!first) return lists;
  const endless = new Set(
    lists.flatMap((offer) => (offer.form !== 'kit' && isEndless(offer) ? [offer.part] : [])),
  );
  const sold = new Set(lists.map(({ code }) => code));
  const plain = { ...first, role: { ...first.role, byTheMetre: 100, hanksM: [], packs: [1] } };
  return [
    ...lists,
    ...items
      .filter(({ part }) => !endless.has(part.code))
      .flatMap((item) => offersOf(item, plain, random, false))
      .map((offer) => (sold.has(offer.code) ? { ...offer, code: `${offer.code}-more` } : offer)),
  ];
}

/** Whether it meets a requirement of any size. */
function isEndless(offer: Offer): boolean {
  if (offer.form === 'metre') return true;
  return offer.stockPacks === undefined && (offer.form !== 'length' || offer.nominalMm >= LONG_ENOUGH_MM);
}

function offersOf(item: Item, seller: Seller, random: Random, mayEnd = true): Offer[] {
  return isByLength(item) ? lengthsOf(item, seller, random) : packsOf(item, seller, random, mayEnd);
}

/** A price about what so many are worth. */
const about = (worth: number, { level }: Seller, random: Random) =>
  Math.max(1, Math.round((worth * level * random.whole(95, 105)) / 10_000));

/** From so many on, so much off, to a tenth of a penny. */
const off = (price: number, percent: number) => pence(Math.round(price * (100 - percent)) / 100);

function lengthsOf({ part, pence: worth }: Item, seller: Seller, random: Random): Offer[] {
  const { supplier, role } = seller;
  const named = (what: string) => ({
    code: `${supplier.code}-${part.code}-${what}`,
    supplier: supplier.code,
    part: part.code,
  });
  const hanks = some(
    role.hanksM,
    random.whole(1, Math.min(random.pick([1, 2, 3]), role.hanksM.length)),
    random,
  );
  // Whoever has no hank of it has it by the metre.
  const metre =
    hanks.length === 0 || random.percent(role.byTheMetre) ? about(worth, seller, random) : undefined;
  const [tolerancePercent, endLossMm] = random.pick([
    [0, 0],
    [0, 0],
    [2, 50],
  ] as const);
  return [
    ...(metre === undefined
      ? []
      : [
          {
            form: 'metre' as const,
            ...named('m'),
            pricePerMetre: pence(metre),
            minimumMm: random.pick([500, 1_000, 1_000]),
            stepMm: random.pick([500, 1_000]),
            ...(random.percent(50)
              ? { breaks: [{ fromMm: random.pick([10_000, 25_000]), pricePerMetre: off(metre, 10) }] }
              : {}),
          },
        ]),
    ...hanks.map((metres) => {
      const price = about(worth * metres * bulk(metres), seller, random);
      return {
        form: 'length' as const,
        ...named(`${metres}m`),
        nominalMm: metres * 1_000,
        tolerancePercent,
        endLossMm: metres > 1 ? endLossMm : 0,
        packPrice: pence(price),
        ...(random.percent(30)
          ? { breaks: [{ fromPacks: random.pick([2, 3, 5]), packPrice: off(price, 7) }] }
          : {}),
      };
    }),
  ];
}

function packsOf(
  { part, group, pence: worth }: Item,
  seller: Seller,
  random: Random,
  mayEnd: boolean,
): Offer[] {
  const { supplier, role } = seller;
  // What is dear is sold by the piece.
  const fitting = role.packs.filter((count) => worth * count <= 3_000);
  const packs = fitting.length === 0 || group === 'device' || group === 'tool' ? [1] : fitting;
  return some(packs, random.percent(35) ? 2 : 1, random).map((packCount): Offer => {
    const price = about(worth * packCount * bulk(packCount), seller, random);
    const from = random.whole(2, 5);
    const lots = mayEnd && packCount <= 10 && random.percent(8) ? 2 : 1;
    return {
      form: 'pack',
      code: `${supplier.code}-${part.code}-${packCount}`,
      supplier: supplier.code,
      part: part.code,
      packCount,
      packPrice: pence(price),
      ...(lots > 1 ? { minimumPacks: lots, stepPacks: lots } : {}),
      ...(group !== 'tool' && random.percent(40)
        ? {
            breaks: [
              { fromPacks: lots * from, packPrice: off(price, 6) },
              ...(random.percent(40) ? [{ fromPacks: lots * from * 3, packPrice: off(price, 12) }] : []),
            ],
          }
        : {}),
      ...(mayEnd && random.percent(8)
        ? { stockPacks: lots * random.whole(1, 6), condition: 'oldStock' as const }
        : {}),
    };
  });
}

/** Assortments of one kind of terminal, of covers with their blades, of grommets and clips. */
const KITS: readonly (readonly [name: string, holds: RegExp])[] = [
  ['rings', /^ring-\d-(thin|thick)$/],
  ['bullets', /^(bullet-(thin|thick)|joiner-.)$/],
  ['blades', /^(blade-(thin|thick)|cover)$/],
  ['thin', /^(ring-[56]|blade|bullet)-thin$/],
  ['grommets', /^(grommet-\d+|clip-\d+)$/],
  ['connectors', /^(duo|quad)-/],
];

function kitsOf(items: readonly Item[], seller: Seller, random: Random): Offer[] {
  const { supplier, role } = seller;
  return some(KITS, role.kits, random).flatMap(([name, holds]): Offer[] => {
    const held = items.filter(({ part }) => holds.test(part.code));
    if (held.length < 2) return [];
    const contents = held.map((item) => {
      const { part } = item;
      const quantity = part.kind === 'housing' ? random.whole(2, 5) : 5 * random.whole(1, 8);
      return { item, quantity };
    });
    const worth = contents.reduce((sum, { item, quantity }) => sum + item.pence * quantity, 0);
    return [
      {
        form: 'kit',
        code: `${supplier.code}-kit-${name}`,
        supplier: supplier.code,
        contents: contents.map(({ item, quantity }) => ({ part: item.part.code, quantity })),
        // Nobody needs all of an assortment, so that it has to be cheap.
        packPrice: pence(about(worth * 0.62, seller, random)),
      },
    ];
  });
}
