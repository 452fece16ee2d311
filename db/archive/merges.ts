import { and, eq, inArray } from 'drizzle-orm';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { parts } from '../schema/index.ts';
import type { Entry, EntryOf } from './entries.ts';
import type { Placed } from './report.ts';

type PlacedPart = Placed<EntryOf<'part'>>;

/** Parts that are looked up at once. */
const CHUNK = 5_000;
/** Faults that are told. */
const MOST_FINDINGS = 20;

export interface MergesKeeper {
  /** Is asked of every batch, before it is written. Error: Invalid, where the parts have ended and one leads nowhere. */
  before(batch: readonly Placed[]): Promise<void>;
  /** Is asked when all was read. Error: the same. */
  end(): Promise<void>;
}

/**
 * Sees to it that each merged part leads to a part of its kind that is there and is not merged itself. That part may stand
 * further down, so this is known when all parts are written.
 */
export function mergesKeeper(ctx: Ctx): MergesKeeper {
  // What is told of them alone: an archive has up to as many parts as a club.
  let merged: { line: number; code: string; kind: string; into: string }[] = [];
  async function end(): Promise<void> {
    const findings: Finding[] = [];
    for (let start = 0; start < merged.length; start += CHUNK) {
      const chunk = merged.slice(start, start + CHUNK);
      const heirs = await heirsNamed(ctx, [...new Set(chunk.map(({ into }) => into))]);
      for (const part of chunk) {
        const fault = faultOf(part, heirs.get(part.into));
        if (fault && findings.length < MOST_FINDINGS) findings.push(fault);
      }
    }
    merged = [];
    if (findings.length > 0) throw new Invalid(findings);
  }
  return {
    before: async (batch) => {
      const placed = batch.filter((each): each is PlacedPart => isPart(each.entry));
      if (placed.length === 0) return end();
      for (const { line, entry } of placed) {
        const { code, kind } = entry.body;
        if (entry.mergedInto !== undefined) merged.push({ line, code, kind, into: entry.mergedInto });
      }
    },
    end,
  };
}

const isPart = (entry: Entry) => entry.type === 'part';

interface Heir {
  kind: string;
  mergedInto: string | null;
}

async function heirsNamed(ctx: Ctx, codes: string[]): Promise<Map<string, Heir>> {
  const rows = await ctx.tx
    .select({ code: parts.code, body: parts.body, mergedInto: parts.mergedInto })
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), inArray(parts.code, codes)));
  return new Map(rows.map(({ code, body, mergedInto }) => [code, { kind: body.kind, mergedInto }]));
}

/** What is wrong with what a part became, and how to fix it. */
function faultOf(
  { line, code, kind, into }: { line: number; code: string; kind: string; into: string },
  heir: Heir | undefined,
): Finding | undefined {
  const fault = (found: string, todo: string): Finding => ({
    code: 'wrong-merge',
    severity: 'stop',
    at: '/mergedInto',
    where: `line ${line}, mergedInto`,
    found: `${code} merged into ${into}, ${found}`,
    todo,
  });
  const again = 'Take the archive again from where it came';
  if (!heir)
    return fault(
      'which is not there',
      `The archive is incomplete: it does not have the part ${into}. ${again}, or add the part ${into} to the club and import again.`,
    );
  if (heir.mergedInto !== null)
    return fault(
      `which was merged into ${heir.mergedInto} itself`,
      `${again}. It must say ${heir.mergedInto} here.`,
    );
  if (heir.kind !== kind)
    return fault(
      `but it is a ${kind} and ${into} is a ${heir.kind}`,
      `Only parts of one kind are merged. ${again}.`,
    );
  return undefined;
}
