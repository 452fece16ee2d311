import { byCode } from './code.ts';
import type { LoomRevision } from './loom.ts';
import { OPTIONAL_LISTS } from './loomLists.ts';
import type { SayFault } from './gathered.ts';
import { isChoice, namesIn, optionSetsOf } from './optionSets.ts';

export interface Optional {
  options?: string[] | undefined;
}

/**
 * Options that the loom does not have; choices that cannot be made; and things that are there without what they name: a
 * wire to a point that stands only with an option must stand only with it too. So whatever is chosen, what is left names
 * only what is left. A choice makes no more allowed: of RHD | LHD, what stands with RHD is away with LHD.
 */
export function optionFaults(loom: LoomRevision, fault: SayFault): void {
  choicesStated(loom.options ?? [], fault);
  const { names, oneOf } = optionSetsOf(loom.options);
  const all = new Set(names);
  const stated = names.join(', ');
  for (const list of OPTIONAL_LISTS)
    loom[list].forEach((item, index) => {
      item.options?.forEach((option, at) => {
        if (typeof option === 'string' && !all.has(option))
          fault('unknown-option', [list, index, 'options', at], unknownOption(option, stated));
      });
      for (const choices of oneOf) {
        const own = choices.filter((option) => item.options?.includes(option));
        if (own.length > 1)
          fault(
            'options-exclude-each-other',
            [list, index, 'options'],
            `only one of ${choices.join(', ')} can be chosen, so an item with ${own.join(' and ')} is never made; name only one of them`,
          );
      }
    });
  if (all.size > 0) leftHanging(loom, fault);
}

function unknownOption(option: string, stated: string): string {
  if (isChoice(option))
    return 'name single options here; state the choice between them in the options of the loom';
  return stated === ''
    ? `the loom has no options; add ${option} to its options, or remove it here`
    : `the loom has the options ${stated}; add this one to them or name another`;
}

/** Choices of fewer than two options, and options that stand in a choice and elsewhere. */
function choicesStated(entries: readonly string[], fault: SayFault): void {
  const first = new Map<string, number>();
  entries.forEach((entry, index) => {
    if (typeof entry !== 'string') return;
    const path = ['options', index];
    const own = namesIn(entry);
    if (isChoice(entry) && (own.includes('') || new Set(own).size < own.length)) {
      fault('choice-not-complete', path, 'a choice names two options or more, each once: "RHD | LHD"');
      return;
    }
    for (const name of own) {
      const before = first.get(name);
      if (before === undefined) first.set(name, index);
      else if ([before, index].some((at) => isChoice(entries[at] ?? '')))
        fault(
          'option-stated-twice',
          path,
          `${name} is already at options/${before}; state an option once, alone or in one choice`,
        );
    }
  });
}

/** References from what is there to what may be away. */
function leftHanging(loom: LoomRevision, fault: SayFault): void {
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
      fault(
        'absent-with-options',
        path,
        `${word} ${id} is in the loom only with ${missing.join(', ')}; give this the same options, or name something that is always in the loom`,
      );
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
}

type Lists = Pick<LoomRevision, (typeof OPTIONAL_LISTS)[number]>;

/** Whether a thing stands in a loom made with these options. */
export function standsWith({ options = [] }: Optional, chosen: readonly string[]): boolean {
  return options.every((option) => chosen.includes(option));
}

/** The loom with only the things that are kept. */
export function keeping<L extends Lists>(loom: L, keep: (item: Optional) => boolean): L {
  return {
    ...loom,
    points: loom.points.filter(keep),
    branches: loom.branches.filter(keep),
    wires: loom.wires.filter(keep),
    cables: loom.cables.filter(keep),
    coverings: loom.coverings.filter(keep),
    fittings: loom.fittings.filter(keep),
    parts: loom.parts.filter(keep),
  };
}

/** The loom made with these options: what stands only with others is left out. */
export function withOptions<L extends Lists>(loom: L, chosen: readonly string[]): L {
  return keeping(loom, (item) => standsWith(item, chosen));
}

/** Every thing of a loom that may stand only with options. */
export function optionalThings(loom: Lists): Optional[] {
  return OPTIONAL_LISTS.flatMap((list): readonly Optional[] => loom[list]);
}

/** Options are a set: each once, in byte order, and none where there are none. */
export function optionsInOrder<T extends Optional>(item: T): T {
  const { options, ...rest } = item;
  if (options === undefined) return item;
  // Of T but for options, which are as T has them or left out.
  return (options.length === 0 ? rest : { ...rest, options: [...new Set(options)].sort(byCode) }) as T;
}
