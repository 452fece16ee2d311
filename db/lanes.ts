import { and, eq } from 'drizzle-orm';
import type { Lane } from '../worker/engine/model/lane.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { lanes as table } from './schema/index.ts';

export const lanes = catalogue({
  table,
  word: 'lane',
  columns: ({ from, to }) => ({ fromCountry: from, toCountry: to }),
  clashes: { lanes_between_two: otherBetween },
});

async function otherBetween(ctx: Ctx, { from, to }: Lane): Promise<string> {
  const [other] = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.fromCountry, from), eq(table.toCountry, to)));
  return `A lane from ${from} to ${to} already exists${other ? `: ${other.code}` : ''}. Change that one. Only one lane is allowed from one country to another.`;
}
