import type { LoomBranch } from '../engine/model/quotedLoom.ts';
import type { Requirement, Result } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { table, type Block } from './block.ts';
import { labelOf, neededOf } from './needs.ts';
import { madeAs } from './options.ts';

const sumOf = ({ steps }: { steps: readonly { text: string }[] }) => steps.map(({ text }) => text).join('; ');

/** Every need with the sum that led to it. */
export function needSums({ requirements }: Result): Block[] {
  return table(
    [
      { head: 'Need', wraps: true },
      { head: 'Needed', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements.map((need) => [labelOf(need), neededOf(need), sumOf(need)]),
  );
}

/** Where each counted part is used. */
export function partUses({ requirements }: Result): Block[] {
  return table(
    [
      { head: 'Part', wraps: true },
      { head: 'Each loom', align: 'right' },
      { head: 'In all', align: 'right' },
      { head: 'Where', wraps: true },
    ],
    requirements.flatMap((need) =>
      need.kind === 'count'
        ? need.uses.map(({ loom, where, each, total }) => [
            need.label,
            `${each}`,
            `${total}`,
            `${loom}: ${where}`,
          ])
        : [],
    ),
  );
}

/** The cut length of every wire, cable and covering, with the sum that led to it; spares after their pieces. */
export function cutSums({ requirements }: Result): Block[] {
  return table(
    [
      { head: 'Loom' },
      { head: 'Piece' },
      { head: 'Is', wraps: true },
      { head: 'Cut', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements.flatMap((need) => (need.kind === 'count' ? [] : piecesOf(need))),
  );
}

function piecesOf(need: Exclude<Requirement, { kind: 'count' }>): string[][] {
  const label = labelOf(need);
  const pieces = need.pieces.map((piece) => [
    piece.loom,
    'wire' in piece ? piece.wire : piece.what,
    label,
    `${piece.count} × ${piece.cutMm} mm`,
    sumOf(piece),
  ]);
  const spares = (need.spares ?? []).map(({ cutMm, count }) => [
    '',
    'spare',
    label,
    `${count} × ${cutMm} mm`,
    '',
  ]);
  return [...pieces, ...spares];
}

const HOW: Record<NonNullable<LoomBranch['how']>, string> = {
  exact: '',
  packed: '',
  estimate: ' (estimate)',
};

/** What runs along each branch, and how thick it is. */
export function branches({ looms }: Result): Block[] {
  return table(
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

/** Which wires are joined together. */
export function circuits({ circuits: all, looms }: Result): Block[] {
  return table(
    [
      { head: 'Circuit', wraps: true },
      { head: 'Wires', wraps: true },
    ],
    all.map(({ id, names, wires }) => [
      names.join(', ') || id,
      wires.map(({ loom, wire }) => (looms.length === 1 ? wire : `${loom}/${wire}`)).join(', '),
    ]),
  );
}

/** What is bought and not used, with what it cost. */
export function leftovers({ leftovers: all, currency }: Result): Block[] {
  return table(
    [
      { head: 'Leftover', wraps: true },
      { head: 'How much', align: 'right' },
      { head: currency, align: 'right' },
    ],
    all.map(({ label, surplus }) => [
      label,
      surplus.mm === undefined ? `${surplus.quantity ?? 0}` : metres(surplus.mm),
      surplus.value.amount,
    ]),
  );
}
