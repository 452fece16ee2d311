import { eq } from 'drizzle-orm';
import { clubs, offers, parts, suppliers } from '../../db/schema/index.ts';
import { createFit } from '../../db/fits.ts';
import { lanes } from '../../db/lanes.ts';
import { createLoom } from '../../db/looms.ts';
import { offers as catalogueOffers } from '../../db/offers.ts';
import { rates } from '../../db/rates.ts';
import { stock } from '../../db/stock.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import type { TestClub } from './house.ts';

/** Puts the contents of a big job file into a club at once, past the API: what the worker loads is the same. */
export async function storeJob(club: TestClub, input: JobInput): Promise<void> {
  const job = readJob(input).data;
  if (!job) throw new Error('the job file of the test is not valid');
  await club.run(async (ctx) => {
    const entry = <T extends { code: string }>(body: T) => ({
      clubId: ctx.club,
      code: body.code,
      body,
      version: 1,
      createdAt: ctx.now(),
      updatedAt: ctx.now(),
    });
    const { settings, country = null } = job.club;
    await ctx.tx.update(clubs).set({ settings, country }).where(eq(clubs.id, ctx.club));
    await ctx.tx.insert(parts).values(job.parts.map(entry));
    await ctx.tx.insert(suppliers).values(job.suppliers.map(entry));
    await ctx.tx
      .insert(offers)
      .values(job.offers.map((offer) => ({ ...entry(offer), supplierCode: offer.supplier })));
    await catalogueOffers.hang({ ctx, input: job.offers.map((body) => ({ body, before: undefined })) });
    for (const fit of job.fits) await createFit({ ctx, input: fit });
    for (const rate of job.rates) await rates.create({ ctx, input: rate });
    for (const lane of job.lanes) await lanes.create({ ctx, input: lane });
    for (const item of job.stock) await stock.create({ ctx, input: item });
    for (const { revision: _revision, ...loom } of job.looms) await createLoom({ ctx, input: loom });
  });
}
