import type { Result } from '../../engine/model/result.ts';
import { csvPieces } from '../csvPieces.ts';
import { benchIndex, type BenchIndex, type EndWork } from './atTheEnd.ts';
import { endCells } from './cutting.ts';
import { benchLengths, type BenchLength, type PlacedPiece } from './lengths.ts';

const END = [
  'point',
  'way and point',
  'label of point',
  'thread first',
  'strip mm',
  'join',
  'in the vehicle',
];

const HEAD = [
  'length',
  'cut from',
  'piece',
  'mm',
  'starts at mm',
  'ends at mm',
  'exact length',
  'first end',
  'second end',
  ...END.map((head) => `first ${head}`),
  ...END.map((head) => `second ${head}`),
];

/** The cutting sheet as CSV, a row for each piece and each offcut, in pieces. */
export function cuttingCsv(result: Result): Generator<string> {
  return csvPieces(rowsOf(benchLengths(result), benchIndex(result)));
}

function* rowsOf(lengths: readonly BenchLength[], index: BenchIndex): Generator<string[]> {
  yield HEAD;
  for (const { number, from, pieces, offcut } of lengths) {
    const about = [number === undefined ? '' : `${number}`, from];
    for (const piece of pieces) yield [...about, ...pieceCells(piece, index)];
    if (offcut && offcut.mm > 0) {
      const place = [`${offcut.mm}`, `${offcut.fromMm}`, `${offcut.fromMm + offcut.mm}`];
      const cells = [...about, 'offcut', ...place];
      yield HEAD.map((_, at) => cells[at] ?? '');
    }
  }
}

function pieceCells(piece: PlacedPiece, index: BenchIndex): string[] {
  const [first, second] = piece.cores.length > 0 ? [] : index.ends(piece.name, piece.ends);
  return [
    piece.piece,
    `${piece.cutMm}`,
    piece.place ? `${piece.place.fromMm}` : '',
    piece.place ? `${piece.place.toMm}` : '',
    piece.exact,
    ...endCells(piece, index),
    ...workCells(first),
    ...workCells(second),
  ];
}

function workCells(end: EndWork | undefined): string[] {
  if (!end) return END.map(() => '');
  const { point, place, pointLabel = '', first, stripMm, join, inVehicle } = end;
  return [
    point,
    place,
    pointLabel,
    first.join(', then '),
    stripMm === undefined ? '' : `${stripMm}`,
    join,
    inVehicle ? 'yes' : 'no',
  ];
}
