import type { Part } from '../../../worker/engine/model/part.ts';
import type { StockItem } from '../../../worker/engine/model/stock.ts';
import type { Stocked } from '../../../worker/sheets/shelf/shelfOrder.ts';

const WIRE: Part = {
  kind: 'wire',
  code: 'wire-green',
  description: 'PVC wire, green',
  cableType: 'pvc',
  size: { system: 'metricStrands', strands: 14, strandMm: 0.3 },
  colour: { base: 'green', tracer: 'yellow' },
};
const RING: Part = { kind: 'terminal', code: 'ring', description: 'Ring terminal', terminalType: 'ring' };

/** So many lengths of a wire. */
export const lengths = (
  code: string,
  count: number,
  lengthMm: number,
  more: Partial<StockItem> = {},
): Stocked => ({
  item: { code, part: WIRE.code, count, ...more, form: 'length', lengthMm },
  part: WIRE,
});

/** So many pieces of a terminal, under a name. */
export const pieces = (
  code: string,
  count: number,
  more: Partial<StockItem> = {},
  description = RING.description,
): Stocked => ({
  item: { code, part: RING.code, count, ...more, form: 'pieces' },
  part: { ...RING, description },
});
