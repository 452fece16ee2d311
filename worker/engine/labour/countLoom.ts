import { circuitsOf } from '../loom/graph/circuits.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { Laid } from '../loom/coverings/layers.ts';
import type { JobLoom } from '../model/job.ts';
import type { Operation } from '../model/labour.ts';
import { SIDES } from '../model/loom.ts';
import type { Part } from '../model/part.ts';
import type { Count, Counts } from './count.ts';
import { countCoverings } from './coverings.ts';
import { countEnds } from './ends.ts';

/**
 * How often each operation is done to make one loom and to fit it. The loom is looked at by itself: a half that is plugged into
 * another loom is fitted with its own, and a circuit that goes on in another loom is tested in each.
 */
export function countLoom(asked: AskedLoom, parts: ReadonlyMap<string, Part>, laid: readonly Laid[]): Counts {
  const { loom } = asked;
  const counts = new Map<Operation, number>();
  const count: Count = (operation, more) => {
    if (more > 0) counts.set(operation, (counts.get(operation) ?? 0) + more);
  };
  const { wires, cables } = loom;
  count('takingOff', wires.length);
  count('recording', wires.length);
  if (wires.length > 0) for (const each of ['board', 'layout', 'faults'] as const) count(each, 1);
  const cableIds = new Set(cables.map(({ id }) => id));
  const single = wires.filter(({ inCable }) => inCable === undefined || !cableIds.has(inCable));
  count('cutting', [...single, ...cables].filter(({ supply }) => supply !== 'reuse').length);
  count('sheath', 2 * cables.filter(({ supply }) => supply !== 'reuse').length);
  countEnds(asCut(loom), parts, count);
  countCoverings(asked, laid, count);
  for (const { quantity } of loom.fittings) count('fittings', quantity);
  const circuits = circuitsOf([asked], parts).all.length;
  count('testing', circuits);
  count('testingFitted', circuits);
  count('fitting', pointsFitted(loom));
  return counts;
}

/** The wires with cores taken for reused where their cable is. */
function asCut({ wires, cables }: JobLoom): JobLoom['wires'] {
  const supplies = new Map(cables.map(({ id, supply }) => [id, supply]));
  return wires.map((wire) => {
    const supply = wire.inCable === undefined ? undefined : supplies.get(wire.inCable);
    return supply === undefined || supply === wire.supply ? wire : { ...wire, supply };
  });
}

/** The points at which wires leave the loom for the vehicle. Two halves of this loom that are plugged together are one act. */
function pointsFitted({ code, points, wires }: JobLoom): number {
  const used = new Set(wires.flatMap((wire) => SIDES.map((side) => wire[side].point)));
  const fitted = points.filter(({ id, kind }) => used.has(id) && kind !== 'joint' && kind !== 'breakout');
  const ids = new Set(fitted.map(({ id }) => id));
  const pairs = new Set(
    fitted.flatMap(({ id, matedTo }) =>
      matedTo && (matedTo.loom ?? code) === code && ids.has(matedTo.point) && matedTo.point !== id
        ? [JSON.stringify([id, matedTo.point].sort())]
        : [],
    ),
  );
  return fitted.length - pairs.size;
}
