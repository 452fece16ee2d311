import type { Result } from '../../engine/model/result.ts';
import { csvPieces } from '../csvPieces.ts';
import { endLabels, labelOf } from './labels.ts';

const HEAD = [
  'loom',
  'wire',
  'end',
  'circuit',
  'here',
  'other end',
  'colour',
  'size',
  'line 1',
  'line 2',
  'line 3',
  'line 4',
];

/** All labels as CSV for a printer of labels: a row for each, first as fields, then as the lines that the label sheet has. */
export function labelsCsv(result: Result): Generator<string> {
  return csvPieces(rowsOf(result));
}

function* rowsOf(result: Result): Generator<string[]> {
  yield HEAD;
  for (const label of endLabels(result)) {
    const { loom, wire, side, circuit, here, there, colour, size } = label;
    yield [loom, wire, side, circuit, here, there, colour, size, ...labelOf(label).rows];
  }
}
