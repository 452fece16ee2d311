import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import { boughtAs } from '../worker/engine/model/boughtStock.ts';
import type { CutEntry, CutsIn } from '../worker/engine/model/cutEntry.ts';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { MovementBody } from '../worker/engine/model/movement.ts';
import { placeCuts, type LengthCut } from '../worker/engine/model/planCut.ts';
import type { CutLength } from '../worker/engine/model/result.ts';
import { readResult } from '../worker/engine/model/upgrade.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { requireMayOrder } from './mayOrder.ts';
import { moveAlone, type MoveAnswer } from './movements.ts';
import { getQuoteText } from './quotes.ts';
import { aloneOnShelf, firstOf, keptFor } from './reservations.ts';
import { orders, quotes, stock, stockMovements } from './schema/index.ts';

/** The cutting plan of a quote, cut out of the lengths that are there. */

/** The entries of a quote’s cutting plan that cut something, each with whether it is cut, and else out of what. */
export async function readCuts({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<CutEntry[]> {
  const { cuttingPlans } = readResult(
    JSON.parse(await getQuoteText({ ctx, input: { id, which: 'result' } })),
  );
  const entries = cuttingPlans.flatMap(({ requirement, lengths }) =>
    lengths
      .map((length, at) => ({ ...length, requirement, entry: at + 1 }))
      .filter(({ pieces }) => pieces.length > 0),
  );
  const first = await firstOf(ctx, id);
  // Only a quote for the rest of another takes what is bought already.
  const boughtBy: BoughtBy = ({ stock: code = '' }) => (first === id ? undefined : boughtAs(code));
  const done = await cutAlready(ctx, id);
  const sources = await sourcesOf(ctx, id, first, boughtBy);
  const shelf = await lengthsThere(
    ctx,
    first,
    entries.flatMap((each) => sources(each)),
  );
  return entries.map((each): CutEntry => {
    if (done.has(nameOf(each)) || boughtBy(each) === 'taken') return { ...each, state: 'cut' };
    const there = sources(each).flatMap((code) => shelf.get(code) ?? []);
    const cuts = placeCuts(bundlesOf(each), there);
    if (!cuts) return { ...each, state: 'notHere' };
    // What one entry takes, the next cannot have.
    for (const { code } of cuts) for (const one of there) if (one.code === code) one.count -= 1;
    const placeOf = new Map(there.map(({ code, place }) => [code, place]));
    return { ...each, state: 'ready', from: cuts.map((cut) => fromOf(cut, placeOf.get(cut.code))) };
  });
}

const nameOf = ({ requirement, entry }: Pick<MovementBody, 'requirement' | 'entry'>) =>
  `${entry ?? 0} ${requirement ?? ''}`;

const fromOf = ({ code, piecesMm }: LengthCut, place: string | undefined) => ({
  stock: code,
  ...(place === undefined ? {} : { place }),
  piecesMm,
});

/** The pieces of each length of an entry. */
function bundlesOf({ lengths, pieces }: CutLength): number[][] {
  const one = pieces.flatMap(({ cutMm, count }) => Array<number>(count).fill(cutMm));
  return Array.from({ length: lengths }, () => one);
}

async function cutAlready(ctx: Ctx, id: string): Promise<Set<string>> {
  const rows = await ctx.tx
    .select({ body: stockMovements.body })
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        eq(stockMovements.kind, 'cut'),
        sql`${stockMovements.body} ->> 'quote' = ${id}`,
      ),
    );
  return new Set(rows.flatMap(({ body }) => (body.entry === undefined ? [] : [nameOf(body)])));
}

type BoughtBy = (entry: CutLength) => ReturnType<typeof boughtAs>;

/** Which stock items the lengths of an entry can be: the one that it names, or what came on the line that bought them. */
async function sourcesOf(
  ctx: Ctx,
  id: string,
  first: string,
  boughtBy: BoughtBy,
): Promise<(entry: CutLength) => string[]> {
  const made = await ctx.tx
    .select({ id: orders.id, number: orders.number, quote: orders.quoteId, list: orders.list })
    .from(orders)
    .innerJoin(quotes, and(eq(quotes.clubId, orders.clubId), eq(quotes.id, orders.quoteId)))
    .where(and(eq(orders.clubId, ctx.club), or(eq(quotes.id, first), eq(quotes.restOf, first))))
    .orderBy(asc(orders.number));
  const received = await ctx.tx
    .select({ code: stockMovements.stockCode, body: stockMovements.body })
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        eq(stockMovements.kind, 'received'),
        inArray(
          sql`${stockMovements.body} ->> 'order'`,
          made.map(({ id: order }) => order),
        ),
      ),
    )
    .orderBy(asc(stockMovements.id));
  const cameOn = (order: string | undefined, line: number | undefined) => [
    ...new Set(
      received.flatMap(({ code, body }) => (body.order === order && body.line === line ? [code] : [])),
    ),
  ];
  return (entry) => {
    const { stock: code, offer, wave } = entry;
    const bought = boughtBy(entry);
    if (typeof bought === 'object')
      return cameOn(made.find((one) => one.number === bought.order)?.id, bought.line);
    if (code !== undefined) return [code];
    return made
      .filter(({ quote, list }) => quote === id && (list.wave ?? 1) === (wave ?? 1))
      .flatMap((one) =>
        one.list.lines.filter((each) => each.offer === offer).flatMap(({ line: own }) => cameOn(one.id, own)),
      );
  };
}

