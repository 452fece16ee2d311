import type { Job } from '../../../worker/engine/model/job.ts';
import { randomFrom } from '../random.ts';
import { customs, exchange, holding } from './themes/abroad.ts';
import { choosing, dates } from './themes/asking.ts';
import { cutting, hanks, metres, shortMetres, tape } from './themes/cutting.ts';
import { exactly } from './themes/exactly.ts';
import { families, tools } from './themes/families.ts';
import { mixed } from './themes/mixed.ts';
import { mixtures } from './themes/mixtures.ts';
import { minimums, packs, weights } from './themes/packs.ts';
import { shelfLengths, shelfPieces } from './themes/shelf.ts';
import { standing } from './themes/standing.ts';
import type { Theme } from './themes/theme.ts';
import { laterCuts, waves } from './themes/waves.ts';

/** In turn; those twice whose rules decide more seldom. */
const THEMES: readonly Theme[] = [
  ...[packs, minimums, weights, cutting, hanks, metres, mixtures, tape],
  ...[customs, exactly, exchange, holding, choosing, dates],
  ...[standing, families, tools, waves, laterCuts, shelfPieces, shelfLengths],
  ...[
    minimums,
    exactly,
    holding,
    choosing,
    standing,
    waves,
    tools,
    shortMetres,
    tape,
    shelfLengths,
    mixed,
    standing,
  ],
];

export function themeOf(seed: number): Theme {
  const theme = THEMES[seed % THEMES.length];
  if (!theme) throw new RangeError(`no theme for ${seed}`);
  return theme;
}

/** A small job from a seed, of the theme whose turn it is: up to 4 requirements, 3 suppliers and 10 offers. */
export function instance(seed: number): Job {
  return themeOf(seed).make(randomFrom(seed));
}

/** All instances of the proof. */
export const INSTANCES = 4000;
export const seeds = Array.from({ length: INSTANCES }, (_, index) => index);
/** Those that every run of the tests works. */
export const tenth = seeds.filter((seed) => seed % 10 === 0);
/** Further ones: suppliers insisted on from whom nothing can come, and a minimum order beside a threshold of duty. */
export const beside = [64, 4552, 5905, 6037, 8512, 10_921, 11_317];
