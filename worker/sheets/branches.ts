import type { LoomBranch, Result } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { madeAs } from './options.ts';
import { textTable } from './textTable.ts';

const HOW: Record<NonNullable<LoomBranch['how']>, string> = {
  exact: '',
  packed: '',
  estimate: ' (estimate)',
};

/** What runs along each branch, and how thick it is. */
export function branches({ looms }: Result): string {
  return textTable(
    [
      { head: 'Loom' },
      { head: 'Branch', wraps: true },
      { head: 'Length', align: 'right' },
      { head: 'Wires', align: 'right' },
      { head: 'Bundle, mm', align: 'right' },
      { head: 'Covered, mm', align: 'right' },
      { head: 'They are', wraps: true },
    ],
    looms.flatMap((loom) =>
      loom.branches.map(({ branch, lengthMm, wires, cables, bundleMm, how, coveredMm }) => [
        madeAs(loom),
        branch,
        metres(lengthMm),
        `${wires.length}`,
        bundleMm === undefined ? 'not known' : `${bundleMm}${how ? HOW[how] : ''}`,
        coveredMm === undefined ? '' : `${coveredMm}`,
        [...wires, ...cables.map((cable) => `cable ${cable}`)].join(', '),
      ]),
    ),
  );
}
