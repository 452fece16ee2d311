import type { Part } from '../model/part.ts';
import { addTo } from '../model/group.ts';
import { joinOf, SIDES, type End } from '../model/loom.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import { supplyOf } from '../loom/counts/supply.ts';

type Point = AskedLoom['loom']['points'][number];

/** What a point is on the bench, where the loom lies bare and everything is unplugged. */
export interface OnBench {
  point: Point;
  part: Part | undefined;
  /** Whether its part is there and its ends stay in it: a housing, a joiner, a new fuse holder, a device that is soldered in. */
  here: boolean;
}

/**
 * The points of a loom as they are on the bench. What another loom brings is not there, and no device into which terminals
 * are pushed or screwed; a fuse holder that is bought, or taken from stock, is.
 */
export function onBench(asked: AskedLoom, { parts }: CheckContext): ReadonlyMap<string, OnBench> {
  const ends = new Map<string, End[]>();
  for (const wire of asked.loom.wires) for (const side of SIDES) addTo(ends, wire[side].point, wire[side]);
  return new Map(
    asked.loom.points.map((point) => {
      const part = point.part === undefined ? undefined : parts.get(point.part);
      return [point.id, { point, part, here: isHere(point, part, ends.get(point.id) ?? []) }] as const;
    }),
  );

  function isHere(point: Point, part: Part | undefined, own: readonly End[]): boolean {
    if (point.suppliedByLoom !== undefined && point.suppliedByLoom !== asked.loom.code) return false;
    if (point.kind === 'connector' || point.kind === 'joiner') return true;
    if (point.kind !== 'device') return false;
    const { supply } = supplyOf(point, part, asked.settings);
    const isNew = supply === 'buy' || supply === 'stock';
    const type = part?.kind === 'device' ? part.deviceType : undefined;
    if (type === 'fuseHolder' && isNew) return true;
    const staysIn = isNew && (type === 'diode' || type === 'resistor');
    return own.length > 0 && own.every((end) => isFirm(end, staysIn));
  }

  function isFirm(end: End, staysIn: boolean): boolean {
    const terminal = parts.get(asked.terminalOf(end)?.part ?? '');
    if (terminal) return terminal.kind === 'terminal' && terminal.terminalType === 'splice';
    return joinOf(end) === 'solder' || (staysIn && joinOf(end) === 'bare');
  }
}
