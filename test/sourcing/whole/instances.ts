import type { Job } from '../../../worker/engine/model/job.ts';
import { randomFrom } from '../random.ts';
import { customs, exchange, holding } from './themes/abroad.ts';
import { choosing, dates } from './themes/asking.ts';
import { bands, hairs } from './themes/bands.ts';
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

/** From this seed on the themes are those of thresholds, by turns. */
const THRESHOLDS_FROM = 100_000;
const THRESHOLDS: readonly Theme[] = [bands, hairs];

export function themeOf(seed: number): Theme {
  const themes = seed < THRESHOLDS_FROM ? THEMES : THRESHOLDS;
  const theme = themes[seed % themes.length];
  if (!theme) throw new RangeError(`no theme for ${seed}`);
  return theme;
}

/** A small job from a seed, of the theme whose turn it is: up to 4 requirements, 3 suppliers and 10 offers. */
export function instance(seed: number): Job {
  return themeOf(seed).make(randomFrom(seed));
}

const countedFrom = (first: number, many: number) =>
  Array.from({ length: many }, (_, index) => first + index);

/** All instances of the proof. */
const allRules = countedFrom(0, 4000);
const thresholds = countedFrom(THRESHOLDS_FROM, 800);
export const seeds = [...allRules, ...thresholds];
export const INSTANCES = seeds.length;
/** Every tenth of those under all rules. */
export const tenth = allRules.filter((seed) => seed % 10 === 0);
/** Those that every run of the tests works: of thresholds more, as a hair decides seldom. */
export const sample = [...tenth, ...thresholds.slice(0, 160)];
/** Further ones: suppliers insisted on from whom nothing can come, and a minimum order beside a threshold of duty. */
export const beside = [64, 4552, 5905, 6037, 8512, 10_921, 11_317];
