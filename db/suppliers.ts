import { sql } from 'drizzle-orm';
import { catalogue } from './catalogue.ts';
import { suppliers as table } from './schema/index.ts';

export const suppliers = catalogue({
  table,
  word: 'supplier',
  columns: () => ({}),
  filters: { country: (_ctx, country) => sql`${table.body} ->> 'country' = ${country}` },
  inUse: { offers_supplier: 'This supplier has offers. Remove them first.' },
});
