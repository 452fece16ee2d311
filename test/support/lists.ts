import fc from 'fast-check';
import { bulkFits } from '../../db/fits.ts';
import { offers } from '../../db/offers.ts';
import { parts } from '../../db/parts.ts';
import { suppliers } from '../../db/suppliers.ts';
import { Fit } from '../../worker/engine/model/fit.ts';
import { Offer, offerParts } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import type { TestClub } from './house.ts';

/** Small catalogues with equal names, days and moments, and what every list of them has to give, worked out in code. */

/** The day on which the offers are looked at. */
export const TODAY = '2026-11-20';

const CODES = ['A', 'B', 'a', 'a-1', 'a.1', 'b', 'b_2', 'c', 'z'];
const MOMENTS = ['2026-11-01T08:00:00.000Z', '2026-11-01T08:00:00.001Z', '2026-10-31T23:59:59.999Z'];
const DAYS = [undefined, '2026-11-20', '2026-11-18', '2026-11-17', '2025-01-01'];
const NAMES = ['Ring', 'ring', 'Étain', 'ring, brass', 'Ring 10', 'zinc', '“Boot”', 'boot'];
const KINDS = ['boot', 'housing'] as const;

const index = (length: number) => fc.nat({ max: length - 1 });
/** What fast-check draws. */
export const drawnCatalogue = {
  parts: fc.array(fc.record({ name: index(NAMES.length), kind: index(2), at: index(3) }), {
    minLength: 2,
    maxLength: CODES.length,
  }),
  offers: fc.array(
    fc.record({
      sells: fc.uniqueArray(index(CODES.length), { minLength: 1, maxLength: 3 }),
      supplier: index(2),
      seen: index(DAYS.length),
      at: index(3),
    }),
    { maxLength: CODES.length },
  ),
  fits: fc.uniqueArray(
    fc.record({
      from: index(CODES.length),
      relation: fc.constantFrom('mates' as const, 'takes' as const),
      to: index(CODES.length),
      status: fc.constantFrom('proposed' as const, 'refuted' as const),
      at: index(3),
    }),
    { maxLength: 8 },
  ),
};

interface Stored<B> {
  body: B;
  at: string;
}

const nth = <T>(list: readonly T[], at: number): T => list[at % list.length] as T;

/** A catalogue out of what fast-check drew, with the moment at which each entry was changed last. */
export function catalogueOf(drawn: {
  parts: { name: number; kind: number; at: number }[];
  offers: { sells: number[]; supplier: number; seen: number; at: number }[];
  fits: { from: number; relation: Fit['relation']; to: number; status: Fit['status']; at: number }[];
}) {
  const at = (one: { at: number }) => nth(MOMENTS, one.at);
  const partList: Stored<Part>[] = drawn.parts.map((part, which) => {
    const kind = nth(KINDS, part.kind);
    const common = { code: nth(CODES, which), description: nth(NAMES, part.name) };
    return {
      at: at(part),
      body: Part.parse({ kind, ...common, ...(kind === 'housing' ? { ways: 2 } : {}) }),
    };
  });
  const partAt = (which: number) => nth(partList, which).body.code;
  const offerList: Stored<Offer>[] = drawn.offers.map((offer, which) => {
    const sold = [...new Set(offer.sells.map(partAt))];
    const seenOn = nth(DAYS, offer.seen);
    const common = {
      code: `o-${nth(CODES, which)}`,
      supplier: nth(['s-1', 's-2'], offer.supplier),
      ...(seenOn === undefined ? {} : { seenOn }),
    };
    const price = { amount: '2.00', currency: 'GBP' };
    return {
      at: at(offer),
      body: Offer.parse(
        sold.length === 1
          ? { form: 'pack', ...common, part: sold[0], packCount: 1, packPrice: price }
          : {
              form: 'kit',
              ...common,
              contents: sold.map((part) => ({ part, quantity: 1 })),
              packPrice: price,
            },
      ),
    };
  });
  const pairs = new Map<string, Stored<Fit>>();
  for (const fit of drawn.fits) {
    const [from, to] = [partAt(fit.from), partAt(fit.to)];
    const body = { from, relation: fit.relation, to, status: fit.status };
    if (from !== to) pairs.set(`${from}/${fit.relation}/${to}`, { at: at(fit), body: Fit.parse(body) });
  }
  return { parts: partList, offers: offerList, fits: [...pairs.values()] };
}

type Catalogue = ReturnType<typeof catalogueOf>;

