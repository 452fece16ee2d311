import { z } from 'zod';
import { Code, Day } from '../engine/model/code.ts';
import { LIMITS } from '../engine/model/limits.ts';
import { Movement, MovementIn } from '../engine/model/movement.ts';
import { ReceiptLine } from '../engine/model/order.ts';
import { withShort } from '../engine/model/short/form.ts';
import { lengthsForm } from '../engine/model/short/lengthsForm.ts';
import { DELIVERY, LEDGER, MOVEMENTS, ORDERS, RECEIPTS } from './columns/ledger.ts';
import type { Table } from './tables.ts';

/** Tables of orders, of what came of them and of what happened on the shelf: they are no part of a folder. */

/** The most movements of one table: each is worked by itself. */
const MOST_MOVEMENTS = 500;

/** The same schema; in a cell its lengths are one text. */
const inCell = <S extends z.ZodType>(schema: S): S => withShort(schema.clone(), lengthsForm);

const DeliveryRow = ReceiptLine.extend({
  lengthsMm: inCell(ReceiptLine.shape.lengthsMm.unwrap()).default([]),
});
const ReceiptRow = DeliveryRow.extend({
  id: z.string(),
  number: z.string().optional(),
  day: Day,
  at: z.string(),
  note: z.string().optional(),
});
const LedgerRow = Movement.extend({ piecesMm: inCell(Movement.shape.piecesMm.unwrap()).optional() });

/** A movement with its stock item, field by field: what it is of each kind says the model. */
const MovementRow = z.discriminatedUnion(
  'kind',
  MovementIn.options.map((option) =>
    option.extend({
      stock: Code,
      ...('piecesMm' in option.shape ? { piecesMm: inCell(option.shape.piecesMm) } : {}),
    }),
  ) as unknown as [z.ZodObject<{ kind: z.ZodLiteral }>],
);

type Given = Pick<Table, 'name' | 'columns' | 'schema' | 'mostRows' | 'says'> & Partial<Table>;
const table = (given: Given): Table => ({ list: '', ofLooms: false, key: [], ...given });

export const ordersTable = table({
  name: 'orders',
  columns: ORDERS,
  schema: z.unknown(),
  mostRows: Infinity,
  says: 'One row an order.',
});

export const deliveryTable = table({
  name: 'delivery',
  columns: DELIVERY,
  schema: DeliveryRow,
  mostRows: LIMITS.loomParts,
  says: 'One row a line of the order of which something came.',
});

export const receiptsTable = table({
  name: 'deliveries',
  columns: RECEIPTS,
  schema: ReceiptRow,
  mostRows: Infinity,
  says: 'One row a line of a delivery.',
});

export const movementsTable = table({
  name: 'movements',
  columns: MOVEMENTS,
  schema: MovementRow,
  shape: 'kind',
  mostRows: MOST_MOVEMENTS,
  says: 'One row a movement of a stock item.',
});

export const ledgerTable = table({
  name: 'ledger',
  columns: LEDGER,
  schema: LedgerRow,
  mostRows: Infinity,
  says: 'One row a movement of a stock item, with the count after it.',
});
