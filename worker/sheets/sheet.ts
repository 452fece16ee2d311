import type { Result } from '../engine/model/result.ts';
import type { Section } from './block.ts';
import { withOptions } from './options.ts';

/** One sheet of a quote: what it says, before it is text, a page or a PDF. */
export interface Sheet {
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
