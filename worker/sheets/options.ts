import type { OrderList, Result } from '../engine/model/result.ts';

/** ", with RHD, overdrive"; of one that has none: nothing. */
export function withOptions(options: readonly string[]): string {
  return options.length === 0 ? '' : `, with ${options.join(', ')}`;
}

/** What names a loom in the tables: its code, with its options where it is made with several sets. */
export function madeAs({ loom, madeAs: name }: Result['looms'][number]): string {
  return name ?? loom;
}

/** "For 2 × Front loom, with RHD": of an order of a quote in which options are chosen. */
export function madeFor({ madeFor: looms = [] }: OrderList): string[] {
  return looms.map(({ name, quantity, options }) => `For ${quantity} × ${name}${withOptions(options)}`);
}
