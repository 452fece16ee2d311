import type { Result } from '../engine/model/result.ts';
import type { Section } from './block.ts';
import { withOptions } from './options.ts';

/** The sheets of a quote, in the order in which they are used, as commands, paths and files name them. */
export const SHEET_NAMES = ['quote', 'orders', 'cutting', 'labels', 'build', 'test'] as const;
export type SheetName = (typeof SHEET_NAMES)[number];

export const SHEET_TITLES: Record<SheetName, string> = {
  quote: 'Quote',
  orders: 'Order lists',
  cutting: 'Cutting sheet',
  labels: 'Label sheet',
  build: 'Build sheet',
  test: 'Test sheet',
};

/** One sheet of a quote: what it says, before it is text, a page or a PDF. */
export interface Sheet {
  name: SheetName;
  title: string;
  sections: readonly Section[];
}

/** What every page of a sheet says of what it belongs to: "Front loom (front, revision 2), with RHD. As of 2026-03-02". */
export function loomsLine({ looms, asOf }: Result): string {
  const names = looms.map(
    ({ loom, name, revision, quantity, options }) =>
      `${quantity === 1 ? '' : `${quantity} × `}${name} (${loom}, revision ${revision})${withOptions(options)}`,
  );
  return `${names.join('; ')}. As of ${asOf}`;
}
