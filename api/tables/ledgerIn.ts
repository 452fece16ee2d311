import type { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import { moveMany } from '../../db/moveMany.ts';
import type { MoveAnswer } from '../../db/movements.ts';
import { orderRow, receiptsOf } from '../../db/orders.ts';
import { paidIn } from '../../db/receipts.ts';
import { Day, Name, Note } from '../../worker/engine/model/code.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { MovementIn } from '../../worker/engine/model/movement.ts';
import type { ReceiptIn, ReceiptLine } from '../../worker/engine/model/order.ts';
import { lineStates, receiptFaults } from '../../worker/engine/model/orderLines.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { deliveryTable, movementsTable } from '../../worker/tables/ledgerTables.ts';
import { HttpProblem } from '../http/problem.ts';
import { byEntry, rowsOf, TableReading } from './rowsOf.ts';

/** Deliveries and movements that are entered as tables. */

/** What a table of a delivery does not say. */
export const DeliveryQuery = TableReading.extend({
  number: Name.optional().meta({ description: 'With a table: the supplier’s number of the delivery.' }),
  day: Day.optional().meta({ description: 'With a table: the day on which it came. Left out: today.' }),
  note: Note.optional().meta({ description: 'With a table: your note.' }),
});
type DeliveryQuery = z.infer<typeof DeliveryQuery>;

/** What to do, where it is said of a column. */
const IN_COLUMNS: Readonly<Record<string, string>> = {
  'more-than-ordered': 'Correct the figure; if more came and you keep it, write yes in the column over.',
  'by-the-metre':
    'This line is ordered by the metre. Write the lengths that came in the column lengths mm, and leave arrived empty.',
  'line-twice': 'Say all of a line in one row.',
  'nothing-said': 'This row says nothing of its line. Fill in what came, or take the row out.',
};

const inColumns = (finding: Finding): Finding => ({
  ...finding,
  todo: IN_COLUMNS[finding.code] ?? finding.todo,
});

/**
 * The delivery that a table and its query say, or the body of a call without a table. Errors: NotFound; Invalid with all
 * faults by row and column. Problem: 422 for a query beside a body.
 */
export async function deliveryIn(
  ctx: Ctx,
  {
    id,
    table,
    query,
    body,
  }: { id: string; table: Buffer | undefined; query: DeliveryQuery; body: ReceiptIn },
): Promise<ReceiptIn> {
  const { number, day, note, ...reading } = query;
  if (!table) {
    refuseQueryWithBody(query);
    return body;
  }
  const { list } = await orderRow(ctx, id);
  const came = await receiptsOf(ctx, id);
  const before = lineStates(
    list.lines,
    came.map((receipt) => receipt.body),
  );
  const currency = paidIn(list);
  const rows = await rowsOf({
    table: deliveryTable,
    bytes: table,
    query: reading,
    context: { currency },
    check: (read) =>
      Promise.resolve(
        byEntry(receiptFaults(before, { lines: linesIn(read) }, currency).map(inColumns), 'lines'),
      ),
  });
  return {
    ...(number === undefined ? {} : { number }),
    ...(day === undefined ? {} : { day }),
    ...(note === undefined ? {} : { note }),
    lines: linesIn(rows),
  };
}

/** The table has read them by the schema of a line. */
const linesIn = (rows: readonly Fields[]) => rows as unknown as ReceiptLine[];

function refuseQueryWithBody(query: object): void {
  const stated = Object.entries(query).filter(([, value]) => value !== undefined);
  if (stated.length === 0) return;
  throw new HttpProblem('not-valid', 'This query goes with a table. State it in the body, or leave it out.', {
    findings: stated.map(([name]) => ({
      code: 'only-with-csv',
      severity: 'stop',
      at: `/${name}`,
      where: 'query',
      found: name,
      todo: 'State it in the body, or leave it out.',
    })),
  });
}

/** Moves all that a table says. Error: Invalid with all faults by row and column: then the transaction is undone. */
export async function movedByTable(
  ctx: Ctx,
  { table, query }: { table: Buffer; query: z.infer<typeof TableReading> },
): Promise<MoveAnswer[]> {
  let done: MoveAnswer[] = [];
  await rowsOf({
    table: movementsTable,
    bytes: table,
    query,
    context: {},
    check: async (rows) => {
      const input = rows.map(({ stock, ...asked }) => ({
        stock: String(stock),
        asked: asked as unknown as MovementIn,
      }));
      const moved = await moveMany({ ctx, input });
      done = moved.done;
      return moved.faults;
    },
  });
  return done;
}
