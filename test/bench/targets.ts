import { nameOf, variantsOf, type Family, type Variant } from './instances.ts';
import {
  allProvenIn,
  gapIn,
  medianAtMost,
  memoryUnder,
  quoteProvenIn,
  timesFasterThanDirect,
  type Judge,
  type Judged,
} from './judges.ts';
import type { Row } from './row.ts';
import { isAnswer } from './summary.ts';
import type { Van } from './van.ts';

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
  /** Seconds of processor of the slowest. */
  worst: number;
}

/** All that was run. */
export interface Found {
  rows: Row[];
  van?: Van;
  published?: Published | undefined;
}

/**
 * All targets, of what the engine and the model given straight to the solver made of the instances. Seconds are those of
 * the processor, so that what else the machine does counts for nothing.
 */
export function targetsOf({ rows, van, published }: Found): Target[] {
  const of = (family: Family, variant: Variant, words: string, judge: Judge): Target => {
    const own = rows.filter((row) => row.family === family && row.variant === variant);
    const isRun = own.some(({ by }) => by === 'engine');
    return targetFrom(`${nameOf(family, variant)}: ${words}`, isRun ? judge(own) : undefined);
  };
  const each = (families: readonly Family[], words: string, judge: Judge) =>
    families.flatMap((family) => variantsOf(family).map((variant) => of(family, variant, words, judge)));
  const provenIn = (family: Family, seconds: number) =>
    each([family], `all proven, each in ${seconds} s`, allProvenIn(seconds));
  const answers = [...rows.filter(isAnswer), ...[van?.quote, van?.beside].filter((row) => row !== undefined)];
  return [
    ...provenIn('oneLoom', 1),
    ...provenIn('tenLooms', 5),
    ...provenIn('fortyLooms', 20),
    targetFrom('the van, its quote alone: proven in 1.5 s', van && judgedVan(van)),
    ...each(['loom'], 'median at most 0.5 s', medianAtMost(0.5)),
    ...provenIn('loom', 3),
    ...each(['wide'], 'median at most 3 s', medianAtMost(3)),
    ...provenIn('wide', 20),
    ...each(['wide'], 'at least 10 times faster than direct, median', timesFasterThanDirect(10)),
    ...provenIn('pool', 10),
    ...each(['widest'], 'within 0.05 % in 30 s', gapIn('0.05', 30)),
    ...provenIn('cutting', 2),
    ...provenIn('reels', 3),
    ...provenIn('colours', 5),
    targetFrom('one instance takes less than 400 MB', memoryUnder(400, answers)),
    targetFrom('published cutting instances: all proven, each in 2 s', published && judgedSets(published)),
  ];
}

function targetFrom(target: string, judged: Judged | undefined): Target {
  return {
    target,
    figure: judged?.figure ?? '',
    result: judged === undefined ? 'not run' : judged.isReached ? 'reached' : 'missed',
  };
}

function judgedVan({ quote }: Van): Judged {
  return quote ? quoteProvenIn(1.5, quote) : { figure: 'no answer', isReached: false };
}

function judgedSets({ instances, right, worst }: Published): Judged {
  return {
    figure: `${right} of ${instances}, slowest ${worst.toFixed(2)} s`,
    isReached: right === instances && worst <= 2,
  };
}
