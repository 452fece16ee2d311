import { eq } from 'drizzle-orm';
import { catalogue } from './catalogue.ts';
import { lanes as table } from './schema/index.ts';

export const lanes = catalogue({
  table,
  word: 'lane',
  columns: ({ from, to }) => ({ fromCountry: from, toCountry: to }),
  filters: {
    from: (_ctx, country) => eq(table.fromCountry, country),
    to: (_ctx, country) => eq(table.toCountry, country),
  },
  clash: {
    field: 'to',
    constraint: 'lanes_between_two',
    of: ({ from, to }) => `${from} ${to}`,
    column: table.fromCountry,
    inColumn: ({ from }) => from,
    sentence: ({ from, to }, other) =>
      `A lane from ${from} to ${to} already exists${other === undefined ? '' : `: ${other}`}. Change that one. Only one lane is allowed from one country to another.`,
  },
});
