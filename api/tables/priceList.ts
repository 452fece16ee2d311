import { z } from 'zod';
import type { ClubCtx, Ctx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import { codesOfSupplier, removeOffers } from '../../db/offers.ts';
import { suppliers } from '../../db/suppliers.ts';
import { pointer, type Finding } from '../../worker/engine/model/finding.ts';
import { MoneyOut } from '../../worker/engine/model/money.ts';
import { offerCurrency, type Offer } from '../../worker/engine/model/offer.ts';
import {
  percentBetween,
  PRICE_UNITS,
  samePrice,
  unitOf,
  unitPrices,
} from '../../worker/engine/model/offerPrice.ts';
import { compareFractions, type Fraction } from '../../worker/engine/units/fraction.ts';
import { minorToPrice } from '../../worker/engine/units/money.ts';
import type { Thing } from '../../worker/tables/importTable.ts';
import { imported, inBulk, type Onlooker } from './importEntries.ts';
import { OffersQuery } from './query.ts';
import { TableImport } from './summary.ts';

export const PriceListQuery = OffersQuery.omit({ supplier: true, onlyNew: true }).extend({
  gone: z.enum(['tell', 'remove']).default('tell').meta({
    description:
      'What becomes of offers of this supplier that the list does not have. tell: they stay. remove: they are removed, if the list was read to its end and has no faults; their prices stay in the price course.',
  }),
});
export type PriceListQuery = z.infer<typeof PriceListQuery>;

const count = z.int().min(0);

const PriceChange = z.strictObject({
  offer: z.string(),
  what: z.enum(['rises', 'falls', 'new']),
  unit: z.enum(PRICE_UNITS).meta({ description: 'What the prices are for.' }),
  before: MoneyOut.optional(),
  after: MoneyOut,
  percent: z.string().optional().meta({ example: '12.5' }),
});

/** What came of a supplier's price list. */
export const PriceListImport = z
  .strictObject({
    ...TableImport.shape,
    rises: count,
    falls: count,
    otherwise: count.meta({
      description: 'Changed in another way: the pack, a price break, the stock, the words.',
    }),
    seenAgain: count.meta({ description: 'At the same price, with a newer day.' }),
    gone: count.meta({ description: 'How many offers of this supplier the list does not have.' }),
    goneCodes: z.array(z.string()).meta({ description: 'The first 200 of them.' }),
    removed: count.meta({ description: 'How many of these were removed.' }),
    prices: z.array(PriceChange).meta({
      description: 'What rises and falls, the largest changes first, then what is new. As many as `rows`.',
    }),
  })
  .meta({ id: 'PriceListImport' });
export type PriceListImport = z.infer<typeof PriceListImport>;

/** Most codes that are told of what is gone. */
const MOST_CODES = 200;
/** Codes that are read at once. */
const PAGE = 1_000;

interface Asked {
  supplier: string;
  file: string;
  query: PriceListQuery;
}

/**
 * Brings a supplier's price list into the club in one transaction, and says what rises, falls, is new and is gone; a preview
 * does the same and undoes it. Error: NotFound.
 */
export function importPriceList(database: Database, base: ClubCtx, asked: Asked): Promise<PriceListImport> {
  return inBulk(database, base, asked.query, (ctx) => listImported(ctx, asked));
}

async function listImported(ctx: Ctx, { supplier, file, query }: Asked): Promise<PriceListImport> {
  await suppliers.get({ ctx, input: { code: supplier } });
  const { gone, ...reading } = query;
  const changes = new Changes(supplier, query.rows);
  // A list says what holds on the day on which it comes.
  const usual = { supplier, seenOn: query.seenOn ?? ctx.now().toISOString().slice(0, 10) };
  const told = await imported(ctx, 'offers', file, { ...reading, ...usual }, changes);
  const clean = told.complete && told.faults === 0 && told.file.length === 0;
  const missing = await notNamed(ctx, supplier, changes.codes, gone === 'remove' && clean);
  return { ...told, ...changes.told(), ...missing };
}

/** Offers of a supplier that a list does not have; removed where that is asked. */
async function notNamed(ctx: Ctx, supplier: string, named: ReadonlySet<string>, remove: boolean) {
  const told = { gone: 0, goneCodes: [] as string[], removed: 0 };
  let after: string | undefined;
  do {
    const page = await codesOfSupplier({ ctx, input: { supplier, limit: PAGE, after } });
    const codes = page.items.filter((code) => !named.has(code));
    told.gone += codes.length;
    told.goneCodes.push(...codes.slice(0, MOST_CODES - told.goneCodes.length));
    if (remove) {
      await removeOffers({ ctx, input: { codes } });
      told.removed += codes.length;
    }
    after = page.next ?? undefined;
  } while (after !== undefined);
  return told;
}

type Change = z.infer<typeof PriceChange>;

/** Watches a price list go by, and keeps the largest changes. */
class Changes implements Onlooker {
  readonly codes = new Set<string>();
  readonly #supplier: string;
  readonly #most: number;
  readonly #counts = { rises: 0, falls: 0, otherwise: 0, seenAgain: 0 };
  #moved: Change[] = [];
  readonly #fresh: Change[] = [];

  constructor(supplier: string, most: number) {
    this.#supplier = supplier;
    this.#most = most;
  }

  named(keys: readonly string[]): void {
    for (const key of keys) this.codes.add(key);
  }

  against({ thing, before }: Thing): Finding[] {
    const stored = before as Offer | undefined;
    const [{ supplier }, code] = [thing as unknown as Offer, this.#supplier];
    if (stored && stored.supplier !== code)
      return [
        otherSupplier(
          stored.supplier,
          `This offer is one of ${stored.supplier}, and the list is of ${code}. Give it another code, or leave it out.`,
        ),
      ];
    return supplier === code
      ? []
      : [
          otherSupplier(
            supplier,
            `The list is of ${code}. Leave the supplier empty, or send the row with the list of ${supplier}.`,
          ),
        ];
  }

  writes(things: readonly Thing[]): void {
    for (const { thing, before } of things)
      this.#take(thing as unknown as Offer, before as Offer | undefined);
    if (this.#moved.length > 2 * this.#most) this.#moved = this.#largest();
  }

  #take(after: Offer, before: Offer | undefined): void {
    const now = unitPrices(after).first;
    const head = { offer: after.code, unit: unitOf(after), after: money(now, after) };
    if (!before) {
      if (this.#fresh.length < this.#most) this.#fresh.push({ ...head, what: 'new' });
      return;
    }
    const isAlike = unitOf(before) === head.unit && offerCurrency(before) === offerCurrency(after);
    const then = unitPrices(before).first;
    const moved = isAlike ? compareFractions(now, then) : 0;
    if (moved !== 0) {
      const what = moved > 0 ? 'rises' : 'falls';
      const percent = percentBetween(then, now);
      this.#counts[what]++;
      this.#moved.push({
        ...head,
        what,
        before: money(then, before),
        ...(percent === undefined ? {} : { percent }),
      });
    } else if (isAlike && samePrice(before, after) && before.seenOn !== after.seenOn)
      this.#counts.seenAgain++;
    else this.#counts.otherwise++;
  }

  #largest(): Change[] {
    const size = ({ percent }: Change) => (percent === undefined ? Infinity : Math.abs(Number(percent)));
    return this.#moved.sort((a, b) => size(b) - size(a) || (a.offer < b.offer ? -1 : 1)).slice(0, this.#most);
  }

  told() {
    return { ...this.#counts, prices: [...this.#largest(), ...this.#fresh].slice(0, this.#most) };
  }
}

const money = (minor: Fraction, offer: Offer) => ({
  amount: minorToPrice(minor, offerCurrency(offer)),
  currency: offerCurrency(offer),
});

const otherSupplier = (found: string, todo: string): Finding => ({
  code: 'other-supplier',
  severity: 'stop',
  at: pointer(['supplier']),
  where: 'supplier',
  found: JSON.stringify(found),
  todo,
});
