import { eq } from 'drizzle-orm';
import { catalogue } from './catalogue.ts';
import { unknownByEntry } from './references.ts';
import { stock as table } from './schema/index.ts';

export const stock = catalogue({
  table,
  word: 'stock item',
  columns: ({ part }) => ({ partCode: part }),
  filters: { part: (_ctx, part) => eq(table.partCode, part) },
  faults: (ctx, bodies) =>
    unknownByEntry(
      ctx,
      bodies.map(({ code, part }) => ({
        key: code,
        names: [{ word: 'part', named: [{ code: part, path: ['part'] }] }],
      })),
    ),
});
