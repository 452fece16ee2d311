import { partsInReach } from '../worker/engine/job/normalise.ts';
import { JOB_FORMAT, JOB_VERSION, type Job } from '../worker/engine/model/job.ts';
import type { LoomRevision } from '../worker/engine/model/loom.ts';
import { renamedInLoom, renamedInRequest } from '../worker/engine/model/renamedParts.ts';
import { soundLoom } from '../worker/engine/model/soundness.ts';
import { boughtFor } from './boughtFor.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { doubtedFits } from './doubtedFits.ts';
import { allFits } from './fits.ts';
import { heirsOf } from './heirs.ts';
import { lanes } from './lanes.ts';
import { offersThatMatter } from './offersThatMatter.ts';
import { proposedOf } from './proposedOf.ts';
import { parts } from './parts.ts';
import { rates } from './rates.ts';
import { stockFor } from './stock.ts';
import { suppliers } from './suppliers.ts';

interface Asked {
  asOf: string;
  looms: readonly { code: string; revision: number; body: LoomRevision }[];
  request: Job['request'];
  /** The member whose quote it is, by id; null: the club’s. What others keep for themselves is left out. */
  owner: string | null;
  /** The quote of whose looms it buys what is still missing. */
  restOf?: string | null;
}

/**
 * Revisions of looms with all that a club has for them, in the shape of a job file: of the offers those that can matter, which
 * is what the engine would keep of all; a part that was merged stands under the code of the part that it became. Read it in a
 * snapshot.
 */
export async function jobWith({ ctx, input }: { ctx: Ctx; input: Asked }): Promise<unknown> {
  const heirs = await heirsOf({ ctx });
  const { currency, country, buyer, settings } = await getClub({ ctx });
  const request = renamedInRequest(input.request, heirs);
  const named = input.looms.map(({ code, revision, body }) => ({
    code,
    revision,
    ...renamedInLoom(body, heirs),
  }));
  const catalogue = { parts: await parts.all({ ctx }), fits: await allFits({ ctx }) };
  const looms = named.flatMap(({ code, revision, ...body }) => {
    const sound = soundLoom(body)?.value;
    return sound ? [{ code, revision, ...sound }] : [];
  });
  const sold = partsInReach({ club: { settings }, looms, request, ...catalogue });
  const pinned = (request.pinned ?? []).map(({ offer }) => offer);
  const offers = await offersThatMatter({ ctx, input: { parts: [...sold], pinned } });
  const proposals = await proposedOf({ ctx, input: { offers: offers.map(({ code }) => code) } });
  return {
    format: JOB_FORMAT,
    version: JOB_VERSION,
    asOf: input.asOf,
    club: {
      currency,
      ...(country === null ? {} : { country }),
      ...(buyer === null ? {} : { buyer }),
      settings,
    },
    parts: catalogue.parts,
    suppliers: await suppliers.all({ ctx }),
    offers,
    fits: catalogue.fits,
    rates: await rates.all({ ctx }),
    lanes: await lanes.all({ ctx }),
    ...(await shelfOf(ctx, input, request)),
    looms: named,
    ...proposals,
    ...(await doubtedFits({ ctx })),
  };
}

/** The stock that a quote may use, and its request: a quote for the rest of another counts what is bought for that one as stock. */
async function shelfOf(
  ctx: Ctx,
  { owner, restOf }: Asked,
  request: Job['request'],
): Promise<Pick<Job, 'stock' | 'request'>> {
  const stock = await stockFor({ ctx, input: { owner, first: restOf ?? null } });
  if (restOf === undefined || restOf === null) return { stock, request };
  const { bought, came } = await boughtFor({
    ctx,
    input: { quote: restOf, codes: stock.map(({ code }) => code) },
  });
  const free = request.useStock === false ? stock.filter(({ code }) => came.has(code)) : stock;
  return { stock: [...free, ...bought], request: { ...request, useStock: true } };
}
