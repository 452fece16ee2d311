import { JOB_FORMAT, JOB_VERSION } from '../worker/engine/model/job.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { Invalid } from './errors.ts';
import { allFits } from './fits.ts';
import { getRevision } from './looms.ts';
import { unknownOptions } from './options.ts';
import { parts } from './parts.ts';

/**
 * A job that holds one revision of a loom, to be checked: nothing is bought, so it holds no offers. Read it in a snapshot.
 * Errors: NotFound, Invalid for options that the revision does not have.
 */
export async function checkJob({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string; revision: number; options: string[] };
}): Promise<unknown> {
  const { code, revision, body } = await getRevision({ ctx, input });
  const findings = unknownOptions({ code, options: body.options }, input.options, {
    path: ['option'],
    where: 'query, option',
  });
  if (findings.length > 0) throw new Invalid(findings);
  const { currency, settings } = await getClub({ ctx });
  return {
    format: JOB_FORMAT,
    version: JOB_VERSION,
    asOf: ctx.now().toISOString().slice(0, 10),
    club: { currency, settings },
    parts: await parts.all({ ctx }),
    suppliers: [],
    offers: [],
    fits: await allFits({ ctx }),
    looms: [{ code, revision, ...body }],
    request: { looms: [{ loom: code, revision, quantity: 1, options: input.options }] },
  };
}
