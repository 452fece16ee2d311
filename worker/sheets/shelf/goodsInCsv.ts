import type { OrderLineState } from '../../engine/model/order.ts';
import type { OrderLine } from '../../engine/model/result.ts';
import { metresNumber } from '../../engine/units/length.ts';
import { csvPieces } from '../csvPieces.ts';
import { described } from '../orderWords.ts';
import type { OrderOnItsWay } from './goodsIn.ts';

const HEAD = [
  'line',
  'their code',
  'description',
  'unit',
  'pieces in a pack',
  'metres in a length',
  'ordered',
  'came so far',
  'faulty so far',
  'wrong so far',
  'not coming',
  'still to come',
];

/** The lines of an order with where each stands, as CSV (RFC 4180); what is ordered by the metre is in metres. */
export function goodsInCsv({ list, lines }: Pick<OrderOnItsWay, 'list' | 'lines'>): Iterable<string> {
  const states = new Map(lines.map((each) => [each.line, each]));
  return csvPieces([
    HEAD,
    ...list.lines.flatMap((line) => {
      const state = states.get(line.line);
      return state ? [rowOf(line, state)] : [];
    }),
  ]);
}

function rowOf(line: OrderLine, state: OrderLineState): string[] {
  const { bought } = line;
  const { ordered, arrived, faulty, wrong, notComing, outstanding } = state;
  return [
    `${line.line}`,
    line.supplierCode ?? '',
    described(line),
    state.unit === 'mm' ? 'metre' : state.unit,
    bought.form === 'pack' ? `${bought.packCount}` : '',
    bought.form === 'length' ? metresNumber(bought.nominalMm) : '',
    ...[ordered, arrived, faulty, wrong, notComing, outstanding].map((amount) =>
      state.unit === 'mm' ? metresNumber(amount) : `${amount}`,
    ),
  ];
}
