import { catalogue } from './catalogue.ts';
import { parts as table } from './schema/index.ts';

export const parts = catalogue({
  table,
  word: 'part',
  columns: () => ({}),
  inUse: {
    offer_parts_part: 'An offer sells this part. Remove the offer first, or change what it sells.',
    loom_parts_part: 'A loom names this part; its revisions never change, so the part stays.',
  },
});
