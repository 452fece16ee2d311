import { catalogue } from './catalogue.ts';
import { requireKnown } from './references.ts';
import { stock as table } from './schema/index.ts';

export const stock = catalogue({
  table,
  word: 'stock item',
  columns: ({ part }) => ({ partCode: part }),
  check: (ctx, { part }) => requireKnown(ctx, 'part', [{ code: part, path: ['part'] }]),
});
