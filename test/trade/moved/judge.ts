import type { Constant } from './constant.ts';

/** What a constant's moving up and down was noticed by; down is undefined of one that is moved one way only. */
export interface Noticed {
  constant: Constant;
  up: readonly string[];
  down: readonly string[] | undefined;
}

/** Values that no moved constant fails, by a part of their names, with the reason. */
export interface Unmoved {
  naming: string;
  why: string;
}

/** What is wrong: constants that no check notices, and values that no constant fails; and reasons given in vain. */
export function faultsOf(
  noticed: readonly Noticed[],
  names: readonly string[],
  unmoved: readonly Unmoved[],
): string[] {
  const failed = new Set(noticed.flatMap(({ up, down }) => [...up, ...(down ?? [])]));
  const reasonFor = (name: string) => unmoved.find(({ naming }) => name.includes(naming));
  return [
    ...noticed.flatMap(({ constant, up, down }) => {
      const ways = [up, down ?? []].filter((failing) => failing.length > 0).length;
      const label = `${constant.file}: ${constant.text}`;
      if (ways === 0) return [`no check notices ${label}`];
      if (ways === 1 && constant.oneWay === undefined) return [`one way only, and no reason why: ${label}`];
      return ways === 2 && constant.oneWay !== undefined ? [`noticed both ways after all: ${label}`] : [];
    }),
    ...names
      .filter((name) => !failed.has(name) && !reasonFor(name))
      .map((name) => `no constant fails the check of ${name}`),
    ...unmoved
      .filter(({ naming }) => !names.some((name) => name.includes(naming) && !failed.has(name)))
      .map(({ naming }) => `a reason for nothing: ${naming}`),
  ];
}
