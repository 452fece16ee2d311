import type { CutLength, LeftOut, Requirement, Result } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { textTable } from './textTable.ts';

type WireNeed = Extract<Requirement, { kind: 'wire' }>;
type LengthNeed = Extract<Requirement, { kind: 'length' }>;
type CountNeed = Extract<Requirement, { kind: 'count' }>;

const isWire = (need: Requirement): need is WireNeed => need.kind === 'wire';
const isLength = (need: Requirement): need is LengthNeed => need.kind === 'length';
const isCount = (need: Requirement): need is CountNeed => need.kind === 'count';

/** What is bought, in words; where it stands in, with what the looms name beside it. */
function labelOf({ label, boughtAs }: Requirement): string {
  return boughtAs ? `${boughtAs.map((each) => each.label).join(' and ')}, in place of ${label}` : label;
}

/** The code of the same. */
function codeOf({ part, boughtAs }: LengthNeed | CountNeed): string {
  return boughtAs ? `${boughtAs.map((each) => each.part).join(' and ')}, in place of ${part}` : part;
}

/** Wire to buy by the metre, each with the sum of its pieces. */
export function wireNeeds({ requirements }: Result): string {
  return textTable(
    [
      { head: 'Wire', wraps: true },
      { head: 'Needed', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements.filter(isWire).map((need) => [labelOf(need), metres(need.totalMm), sums(need)]),
  );
}

/** Sleeve, tape and cable to buy by length, each with the sum of its pieces. */
export function lengthNeeds({ requirements }: Result): string {
  return textTable(
    [
      { head: 'Sleeve, tape, cable', wraps: true },
      { head: 'Code', wraps: true },
      { head: 'Needed', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements
      .filter(isLength)
      .map((need) => [labelOf(need), codeOf(need), metres(need.totalMm), sums(need)]),
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
    requirements.filter(isCount).map((need) => [labelOf(need), codeOf(need), `${need.quantity}`, sums(need)]),
  );
}

/** The cut length of every wire, cable and covering, with the sum that led to it. */
export function cutLengths({ requirements }: Result): string {
  return textTable(
    [
      { head: 'Loom' },
      { head: 'Piece' },
      { head: 'Is', wraps: true },
      { head: 'Cut', align: 'right' },
      { head: 'Sum', wraps: true },
    ],
    requirements.flatMap((need) =>
      need.kind === 'count'
        ? []
        : need.pieces
            .map((piece) => [
              piece.loom,
              'wire' in piece ? piece.wire : piece.what,
              labelOf(need),
              `${piece.count} × ${piece.cutMm} mm`,
              sums(piece),
            ])
            .concat(
              (need.spares ?? []).map(({ cutMm, count }) => [
                '',
                'spare',
                labelOf(need),
                `${count} × ${cutMm} mm`,
                '',
              ]),
            ),
    ),
  );
}

const sums = ({ steps }: { steps: { text: string }[] }) => steps.map(({ text }) => text).join('; ');

/** More pieces than this of one length are not written out. */
const PIECES = 12;

/** Which pieces come out of which bought length, and what is left of it. */
export function cutting(result: Result): string {
  const labels = new Map(result.requirements.map(({ id, label }) => [id, label]));
  return textTable(
    [
      { head: 'Cut from', wraps: true },
      { head: 'Of offer', wraps: true },
      { head: 'Lengths', align: 'right' },
      { head: 'Pieces, mm', wraps: true },
      { head: 'Left', align: 'right' },
    ],
    result.cuttingPlans.flatMap(({ requirement, exact, lengths }) =>
      lengths.map(({ offer, stock, lengths: alike, usableMm, pieces, offcutMm }) => [
        `${labels.get(requirement) ?? requirement}${exact ? '' : ' (not proven least)'}`,
        offer ?? `shelf: ${stock ?? ''}`,
        `${alike} × ${metres(usableMm)}`,
        piecesOf(pieces, result.looms.length),
        metres(offcutMm),
      ]),
    ),
  );
}

/** " (W1, W4)", with their looms where there are several; many are not written out. */
function namesOf(names: readonly string[], looms: number): string {
  const short = (name: string) => (looms === 1 ? name.replace(/^[^/]*\//, '') : name);
  const all = [...new Set(names.map(short))];
  return all.length === 0 || all.length > PIECES ? '' : ` (${all.join(', ')})`;
}

function piecesOf(pieces: CutLength['pieces'], looms: number): string {
  if (pieces.length === 0) return 'none';
  const more = pieces.length - PIECES;
  const written = pieces
    .slice(0, PIECES)
    .map(({ cutMm, count, names }) => `${count} × ${cutMm}${namesOf(names ?? [], looms)}`);
  return [...written, ...(more > 0 ? [`and ${more} more lengths`] : [])].join(', ');
}

/** What comes off the shelf. */
export function fromStock(result: Result): string {
  return textTable(
    [
      { head: 'From the shelf', wraps: true },
      { head: 'Item', wraps: true },
      { head: 'Part', wraps: true },
      { head: 'Taken', align: 'right' },
    ],
    result.fromStock.map(({ label, stock, part, insteadOf, count, lengthMm }) => [
      label,
      stock,
      insteadOf === undefined ? part : `${part} in place of ${insteadOf}`,
      lengthMm === undefined ? `${count}` : `${count} × ${metres(lengthMm)}`,
    ]),
  );
}

/** What is left over, with what it cost. */
export function leftovers(result: Result): string {
  return textTable(
    [
      { head: 'Left over', wraps: true },
      { head: 'How much', align: 'right' },
      { head: result.currency, align: 'right' },
    ],
    result.leftovers.map(({ label, surplus }) => [
      label,
      surplus.mm === undefined ? `${surplus.quantity ?? 0}` : metres(surplus.mm),
      surplus.value.amount,
    ]),
  );
}

const SUPPLY_WORDS: Record<LeftOut['supply'], string> = {
  reuse: 'reused from the old loom',
  stock: 'from stock',
  ownerSupplies: 'the owner supplies it',
  otherLoom: 'the other loom brings it',
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
      `${SUPPLY_WORDS[line.supply]}${line.bySetting === undefined ? '' : `, by the setting ${line.bySetting}`}`,
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
