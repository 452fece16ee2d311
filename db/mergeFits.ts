import { and, eq, sql } from 'drizzle-orm';
import type { Fit } from '../worker/engine/model/fit.ts';
import { heavierFit } from '../worker/engine/model/heavierFit.ts';
import { offerParts } from '../worker/engine/model/offer.ts';
import { renamedInFit, type Heirs } from '../worker/engine/model/renamedParts.ts';
import { record, type Ctx } from './club.ts';
import type { FitName } from './fits.ts';
import { fitReports, fits } from './schema/index.ts';
import { offers } from './offers.ts';
import type { Uses } from './uses.ts';

const words = ({ from, relation, to }: FitName) => `${from}/${relation}/${to}`;
const one = (ctx: Ctx, { from, relation, to }: FitName) =>
  and(eq(fits.clubId, ctx.club), eq(fits.fromPart, from), eq(fits.relation, relation), eq(fits.toPart, to));
const namedAnew = (name: FitName, heirs: Heirs): FitName =>
  renamedInFit({ ...name, status: 'proposed' }, heirs);

async function stored(ctx: Ctx, name: FitName): Promise<Fit | undefined> {
  const [row] = await ctx.tx.select({ body: fits.body }).from(fits).where(one(ctx, name));
  return row?.body;
}

/** What of a merge is more than another code, in sentences. */
export async function clashesOf(
  ctx: Ctx,
  { part, into }: { part: string; into: string },
  uses: Uses,
): Promise<string[]> {
  const heirs = new Map([[part, into]]);
  const told: string[] = [];
  for (const name of uses.fits) {
    const anew = namedAnew(name, heirs);
    if (anew.from === anew.to)
      told.push(`The fit ${words(name)} is of the two parts that become one, so it is removed.`);
    else if (await stored(ctx, anew))
      told.push(
        `The fits ${words(name)} and ${words(anew)} become one: refuted outweighs confirmed, and that proposed.`,
      );
  }
  const kits = await offers.bulk.stored({ ctx, input: { keys: uses.kits } });
  for (const kit of kits.values())
    if (offerParts(kit).some((content) => content.part === into))
      told.push(`The kit ${kit.code} holds both parts, so it holds their sum of ${into}.`);
  if (uses.standIns.includes(into)) told.push(`${into} stands in for ${part}, which is no longer stated.`);
  return told;
}

/** Names these fits anew; what people reported of them goes along. */
export async function mergeFits(ctx: Ctx, names: readonly FitName[], heirs: Heirs): Promise<void> {
  for (const name of names) {
    const before = await stored(ctx, name);
    if (!before) continue;
    const body = renamedInFit(before, heirs);
    const there = body.from === body.to ? undefined : await stored(ctx, body);
    if (there) {
      await moveReports(ctx, name, body);
      const kept = heavierFit(there, body);
      if (kept !== there) {
        await change(ctx, body, kept);
        await record(ctx, 'fit.replace', words(body), { before: there, after: kept });
      }
    }
    if (there || body.from === body.to) {
      await ctx.tx.delete(fits).where(one(ctx, name));
      await record(ctx, 'fit.remove', words(name), { before });
    } else {
      await change(ctx, name, body);
      await record(ctx, 'fit.remove', words(name), { before });
      await record(ctx, 'fit.create', words(body), { after: body });
    }
  }
}

/** Reports follow a fit that is named anew, by their foreign key. */
async function change(ctx: Ctx, name: FitName, body: Fit): Promise<void> {
  await ctx.tx
    .update(fits)
    .set({
      fromPart: body.from,
      toPart: body.to,
      body,
      version: sql`${fits.version} + 1`,
      // Nobody looked at what people found of it, so the time of its last change stays.
      updatedBy: ctx.actor,
    })
    .where(one(ctx, name));
}

async function moveReports(ctx: Ctx, name: FitName, to: FitName): Promise<void> {
  await ctx.tx
    .update(fitReports)
    .set({ fromPart: to.from, toPart: to.to })
    .where(
      and(
        eq(fitReports.clubId, ctx.club),
        eq(fitReports.fromPart, name.from),
        eq(fitReports.relation, name.relation),
        eq(fitReports.toPart, name.to),
      ),
    );
}