interface There {
  code: string;
  lengthMm: number;
  count: number;
  place: string | undefined;
}

/** Lengths on the shelf that are not kept for other quotes. */
async function lengthsThere(ctx: Ctx, first: string, codes: readonly string[]): Promise<Map<string, There>> {
  if (codes.length === 0) return new Map();
  const wanted = [...new Set(codes)];
  const rows = await ctx.tx
    .select({ body: stock.body })
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), inArray(stock.code, wanted)));
  const kept = await keptFor(ctx, { but: first, codes: wanted });
  return new Map(
    rows.flatMap(({ body }) =>
      body.form === 'length'
        ? [
            [
              body.code,
              {
                code: body.code,
                lengthMm: body.lengthMm,
                count: Math.max(0, body.count - (kept.get(body.code) ?? 0)),
                place: body.place,
              },
            ],
          ]
        : [],
    ),
  );
}

export interface CutDone {
  requirement: string;
  entry: number;
  cuts: MoveAnswer[];
}

/**
 * Cuts entries of the cutting plan of a quote, or all that can be: a movement for each length, and its offcut goes back on the
 * shelf. Errors: NotFound; Forbidden for another’s quote; Invalid for an entry that is not there, is cut already, or whose
 * lengths are not on the shelf. All of the entries or none.
 */
export async function cutByPlan({
  ctx,
  input: { id, cuts },
}: {
  ctx: Ctx;
  input: CutsIn & { id: string };
}): Promise<CutDone[]> {
  await requireMayOrder(ctx, id);
  await aloneOnShelf(ctx);
  const plan = await readCuts({ ctx, input: { id } });
  const entries = new Map(plan.map((each) => [nameOf(each), each]));
  const findings = (cuts ?? []).flatMap((cut, at) => faultsOf(cut, at, cuts ?? [], entries));
  if (findings.length > 0) throw new Invalid(findings);
  const chosen = cuts ?? plan.filter(({ state }) => state === 'ready');
  const done: CutDone[] = [];
  for (const { requirement, entry, ...said } of chosen) {
    const offcutMm = 'pieces' in said ? undefined : said.offcutMm;
    const made: MoveAnswer[] = [];
    for (const { stock: code, piecesMm } of entries.get(nameOf({ requirement, entry }))?.from ?? [])
      made.push(
        await moveAlone(
          ctx,
          code,
          { kind: 'cut', piecesMm, quote: id, ...(offcutMm === undefined ? {} : { offcutMm }) },
          { requirement, entry },
        ),
      );
    done.push({ requirement, entry, cuts: made });
  }
  return done;
}

type Asked = NonNullable<CutsIn['cuts']>[number];

function faultsOf(
  cut: Asked,
  at: number,
  all: readonly Asked[],
  entries: ReadonlyMap<string, CutEntry>,
): Finding[] {
  const entry = entries.get(nameOf(cut));
  const fault = (field: keyof Asked, code: string, found: string, todo: string): Finding[] => [
    {
      code,
      severity: 'stop',
      at: pointer(['cuts', at, field]),
      where: `cuts, number ${at + 1}, ${field}`,
      found,
      todo,
    },
  ];
  if (!entry)
    return fault(
      'entry',
      'unknown-entry',
      `${cut.requirement}, ${cut.entry}`,
      'The cutting plan has no such entry. Use requirement and entry as GET on the same path has them.',
    );
  const found = `${cut.requirement}, ${cut.entry}`;
  if (all.findIndex((other) => nameOf(other) === nameOf(cut)) < at)
    return fault('entry', 'entry-twice', found, 'Name each entry once.');
  if (entry.state === 'cut')
    return fault('entry', 'cut-already', found, 'This entry is cut already. Leave it out.');
  if (entry.state === 'notHere')
    return fault(
      'entry',
      'not-here',
      found,
      'The lengths for this entry are not on the shelf, or are too short. Enter the delivery first; if you cut it out of something else, send that as a movement of that stock item.',
    );
  if (cut.offcutMm !== undefined && entry.from?.length !== 1)
    return fault(
      'offcutMm',
      'several-lengths',
      String(cut.offcutMm),
      'This entry cuts several lengths. Leave offcutMm out, and correct the offcuts afterwards.',
    );
  return [];
}
