import { catalogue } from './catalogue.ts';
import { suppliers as table } from './schema/index.ts';

export const suppliers = catalogue({
  table,
  word: 'supplier',
  columns: () => ({}),
  inUse: { offers_supplier: 'This supplier has offers. Remove them first.' },
});
