import { and, eq, inArray } from 'drizzle-orm';
import type { Lane } from '../worker/engine/model/lane.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { lanes as table } from './schema/index.ts';

export const lanes = catalogue({
  table,
  word: 'lane',
  columns: ({ from, to }) => ({ fromCountry: from, toCountry: to }),
  clash: {
    field: 'to',
    of: ({ from, to }) => `${from} ${to}`,
    stored: async (ctx, bodies) => {
      const rows = await ctx.tx
        .select({ body: table.body })
        .from(table)
        .where(
          and(
            eq(table.clubId, ctx.club),
            inArray(
              table.fromCountry,
              bodies.map(({ from }) => from),
            ),
          ),
        );
      return rows.map(({ body }) => body);
    },
    sentence: between,
  },
  clashes: { lanes_between_two: otherBetween },
});

async function otherBetween(ctx: Ctx, lane: Lane): Promise<string> {
  const { from, to } = lane;
  const [other] = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.fromCountry, from), eq(table.toCountry, to)));
  return between(lane, other?.code);
}

function between({ from, to }: Lane, other: string | undefined): string {
  return `A lane from ${from} to ${to} already exists${other === undefined ? '' : `: ${other}`}. Change that one. Only one lane is allowed from one country to another.`;
}
