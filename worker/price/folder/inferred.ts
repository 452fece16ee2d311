import { isFields, type Fields } from '../../tables/column.ts';
import { Job } from '../../engine/model/job.ts';
import { SIDES } from '../../engine/model/loom.ts';
import { expanded } from '../../engine/model/short/expand.ts';
import { valueAt } from '../../tables/column.ts';
import type { PointKind } from '../../engine/model/loom.ts';
import type { z } from 'zod';
import { idsIn, type Assembled } from './assemble.ts';

type Kind = z.infer<typeof PointKind>;

interface Named {
  terminals: string[];
  ends: number;
  withWay: boolean;
  joint: boolean;
}

/**
 * Points that are named at ends or branches and entered nowhere come into being. The kind is the one of which the checks ask
 * nothing that was not said: a joint where an end is a joint; a stud where rings are stacked, all ends with a ring and none
 * with a way (on a stud all are joined); a breakout where only branches meet; else a device.
 */
export function addPoints(loom: Fields, ringCodes: ReadonlySet<string>): { id: string; kind: Kind }[] {
  const points = Array.isArray(loom['points']) ? (loom['points'] as unknown[]) : [];
  const known = new Set(idsIn(points));
  const found = new Map<string, Named>();
  const name = (id: unknown): Named | undefined => {
    if (typeof id !== 'string' || id === '' || known.has(id)) return undefined;
    const named = found.get(id) ?? { terminals: [], ends: 0, withWay: false, joint: false };
    found.set(id, named);
    return named;
  };
  for (const wire of fieldsIn(loom['wires']))
    for (const side of SIDES) {
      const end = wire[side];
      if (!isFields(end)) continue;
      const named = name(end['point']);
      if (!named) continue;
      named.ends++;
      const part = valueAt(end, ['terminal', 'part']);
      if (typeof part === 'string') named.terminals.push(part);
      else if (end['sharesTerminal'] !== undefined) named.ends--;
      if (end['way'] !== undefined) named.withWay = true;
      if (end['join'] === 'joint') named.joint = true;
    }
  for (const branch of fieldsIn(loom['branches'])) {
    name(branch['from']);
    name(branch['to']);
  }
  const made = [...found].map(([id, named]) => ({ id, kind: kindOf(named, ringCodes) }));
  if (made.length > 0) loom['points'] = [...points, ...made];
  return made;
}

function kindOf({ terminals, ends, withWay, joint }: Named, ringCodes: ReadonlySet<string>): Kind {
  if (joint) return 'joint';
  if (ends === 0 && terminals.length === 0) return 'breakout';
  const allRings =
    terminals.length > 0 && terminals.length === ends && terminals.every((code) => ringCodes.has(code));
  return allRings && !withWay ? 'stud' : 'device';
}

/** The codes of terminals that are rings. */
export function rings(parts: readonly unknown[]): Set<string> {
  return new Set(
    parts
      .filter(isFields)
      .flatMap(({ code, kind, terminalType }) =>
        kind === 'terminal' && terminalType === 'ring' && typeof code === 'string' ? [code] : [],
      ),
  );
}

/** Codes of terminals at points that are not entered, and that no part has: these decide on the point's kind. */
export function terminalsToLookUp({ document }: Assembled): boolean {
  const codes = new Set(document.parts.filter(isFields).map(({ code }) => code));
  return document.looms.some((loom) => {
    const known = new Set(idsIn(loom['points']));
    return fieldsIn(loom['wires']).some((wire) =>
      SIDES.some((side) => {
        const end = wire[side];
        const part = valueAt(end, ['terminal', 'part']);
        return isFields(end) && part !== undefined && !codes.has(part) && !known.has(String(end['point']));
      }),
    );
  });
}

/** Codes of parts that the document names and does not have. */
export function partsMissing(document: Fields): string[] {
  const { document: long } = expanded(Job, document);
  const read = Job.safeParse(long);
  const codes = (read.error?.issues ?? []).flatMap((issue) => {
    if (issue.code !== 'custom' || issue.params?.['code'] !== 'unknown-part') return [];
    let value: unknown = long;
    for (const key of issue.path) value = (value as Record<PropertyKey, unknown> | undefined)?.[key];
    return typeof value === 'string' ? [value] : [];
  });
  return [...new Set(codes)];
}

function fieldsIn(list: unknown): Fields[] {
  return (Array.isArray(list) ? (list as unknown[]) : []).filter(isFields);
}
