import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { jobWith } from './jobs.ts';
import { getRevision } from './looms.ts';
import { optionFindings } from './options.ts';

/**
 * A job that holds one revision of a loom, to be checked. It holds the offers too: what is chosen or stands in for another
 * depends on what somebody sells, and must be what a quote would take. Read it in a snapshot.
 * Errors: NotFound, Invalid for options that the revision does not have, and for choices that are not made.
 */
export async function checkJob({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string; revision: number; options: string[] };
}): Promise<unknown> {
  const { code, revision, body } = await getRevision({ ctx, input });
  const findings = optionFindings({ code, options: body.options }, input.options, {
    path: ['option'],
    where: 'query, option',
  });
  if (findings.length > 0) throw new Invalid(findings);
  return jobWith({
    ctx,
    input: {
      asOf: ctx.now().toISOString().slice(0, 10),
      looms: [{ code, revision, body }],
      owner: ctx.member ?? null,
      request: { looms: [{ loom: code, revision, quantity: 1, options: input.options }] },
    },
  });
}
