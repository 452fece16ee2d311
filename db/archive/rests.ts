import { and, eq, inArray, isNull } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { quotes } from '../schema/index.ts';
import type { Entry, EntryOf } from './entries.ts';
import { notThere } from './notThere.ts';
import type { Placed } from './report.ts';

/** Quotes that are looked up at once. */
const CHUNK = 5_000;
/** Faults that are told. */
const MOST_FINDINGS = 20;

type PlacedQuote = Placed<EntryOf<'quote'>>;

export interface RestsKeeper {
  /** Is asked of every batch. */
  see(batch: readonly Placed[]): void;
  /** Is asked when all was read. Error: Invalid for a quote that is not there, or is one for a rest itself. */
  end(): Promise<void>;
}

/** Sees to it that each quote for a rest names a quote of whose looms it is: that one may stand further down. */
export function restsKeeper(ctx: Ctx): RestsKeeper {
  const rests: { line: number; id: string; of: string }[] = [];
  return {
    see: (batch) => {
      for (const { line, entry } of batch.filter((each): each is PlacedQuote => isQuote(each.entry)))
        if (entry.restOf !== undefined) rests.push({ line, id: entry.id, of: entry.restOf });
    },
    end: async () => {
      const ids = new Set(rests.map(({ id }) => id));
      for (let start = 0; start < rests.length; start += CHUNK) {
        const chunk = rests.slice(start, start + CHUNK);
        const named = [...new Set(chunk.map(({ of }) => of))];
        const rows = await ctx.tx
          .select({ id: quotes.id })
          .from(quotes)
          .where(and(eq(quotes.clubId, ctx.club), inArray(quotes.id, named)));
        const there = new Set(rows.map(({ id }) => id).filter((id) => !ids.has(id)));
        const findings = chunk
          .filter(({ of }) => !there.has(of))
          .map(({ line, of }) => notThere(line, 'restOf', 'the first quote of these looms,', of));
        if (findings.length > 0) throw new Invalid(findings.slice(0, MOST_FINDINGS));
        for (const of of named)
          await ctx.tx
            .update(quotes)
            .set({ restOf: of })
            .where(
              and(
                eq(quotes.clubId, ctx.club),
                isNull(quotes.restOf),
                inArray(
                  quotes.id,
                  chunk.filter((rest) => rest.of === of).map(({ id }) => id),
                ),
              ),
            );
      }
    },
  };
}

const isQuote = (entry: Entry) => entry.type === 'quote';
