import type { OrderList, Result } from '../engine/model/result.ts';

/** ", with RHD, overdrive"; of one that has none: nothing. */
export function withOptions(options: readonly string[]): string {
  return options.length === 0 ? '' : `, with ${options.join(', ')}`;
}

/** What names a loom in the tables: its code, with its options where it is made with several sets. */
export function madeAs({ loom, madeAs: name }: Result['looms'][number]): string {
  return name ?? loom;
}

/** "Bought for 2 × Front loom, with RHD; 1 × Rear loom", where options are chosen; else nothing. */
export function boughtFor({ madeFor: looms = [] }: OrderList): string[] {
  if (looms.length === 0) return [];
  const words = looms.map(({ name, quantity, options }) => `${quantity} × ${name}${withOptions(options)}`);
  return [`Bought for ${words.join('; ')}`];
}
