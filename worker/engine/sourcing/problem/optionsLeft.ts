import type { Problem } from './problem.ts';

/** What is left of a problem's options, and of what hangs on them. */
export interface OptionsLeft {
  groups: Problem['groups'];
  /** Whether what counts while one of these is chosen may count; undefined: it always does. */
  mayCount: (when: readonly number[] | undefined) => boolean;
  /** The options on which it hangs; undefined: none any more. */
  whenOf: (when: readonly number[] | undefined) => readonly number[] | undefined;
}

/** `drop`: where there is but one option left of a group, it is chosen, and nothing hangs on it. */
export function optionsLeft(
  groups: Problem['groups'],
  keep: ((option: number) => boolean) | undefined,
  drop: boolean,
): OptionsLeft {
  const left = keep ? groups.map((group) => group.filter(keep)) : groups;
  if (!drop) return { groups: left, mayCount: () => true, whenOf: (when) => when };
  const settled = new Set(left.flatMap((group) => (group.length === 1 ? group : [])));
  const open = new Set(left.flat());
  return {
    groups: left.filter((group) => group.length > 1),
    mayCount: (when) => when === undefined || when.some((option) => open.has(option)),
    whenOf: (when) =>
      when?.some((option) => settled.has(option)) ? undefined : when?.filter((option) => open.has(option)),
  };
}
