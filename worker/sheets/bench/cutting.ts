import type { Result } from '../../engine/model/result.ts';
import { metres } from '../../engine/units/length.ts';
import { groups, list, under, type Column, type Row, type Section } from '../block.ts';
import { cautions } from '../remarks.ts';
import { benchIndex, endWorkWords, type BenchIndex } from './atTheEnd.ts';
import { benchLengths, offcutKeptMm, type BenchLength, type PlacedPiece } from './lengths.ts';

/** Before a length that the work of its wire asks for. */
const EXACTLY = 'exactly ';

const COLUMNS: Column[] = [
  { head: '', tick: true },
  { head: 'Piece' },
  { head: 'mm', align: 'right', boxed: EXACTLY },
  { head: 'From … to, mm', align: 'right' },
  { head: 'First end', wraps: true },
  { head: 'Second end', wraps: true },
];

/** The order of work: common practice, no source. */
const before = (keptMm: number) => [
  'Print the labels before you cut. Put both labels on each piece as soon as it is cut.',
  'Lay the tape measure along the whole length and leave it there: From … to says where each piece starts and ends on it. The longest piece comes first.',
  'A length in a box is cut to the millimetre: the work of its wire depends on it.',
  'What an end says after “thread” goes on the wire before its terminal. Strip is in mm.',
  `Offcuts of ${keptMm} mm and more are kept for stock.`,
  'Make the test crimps on short offcuts of the same wire before you crimp the pieces.',
];

/** The sheet to cut by: each length with every piece and its offcut, why some are exact, and what to take care of. */
export function cuttingSections(result: Result): Section[] {
  const lengths = benchLengths(result);
  if (lengths.length === 0) return [];
  const index = benchIndex(result);
  const count = lengths.filter(({ number }) => number !== undefined).length;
  return [
    { title: 'Before you cut', blocks: list(before(offcutKeptMm(result))) },
    {
      title: 'Cut',
      blocks: groups(
        COLUMNS,
        lengths.map((length) => ({
          head: headOf(length, count),
          rows: [...length.pieces.map((piece) => pieceRow(piece, index)), ...offcutRow(length)],
        })),
      ),
    },
    { title: 'Cut to exactly these lengths', blocks: list(exactLines(lengths)) },
    { title: '', blocks: under('Take care', cautions(result)) },
  ];
}

/** "Length 3 of 54: 6 m of thin-wall 1 mm² brown, Mossgate Wiring" */
function headOf({ number, from, note }: BenchLength, count: number): string {
  if (number === undefined) return from;
  return `Length ${number} of ${count}: ${from}${note === '' ? '' : ` (${note})`}`;
}

function pieceRow(piece: PlacedPiece, index: BenchIndex): Row {
  const { place, cutMm, exact } = piece;
  return [
    '',
    piece.piece,
    `${exact === '' ? '' : EXACTLY}${cutMm}`,
    place === undefined ? '' : `${place.fromMm} … ${place.toMm}`,
    ...endCells(piece, index),
  ];
}

/** Of a wire its two ends; of a cable those of all its cores; of a covering where it lies. */
export function endCells({ name, ends, cores }: PlacedPiece, index: BenchIndex): [string, string] {
  if (cores.length > 0) {
    const loom = name.slice(0, name.lastIndexOf('/'));
    const all = cores.map((core) => ({ core, ends: index.ends(`${loom}/${core}`) }));
    const side = (at: number) =>
      all
        .map(({ core, ends: own }) => {
          const end = own[at];
          return end ? `${core}: ${endWorkWords(end)}` : `core ${core}`;
        })
        .join('. ');
    return [side(0), all.some(({ ends: own }) => own[1]) ? side(1) : ''];
  }
  const [from, to] = index.ends(name, ends);
  if (from && to) return [endWorkWords(from), endWorkWords(to)];
  return [coveringWords(name, index), ''];
}

/** "over left-leg, rear-leg" */
function coveringWords(name: string, index: BenchIndex): string {
  const id = /\/covering (.+)$/.exec(name)?.[1];
  const covering = index.loom(name)?.coverings.find((each) => each.covering === id);
  const over = covering?.branches ?? [];
  return over.length === 0 ? '' : `over ${over.join(', ')}`;
}

function offcutRow({ offcut }: BenchLength): Row[] {
  if (!offcut) return [];
  const { mm, fromMm, keep } = offcut;
  if (mm === 0) return [['', 'offcut', '0', '', 'nothing is left', '']];
  const what = keep ? `keep it: write “${metres(mm)}” on it` : 'for test crimps, then scrap';
  return [['', 'offcut', `${mm}`, `${fromMm} … ${fromMm + mm}`, what, '']];
}

/** A line for each piece, however many lengths it is cut from. */
function exactLines(lengths: readonly BenchLength[]): string[] {
  const lines = lengths.flatMap(({ pieces }) =>
    pieces.flatMap(({ piece, exact }) => (exact === '' ? [] : [`${piece}: ${exact}`])),
  );
  return [...new Set(lines)];
}
