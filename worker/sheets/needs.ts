import type { LeftOut, Requirement, Result } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { textTable } from './textTable.ts';

type WireNeed = Extract<Requirement, { kind: 'wire' }>;
type CountNeed = Extract<Requirement, { kind: 'count' }>;

const isWire = (need: Requirement): need is WireNeed => need.kind === 'wire';
const isCount = (need: Requirement): need is CountNeed => need.kind === 'count';

/** Wire to buy by the metre, each with the sum of its pieces. */
export function wireNeeds({ requirements }: Result): string {
  return textTable(
    [{ head: 'Wire' }, { head: 'Needed', align: 'right' }, { head: 'Sum', wraps: true }],
    requirements.filter(isWire).map((need) => [need.label, metres(need.totalMm), sums(need)]),
  );
}

/** What is counted, each with its uses and spares. */
export function countNeeds({ requirements }: Result): string {
  return textTable(
    [
      { head: 'Part', wraps: true },
      { head: 'Code', wraps: true },
      { head: 'Needed', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements.filter(isCount).map((need) => [need.label, need.part, `${need.quantity}`, sums(need)]),
  );
}

/** The cut length of every wire, with the sum that led to it. */
export function cutLengths({ requirements }: Result): string {
  return textTable(
    [
      { head: 'Loom' },
      { head: 'Wire' },
      { head: 'Is', wraps: true },
      { head: 'Cut', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements
      .filter(isWire)
      .flatMap((need) =>
        need.pieces.map((piece) => [
          piece.loom,
          piece.wire,
          need.label,
          `${piece.count} × ${piece.cutMm} mm`,
          sums(piece),
        ]),
      ),
  );
}

const sums = ({ steps }: { steps: { text: string }[] }) => steps.map(({ text }) => text).join('; ');

const SUPPLY_WORDS: Record<LeftOut['supply'], string> = {
  reuse: 'reused from the old loom',
  stock: 'from stock',
  ownerSupplies: 'the owner supplies it',
};

/** More places than this are not written out. */
const PLACES = 4;

/** What is needed but not bought. */
export function leftOut(result: Result): string {
  return textTable(
    [
      { head: 'Not bought', wraps: true },
      { head: 'Needed', align: 'right' },
      { head: 'Because' },
      { head: 'Where', wraps: true },
    ],
    result.leftOut.map((line) => [
      line.label,
      needed(line),
      SUPPLY_WORDS[line.supply],
      placesOf(line.where.map(({ loom, where }) => `${loom}: ${where}`)),
    ]),
  );
}

function needed({ quantity, totalMm }: LeftOut): string {
  if (totalMm !== undefined) return metres(totalMm);
  return quantity === undefined ? 'length not known' : `${quantity}`;
}

function placesOf(places: readonly string[]): string {
  const more = places.length - PLACES;
  return more > 0 ? `${places.slice(0, PLACES).join('; ')}; and ${more} more` : places.join('; ');
}
