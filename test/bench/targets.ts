import { nameOf, variantsOf, type Family, type Variant } from './instances.ts';
import {
  allProvenIn,
  gapIn,
  goodAnswerIn,
  medianAtMost,
  memoryUnder,
  timesFasterThanDirect,
  type Judge,
  type Judged,
} from './judges.ts';
import type { Row } from './row.ts';

/** What is to be reached, and what was. */
export interface Target {
  target: string;
  figure: string;
  result: 'reached' | 'missed' | 'not run';
}

/** How the published sets came out. */
export interface Published {
  instances: number;
  /** Proven, at the known optimum. */
  right: number;
  /** Seconds of the slowest. */
  worst: number;
}

/** All targets, of what the engine and the model given straight to the solver made of the instances. */
export function targetsOf(rows: readonly Row[], published: Published | undefined): Target[] {
  const of = (family: Family, variant: Variant, words: string, judge: Judge): Target => {
    const own = rows.filter((row) => row.family === family && row.variant === variant);
    const isRun = own.some(({ by }) => by === 'engine');
    return targetFrom(`${nameOf(family, variant)}: ${words}`, isRun ? judge(own) : undefined);
  };
  const each = (families: readonly Family[], words: string, judge: Judge) =>
    families.flatMap((family) => variantsOf(family).map((variant) => of(family, variant, words, judge)));
  return [
    ...each(['loom'], 'median at most 0.3 s', medianAtMost(0.3)),
    ...each(['loom'], 'all proven', allProvenIn(Infinity)),
    ...each(['wide'], 'median at most 3 s', medianAtMost(3)),
    ...each(['wide'], 'all proven in 60 s', allProvenIn(60)),
    of('wide', 'correlated', 'proven or within 0.05 % in 10 s', gapIn('0.05', 10)),
    ...each(['wide'], 'at least 10 times faster than direct, median', timesFasterThanDirect(10)),
    ...each(['pool'], 'within 0.01 % in 10 s', gapIn('0.01', 10)),
    ...each(['pool'], 'all proven in 60 s', allProvenIn(60)),
    ...each(['widest'], 'within 0.1 % in 30 s', gapIn('0.1', 30)),
    ...each(['loom', 'wide'], 'an answer within 1 % in 0.3 s', goodAnswerIn(0.3)),
    ...each(['pool', 'widest', 'cutting'], 'an answer within 1 % in 2 s', goodAnswerIn(2)),
    ...each(['cutting'], 'proven or within 0.1 % in 2 s', gapIn('0.1', 2)),
    targetFrom('one instance takes less than 400 MB', memoryUnder(400)(rows)),
    targetFrom('published cutting instances: all proven, each in 5 s', published && judgedSets(published)),
  ];
}

function targetFrom(target: string, judged: Judged | undefined): Target {
  return {
    target,
    figure: judged?.figure ?? '',
    result: judged === undefined ? 'not run' : judged.isReached ? 'reached' : 'missed',
  };
}

function judgedSets({ instances, right, worst }: Published): Judged {
  return {
    figure: `${right} of ${instances}, slowest ${worst.toFixed(2)} s`,
    isReached: right === instances && worst <= 5,
  };
}
