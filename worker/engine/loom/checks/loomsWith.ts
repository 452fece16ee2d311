import type { WireSpec } from '../../job/wireSpec.ts';
import type { JobLoom } from '../../model/job.ts';
import { SIDES, type End, type Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import { supplyOf } from '../counts/supply.ts';
import { terminalsOf } from '../counts/terminals.ts';
import type { CheckContext } from './context.ts';

/** What is put in the looms. */
interface Changes {
  /** By the code of the part that the looms name. */
  replaced: ReadonlyMap<string, Part>;
  /** By loom and wire. */
  wires: ReadonlyMap<string, WireSpec>;
  /** Coverings that name no part name the one that was chosen, so that no other is chosen. */
  layCoverings: boolean;
}

const USES = ['terminal', 'seal', 'cover', 'label'] as const;

/**
 * The looms with other wires in them, and with names of their own for parts that are replaced where they are bought and stay
 * where they are reused, come from stock or are in a loom that is bought made: what these names stand for is told beside them.
 */
export function loomsWith(
  context: CheckContext,
  changes: Changes,
): { looms: readonly AskedLoom[]; kept: ReadonlyMap<string, Part> } {
  const kept = new Map<string, Part>();
  const there = new Set(context.looms.filter(({ boughtMade }) => !boughtMade).map(({ loom }) => loom.code));
  const nameOf = (code: string, isKept: boolean) => {
    const part = changes.replaced.has(code) && isKept ? context.parts.get(code) : undefined;
    if (!part) return code;
    // No code holds a space.
    const name = `kept ${code}`;
    kept.set(name, part);
    return name;
  };
  const withUse = <T extends { part?: string | undefined; supply?: string | undefined }>(
    use: T,
    isMade = false,
  ): T => {
    if (use.part === undefined || (use.supply === 'buy' && !isMade)) return use;
    const part = nameOf(use.part, true);
    return part === use.part ? use : { ...use, part };
  };
  const looms = context.looms.map((asked) => {
    const laid = new Map(
      context.coverings.of(asked.loom.code).map(({ covering, part }) => [covering.id, part?.code]),
    );
    const chosen = (covering: JobLoom['coverings'][number]) =>
      changes.layCoverings && covering.part === undefined
        ? { ...covering, part: laid.get(covering.id) }
        : covering;
    const { loom, settings, boughtMade: isMade = false } = asked;
    const ofLoom = <T extends Parameters<typeof withUse>[0]>(use: T): T => withUse(use, isMade);
    const changed = {
      wires: mapped(loom.wires, (wire) => withEnds(withSpec(loom, wire, changes.wires), ofLoom)),
      points: mapped(loom.points, (point) => {
        const part = point.part === undefined ? undefined : context.parts.get(point.part);
        const { suppliedByLoom = loom.code } = point;
        const stays =
          isMade || supplyOf(point, part, settings).supply !== 'buy' || !there.has(suppliedByLoom);
        const name = part && nameOf(part.code, stays);
        return name === point.part ? point : { ...point, part: name };
      }),
      fittings: mapped(loom.fittings, ofLoom),
      cables: mapped(loom.cables, ofLoom),
      coverings: mapped(loom.coverings, (covering) => ofLoom(chosen(covering))),
    };
    const isSame = Object.entries(changed).every(
      ([field, list]) => list === loom[field as keyof typeof changed],
    );
    if (isSame) return asked;
    const other = { ...loom, ...changed };
    return { ...asked, loom: other, terminalOf: terminalsOf(other) };
  });
  return { looms, kept };
}

function withSpec(loom: JobLoom, wire: Wire, specs: Changes['wires']): Wire {
  const spec = specs.size === 0 ? undefined : specs.get(`${loom.code} ${wire.id}`);
  return spec ? { ...wire, ...spec } : wire;
}

function withEnds(
  wire: Wire,
  withUse: (use: NonNullable<End['terminal']>) => NonNullable<End['terminal']>,
): Wire {
  let made = wire;
  for (const side of SIDES)
    for (const use of USES) {
      const stated = wire[side][use];
      const now = stated && withUse(stated);
      if (now !== stated) made = { ...made, [side]: { ...made[side], [use]: now } };
    }
  return made;
}

/** The list itself where nothing in it changes. */
function mapped<T>(list: T[], change: (item: T) => T): T[] {
  const made = list.map(change);
  return made.every((item, index) => item === list[index]) ? list : made;
}
