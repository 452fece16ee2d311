import { eq } from 'drizzle-orm';
import { renamedInStock } from '../worker/engine/model/renamedParts.ts';
import { catalogue } from './catalogue.ts';
import { partsMeant } from './partsOfNumbers.ts';
import { unknownByEntry } from './references.ts';
import { stock as table } from './schema/index.ts';

export const stock = catalogue({
  table,
  word: 'stock item',
  asMeant: async (ctx, bodies) => {
    const meant = await partsMeant({ ctx, input: bodies.map(({ part }) => part) });
    return bodies.map((item) => renamedInStock(item, meant));
  },
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
