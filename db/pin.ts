import { and, eq, inArray, or, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { timeFindings } from '../worker/engine/model/timeFindings.ts';
import type { QuoteRequest } from '../worker/engine/model/job.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { Invalid } from './errors.ts';
import { optionFindings } from './options.ts';
import { unknownNames, type Named, type Word } from './references.ts';
import { loomRevisions, looms, type PinnedRequest } from './schema/index.ts';

type Names = Pick<QuoteRequest, 'looms' | 'shutOut' | 'insistOn' | 'pinned' | 'buildOrBuy'>;

/** What a request names that must be there. */
export function namesAsked({ looms, shutOut = [], insistOn = [], pinned = [], buildOrBuy }: Names): {
  word: Word;
  named: Named[];
}[] {
  const listed = (field: string, codes: string[]) => codes.map((code, at) => ({ code, path: [field, at] }));
  const pins = (side: 'part' | 'offer') =>
    pinned.map((pin, at) => ({ code: pin[side], path: ['pinned', at, side] }));
  return [
    { word: 'loom', named: looms.map(({ loom }, at) => ({ code: loom, path: ['looms', at, 'loom'] })) },
    { word: 'supplier', named: [...listed('shutOut', shutOut), ...listed('insistOn', insistOn)] },
    { word: 'part', named: pins('part') },
    {
      word: 'part',
      named: (buildOrBuy?.tools ?? []).map(({ part }, at) => ({
        code: part,
        path: ['buildOrBuy', 'tools', at, 'part'],
      })),
    },
    { word: 'offer', named: pins('offer') },
  ];
}

/**
 * All that was asked, every loom pinned to a revision: its latest where none is named. Error: Invalid with everything that
 * the request names and that is not there, and with each time that is more than the club lets its quotes have.
 */
export async function pinRequest(
  ctx: Ctx,
  { asOf: _day, looms: lines, ...asked }: QuoteRequest,
): Promise<PinnedRequest> {
  const latest = await latestRevisions(
    ctx,
    lines.map(({ loom }) => loom),
  );
  const pinned = lines.map((line) => ({ ...line, revision: line.revision ?? latest.get(line.loom) ?? 0 }));
  const { settings: ofClub } = await getClub({ ctx });
  const findings: Finding[] = [...timeFindings(ofClub, asked.settings)];
  for (const { word, named } of namesAsked({ looms: lines, ...asked }))
    findings.push(...(await unknownNames(ctx, word, named)));
  findings.push(...revisionFaults(pinned, latest), ...(await optionFaults(ctx, pinned)));
  if (findings.length > 0) throw new Invalid(findings);
  return { ...asked, looms: pinned };
}

async function latestRevisions(ctx: Ctx, codes: string[]): Promise<Map<string, number>> {
  const heads = await ctx.tx
    .select({ code: looms.code, latest: looms.latestRevision })
    .from(looms)
    .where(and(eq(looms.clubId, ctx.club), inArray(looms.code, codes)));
  return new Map(heads.map((row) => [row.code, row.latest]));
}

/** Revisions that are asked for and that are not there yet; of looms that are not there, nothing is said twice. */
function revisionFaults(pinned: PinnedRequest['looms'], latest: Map<string, number>): Finding[] {
  return pinned.flatMap(({ loom, revision }, at): Finding[] => {
    const last = latest.get(loom) ?? Infinity;
    if (revision <= last) return [];
    return [
      {
        code: 'unknown-revision',
        severity: 'stop',
        at: pointer(['looms', at, 'revision']),
        where: `looms, number ${at + 1}, revision`,
        found: JSON.stringify(revision),
        todo: `The latest revision of ${loom} is ${last}. Name one up to ${last}, or leave this out.`,
      },
    ];
  });
}

/** One of the two drivers hands JSON on as text. */
function listOfJson(value: unknown): string[] {
  return (typeof value === 'string' ? JSON.parse(value) : value) as string[];
}

/** Options that the pinned revisions do not have, and choices of theirs that are not made; of what is not there, nothing is said twice. */
async function optionFaults(ctx: Ctx, pinned: PinnedRequest['looms']): Promise<Finding[]> {
  const rows = await ctx.tx
    .select({
      code: loomRevisions.loomCode,
      options: sql<string[] | null>`${loomRevisions.body} -> 'options'`.mapWith(listOfJson),
    })
    .from(loomRevisions)
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        or(
          ...pinned.map(({ loom, revision }) =>
            and(eq(loomRevisions.loomCode, loom), eq(loomRevisions.revision, revision)),
          ),
        ),
      ),
    );
  const stored = new Map(rows.map((row) => [row.code, row]));
  return pinned.flatMap(({ loom, options = [] }, index) => {
    const revision = stored.get(loom);
    if (!revision) return [];
    const place = { path: ['looms', index, 'options'], where: `looms, number ${index + 1}, option` };
    return optionFindings(revision, options, place);
  });
}
