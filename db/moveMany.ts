import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { MovementIn } from '../worker/engine/model/movement.ts';
import type { Ctx } from './club.ts';
import { Conflict, Forbidden, Invalid, NotFound } from './errors.ts';
import { moveStock, type MoveAnswer } from './movements.ts';
import { aloneOnShelf } from './reservations.ts';

/**
 * Moves stock items one after another: each finds the shelf as those before it left it. What cannot be is told by the index of
 * its movement, with the pointers of a movement and its `stock`; whoever gets any of these must undo the transaction.
 */
export async function moveMany({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: readonly { stock: string; asked: MovementIn }[];
}): Promise<{ done: MoveAnswer[]; faults: Map<number, Finding[]> }> {
  await aloneOnShelf(ctx);
  const done: MoveAnswer[] = [];
  const faults = new Map<number, Finding[]>();
  for (const [index, { stock: code, asked }] of input.entries())
    try {
      done.push(await moveStock({ ctx, input: { code, asked } }));
    } catch (error) {
      faults.set(index, findingsOf(error, code));
    }
  return { done, faults };
}

/** Throws what is no refusal of this movement. */
function findingsOf(error: unknown, code: string): Finding[] {
  if (error instanceof Invalid) return error.findings;
  const refused = (fault: string, todo: string): Finding[] => [
    { code: fault, severity: 'stop', at: pointer(['stock']), where: 'stock', found: code, todo },
  ];
  if (error instanceof NotFound)
    return refused('unknown-stock', `${error.message} Correct the code, or add the stock item first.`);
  if (error instanceof Forbidden) return refused('not-yours', error.message);
  if (error instanceof Conflict) return refused(error.code, error.message);
  throw error;
}
