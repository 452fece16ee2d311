import { byCode } from './code.ts';
import type { LoomRevision } from './loom.ts';
import type { ReferenceFault } from './loomReferences.ts';

interface Optional {
  options?: string[] | undefined;
}

const LISTS = ['points', 'branches', 'wires', 'cables', 'coverings', 'fittings', 'parts'] as const;

/**
 * Options that the loom does not have; and things that are there without what they name: a wire to a point that stands
 * only with an option must stand only with it too. So whatever is chosen, what is left names only what is left.
 */
export function optionFaults(loom: LoomRevision): ReferenceFault[] {
  const faults: ReferenceFault[] = [];
  const all = new Set(loom.options ?? []);
  for (const list of LISTS)
    loom[list].forEach((item, index) =>
      item.options?.forEach((option, at) => {
        if (typeof option === 'string' && !all.has(option))
          faults.push({
            path: [list, index, 'options', at],
            code: 'unknown-option',
            message:
              all.size === 0
                ? `the loom has no options; add ${option} to its options, or take it out here`
                : `the loom has the options ${[...all].join(', ')}; add this one to them or name another`,
          });
      }),
    );
  return all.size > 0 ? [...faults, ...leftHanging(loom)] : faults;
}

/** References from what is there to what may be away. */
function leftHanging(loom: LoomRevision): ReferenceFault[] {
  const faults: ReferenceFault[] = [];
  const byId = <T extends Optional & { id: string }>(list: readonly T[]) =>
    new Map(list.map((item) => [item.id, item]));
  const points = byId(loom.points);
  const branches = byId(loom.branches);
  const wires = byId(loom.wires);
  const cables = byId(loom.cables);
  const coverings = byId(loom.coverings);
  const needs = (
    item: Optional,
    found: ReadonlyMap<string, Optional>,
    word: string,
    id: string | undefined,
    path: PropertyKey[],
  ) => {
    if (id === undefined) return;
    const missing = (found.get(id)?.options ?? []).filter((option) => !item.options?.includes(option));
    if (missing.length > 0)
      faults.push({
        path,
        code: 'absent-with-options',
        message: `${word} ${id} is there only with ${missing.join(', ')}; give this the same options, or name what is always there`,
      });
  };
  loom.points.forEach((point, index) => {
    if (point.matedTo && point.matedTo.loom === undefined)
      needs(point, points, 'point', point.matedTo.point, ['points', index, 'matedTo', 'point']);
  });
  loom.branches.forEach((branch, index) => {
    needs(branch, points, 'point', branch.from, ['branches', index, 'from']);
    needs(branch, points, 'point', branch.to, ['branches', index, 'to']);
  });
  loom.wires.forEach((wire, index) => {
    const at = (...path: PropertyKey[]) => ['wires', index, ...path];
    needs(wire, points, 'point', wire.from.point, at('from', 'point'));
    needs(wire, points, 'point', wire.to.point, at('to', 'point'));
    needs(wire, cables, 'cable', wire.inCable, at('inCable'));
    needs(wire, wires, 'wire', wire.twistedWith, at('twistedWith'));
    wire.via?.forEach((id, place) => needs(wire, branches, 'branch', id, at('via', place)));
  });
  loom.cables.forEach((cable, index) =>
    cable.via?.forEach((id, place) => needs(cable, branches, 'branch', id, ['cables', index, 'via', place])),
  );
  loom.coverings.forEach((covering, index) => {
    needs(covering, coverings, 'covering', covering.outer, ['coverings', index, 'outer']);
    covering.over?.forEach((id, place) =>
      needs(covering, branches, 'branch', id, ['coverings', index, 'over', place]),
    );
  });
  loom.fittings.forEach((fitting, index) =>
    needs(fitting, branches, 'branch', fitting.branch, ['fittings', index, 'branch']),
  );
  return faults;
}

/** The loom with these options: what stands only with others is left out. */
export function withOptions<L extends Pick<LoomRevision, (typeof LISTS)[number]>>(
  loom: L,
  chosen: readonly string[],
): L {
  const there = (item: Optional) => (item.options ?? []).every((option) => chosen.includes(option));
  return {
    ...loom,
    points: loom.points.filter(there),
    branches: loom.branches.filter(there),
    wires: loom.wires.filter(there),
    cables: loom.cables.filter(there),
    coverings: loom.coverings.filter(there),
    fittings: loom.fittings.filter(there),
    parts: loom.parts.filter(there),
  };
}

/** Options are a set: each once, in byte order, and none where there are none. */
export function optionsInOrder<T extends Optional>(item: T): T {
  const { options, ...rest } = item;
  if (options === undefined) return item;
  // Of T but for options, which are as T has them or left out.
  return (options.length === 0 ? rest : { ...rest, options: [...new Set(options)].sort(byCode) }) as T;
}
