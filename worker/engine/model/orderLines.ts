import type { Bought } from './bought.ts';
import { pointer, type Finding } from './finding.ts';
import type { OrderEntry } from './orderEntry.ts';
import type { OrderLineState, OrderState, ReceiptIn, ReceiptLine, Returned } from './order.ts';
import type { OrderLine } from './result.ts';

/** How much of a line is ordered: packs, kits or lengths, or the millimetres of one length. */
export function orderedOf(bought: Bought): { unit: OrderLineState['unit']; ordered: number } {
  if (bought.form === 'metre') return { unit: 'mm', ordered: bought.lengthMm };
  return { unit: bought.form, ordered: bought.packs };
}

const lengthsOf = ({ lengthsMm }: Pick<ReceiptLine, 'lengthsMm'>) =>
  lengthsMm.reduce((sum, length) => sum + length, 0);

/** So much of a line came and is right, in its unit. */
export function arrivedOf(unit: OrderLineState['unit'], line: ReceiptLine): number {
  return unit === 'mm' ? lengthsOf(line) : line.arrived;
}

/**
 * Where each line stands after these deliveries, in the order in which they came. What is faulty or wrong is still to come,
 * until the supplier says that it will not.
 */
export function lineStates(
  lines: readonly Pick<OrderLine, 'line' | 'bought'>[],
  receipts: readonly Pick<ReceiptIn, 'lines'>[],
  entries: readonly OrderEntry[] = [],
): OrderLineState[] {
  return lines.map(({ line, bought }) => {
    const { unit, ordered } = orderedOf(bought);
    const own = receipts.flatMap((receipt) => receipt.lines.filter((each) => each.line === line));
    const sum = (of: (each: ReceiptLine) => number) => own.reduce((all, each) => all + of(each), 0);
    const arrived = sum((each) => arrivedOf(unit, each));
    const notComing = sum((each) => each.notComing);
    return {
      line,
      unit,
      ordered,
      arrived,
      faulty: sum(({ faulty }) => faulty),
      wrong: sum(({ wrong }) => wrong),
      backOrdered: own.at(-1)?.backOrdered ?? 0,
      notComing,
      returned: returnedOf(entries, line),
      outstanding: Math.max(0, ordered - arrived - notComing),
    };
  });
}

/** So much of a line went back, in its unit. */
function returnedOf(entries: readonly OrderEntry[], line: number): Returned {
  const returned = { right: 0, faulty: 0, wrong: 0 };
  for (const entry of entries)
    if (entry.kind === 'return' && entry.line === line) returned[entry.what] += entry.amount;
  return returned;
}

/** The state of a sent order after its deliveries. */
export function stateAfter(states: readonly OrderLineState[]): OrderState {
  if (states.every(({ outstanding }) => outstanding === 0)) return 'received';
  return states.some(({ arrived, faulty, wrong, notComing }) => arrived + faulty + wrong + notComing > 0)
    ? 'partReceived'
    : 'sent';
}

/** What cannot be of a delivery, given where the lines stood before it. */
export function receiptFaults(
  before: readonly OrderLineState[],
  { lines }: Pick<ReceiptIn, 'lines'>,
  currency: string,
): Finding[] {
  const states = new Map(before.map((state) => [state.line, state]));
  const seen = new Set<number>();
  return lines.flatMap((line, index): Finding[] => {
    const fault = (
      field: keyof ReceiptLine,
      code: string,
      found: string,
      limit: string,
      todo: string,
    ): Finding => ({
      code,
      severity: 'stop',
      at: pointer(['lines', index, field]),
      where: `lines, number ${index + 1}, ${field}`,
      found,
      limit,
      todo,
    });
    const state = states.get(line.line);
    if (!state)
      return [
        fault(
          'line',
          'unknown-line',
          String(line.line),
          `1 to ${before.length}`,
          `The order has the lines 1 to ${before.length}. Use the number that stands on the order list.`,
        ),
      ];
    if (seen.has(line.line))
      return [fault('line', 'line-twice', String(line.line), 'once', 'Say all of a line in one entry.')];
    seen.add(line.line);
    const arrived = arrivedOf(state.unit, line);
    const faults: Finding[] = [];
    if (state.unit === 'mm' && line.arrived > 0)
      faults.push(
        fault(
          'arrived',
          'by-the-metre',
          String(line.arrived),
          'lengthsMm',
          'This line is ordered by the metre. State the lengths that came as lengthsMm, in mm.',
        ),
      );
    if (state.unit !== 'mm' && line.lengthsMm.length > 0)
      faults.push(
        fault(
          'lengthsMm',
          'not-by-the-metre',
          String(line.lengthsMm.length),
          'arrived',
          'This line is not ordered by the metre. State how many came as arrived.',
        ),
      );
    if (arrived + line.notComing > state.outstanding && line.over !== true)
      faults.push(
        fault(
          state.unit === 'mm' ? 'lengthsMm' : 'arrived',
          'more-than-ordered',
          String(arrived + line.notComing),
          String(state.outstanding),
          `Only ${state.outstanding} of this line are still to come. Correct the figure; if more came and you keep it, add "over": true.`,
        ),
      );
    if (line.paid !== undefined && line.paid.currency !== currency)
      faults.push(
        fault(
          'paid',
          'other-currency',
          line.paid.currency,
          currency,
          `This order is paid in ${currency}. State the amount in ${currency}.`,
        ),
      );
    if (faults.length === 0 && arrived + line.faulty + line.wrong + line.backOrdered + line.notComing === 0)
      faults.push(
        fault(
          'arrived',
          'nothing-said',
          '0',
          '1',
          'This entry says nothing of its line. Fill in what came, or leave the entry out.',
        ),
      );
    return faults;
  });
}