/** Puts it into a club, each entry at its moment. */
export async function stored(club: TestClub, all: Catalogue): Promise<void> {
  await club.run(async (ctx) => {
    const asOf = (at: string) => ({ ...ctx, now: () => new Date(at) });
    const fresh = <B>(body: B) => [{ body, before: undefined }];
    for (const code of ['s-1', 's-2'])
      await suppliers.bulk.write({
        ctx,
        input: fresh(Supplier.parse({ code, name: code, currency: 'GBP' })),
      });
    for (const { at, body } of all.parts) await parts.bulk.write({ ctx: asOf(at), input: fresh(body) });
    for (const { at, body } of all.offers) await offers.bulk.write({ ctx: asOf(at), input: fresh(body) });
    for (const { at, body } of all.fits) await bulkFits.write({ ctx: asOf(at), input: fresh(body) });
  });
}

type Compare<T> = (a: T, b: T) => number;
const bytes = (a: string, b: string) => Buffer.compare(Buffer.from(a), Buffer.from(b));
const by =
  <T>(...keys: ((one: T) => string)[]): Compare<T> =>
  (a, b) => {
    for (const key of keys) {
      const order = bytes(key(a), key(b));
      if (order !== 0) return order;
    }
    return 0;
  };
const small = (text: string) => text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
/** Texts of moments that are one as long as the other, turned round. */
const backwards = (text: string) =>
  [...text].map((sign) => String.fromCharCode(0x7f - sign.charCodeAt(0))).join('');

interface ListOf<B> {
  all: Stored<B>[];
  sorts: Record<string, Compare<Stored<B>>>;
  filters: Record<string, (body: B) => boolean>;
}

/** All lists, each with its orders and filters worked out in code. */
function listsOf(all: Catalogue) {
  const partOf = new Map(all.parts.map(({ body }) => [body.code, body]));
  const soldBy = (offer: Offer) => offerParts(offer).map(({ part }) => partOf.get(part) as Part);
  const called = (offer: Offer) =>
    soldBy(offer)
      .map(({ description }) => small(description))
      .sort(bytes)[0] ?? '';
  const code = ({ body }: Stored<{ code: string }>) => body.code;
  const changed = ({ at }: Stored<unknown>) => backwards(at);
  const fitNames = (['from', 'relation', 'to'] as const).map(
    (key) =>
      ({ body }: Stored<Fit>) =>
        body[key],
  );
  const lists: { parts: ListOf<Part>; offers: ListOf<Offer>; fits: ListOf<Fit> } = {
    parts: {
      all: all.parts,
      sorts: {
        code: by(code),
        updated: by<Stored<{ code: string }>>(changed, code),
        name: by<Stored<Part>>(({ body }) => small(body.description), code),
      },
      filters: { '': () => true, '&kind=boot': ({ kind }) => kind === 'boot' },
    },
    offers: {
      all: all.offers,
      sorts: {
        code: by(code),
        updated: by<Stored<{ code: string }>>(changed, code),
        name: by<Stored<Offer>>(({ body }) => called(body), code),
        seen: by<Stored<Offer>>(({ body }) => body.seenOn ?? '', code),
      },
      filters: {
        '': () => true,
        '&kind=housing': (offer) => soldBy(offer).some(({ kind }) => kind === 'housing'),
        '&stale=2': ({ seenOn }) => seenOn === undefined || seenOn <= '2026-11-18',
        '&stale=3&supplier=s-1': ({ seenOn, supplier }) =>
          (seenOn === undefined || seenOn <= '2026-11-17') && supplier === 's-1',
        '&stale=0&part=A': (offer) => soldBy(offer).some((part) => part.code === 'A'),
      },
    },
    fits: {
      all: all.fits,
      sorts: { code: by(...fitNames), updated: by(changed, ...fitNames) },
      filters: {
        '': () => true,
        '&relation=takes': ({ relation }) => relation === 'takes',
        '&status=refuted&part=a': ({ status, from, to }) =>
          status === 'refuted' && (from === 'a' || to === 'a'),
      },
    },
  };
  return lists;
}

function* askedOfList<B>(name: string, { all, sorts, filters }: ListOf<B>) {
  for (const [sort, compare] of Object.entries(sorts))
    for (const [filter, keeps] of Object.entries(filters)) {
      const expected = [...all].sort(compare).map(({ body }) => body);
      yield { name, query: `&sort=${sort}${filter}`, expected: expected.filter(keeps) };
    }
}

/** Every order with every filter of every list, and what it has to give. */
export function* askedOf(all: Catalogue) {
  const { parts, offers, fits } = listsOf(all);
  yield* askedOfList('parts', parts);
  yield* askedOfList('offers', offers);
  yield* askedOfList('fits', fits);
}
