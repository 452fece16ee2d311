import type { Control } from '../model/control.ts';
import type { Exact } from '../units/money.ts';
import { above, atMost, middle } from './grid.ts';
import { climbed, reached } from './reach.ts';
import type { Trial, Trials } from './trial.ts';

/** How far a price is raised to see whether the offer drops out. */
const MOST_TIMES = 100n;

/** The trial at the price that was looked for, and the one next above it, where the offer loses. */
export interface Found {
  outcome: 'wins' | 'bought' | 'always' | 'never';
  at: Trial | undefined;
  loses: Trial | undefined;
  /** Whether all that could be tried was. */
  isDone: boolean;
  /** All trials on which the outcome rests. */
  tried: readonly Trial[];
}

export interface Search {
  trials: Trials;
  offer: string;
  stated: Exact;
  /** Whether no price wins above one that loses. */
  isSettled: boolean;
  control: Control;
  /** Told of each price that is tried. */
  onTry: (price: Exact) => void;
}

/**
 * The highest price at which a cheapest mix buys some of the offer: under the stated one where it loses there, else above.
 * What is known at any time is a price that wins and a higher one that loses; a mix that is found tells up to which price
 * it holds, so that few prices need be solved for. Throws Cancelled.
 */
export async function searched(search: Search): Promise<Found> {
  const { stated, trials } = search;
  const start = await tryAt(search, stated);
  if (!start.wins) return lowered(search, start);
  const only = { at: start, loses: undefined, isDone: true, tried: [start] };
  const { unmet, without } = trials.without.plan;
  if (start.plan && (start.plan.unmet.length < unmet.length || start.plan.without.length < without.length))
    return { outcome: 'always', ...only };
  if (stated === 0n) return { outcome: 'bought', ...only };
  const limit = atMost(stated * MOST_TIMES);
  const low = climbed(trials, start, stated, above(limit));
  return { outcome: 'bought', ...(await closed(search, { low, from: start }, undefined, limit)) };
}

const tryAt = (search: Search, price: Exact): Promise<Trial> => {
  search.onTry(price);
  return search.trials.at(price);
};

/** At its stated price the offer loses. */
async function lowered(search: Search, start: Trial): Promise<Found> {
  const { trials, offer, stated, isSettled } = search;
  const tried = [start];
  const first = reached(trials, offer, start, stated);
  if (first !== undefined)
    return { outcome: 'wins', ...(await closed(search, { low: first, from: start }, start, stated)) };
  // With thresholds it may win at some price though not at nothing.
  const prices = isSettled ? [0n] : [0n, ...[2n, 1n, 3n].map((part) => atMost((stated * part) / 4n))];
  for (const price of new Set(prices)) {
    if (price >= stated) continue;
    if (search.control.remainingMs() <= 0)
      return { outcome: 'never', at: undefined, loses: undefined, isDone: false, tried };
    const trial = await tryAt(search, price);
    tried.push(trial);
    const low = trial.wins ? climbed(trials, trial, price, stated) : reached(trials, offer, trial, stated);
    if (low !== undefined)
      return { outcome: 'wins', ...(await closed(search, { low, from: trial }, start, stated)) };
  }
  return { outcome: 'never', at: undefined, loses: undefined, isDone: true, tried };
}

/**
 * Brings a price that wins and one that loses together: by turns the next price above the one that wins is tried, which
 * ends the search where it loses, and the middle of the two. Where nothing is known to lose, `limit` is looked at last.
 */
async function closed(
  search: Search,
  { low, from }: { low: Exact; from: Trial },
  losing: Trial | undefined,
  limit: Exact,
): Promise<Omit<Found, 'outcome'>> {
  const { trials, offer, control } = search;
  let [best, mix, loses] = [low, from, losing];
  for (let turn = 0; ; turn++) {
    const high = loses?.price ?? above(limit);
    const next = above(best);
    if (next >= high || control.remainingMs() <= 0) break;
    const halfway = loses ? middle(best, high) : limit;
    const trial = await tryAt(search, turn % 2 === 0 ? next : halfway);
    if (trial.wins) [best, mix] = [climbed(trials, trial, trial.price, high), trial];
    else {
      loses = trial;
      const other = reached(trials, offer, trial, trial.price);
      if (other !== undefined && other > best) [best, mix] = [other, trial];
    }
  }
  const isDone = above(best) >= (loses?.price ?? above(limit));
  const at = await atBest(search, mix, best);
  return { at, loses, isDone, tried: [at, ...(loses ? [loses] : [])] };
}

/** The cheapest mix with the offer at the price found; where time does not allow it, the one that was at hand. */
async function atBest(search: Search, mix: Trial, price: Exact): Promise<Trial> {
  if (mix.price === price && mix.wins) return mix;
  const known = search.trials.kept(mix, price);
  if (known && search.control.remainingMs() <= 0) return known;
  const trial = await tryAt(search, price);
  return trial.wins || !known ? trial : known;
}
