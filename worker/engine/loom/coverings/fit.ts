import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import { braidWidestMm } from '../../trade/braid.ts';
import { grips, passesOver, SHRINK_SOURCE } from '../../trade/shrink.ts';
import { boreNeededMm } from '../../trade/sleeving.ts';
import { toNanometre } from '../../units/nanometre.ts';

export type Sleeve = Extract<Part, { kind: 'sleeve' }>;

/** What a sleeve is drawn over: the thickest and the thinnest place, mm, and how far it is threaded. */
export interface Beneath {
  thickestMm: number;
  thinnestMm: number;
  threadedMm: number;
}

/** Why a sleeve does not fit. */
export interface Misfit {
  how: 'tight' | 'loose';
  found: string;
  limit: string;
  source: string;
  /** So little that it is not worth a word: a bundle is not as exact as a bore. */
  slight?: boolean;
}

/** A braid over a bundle this much thinner than it states to hold still closes on it: common practice, no source. */
const SLIGHT_PERCENT = 10;

const PRACTICE = 'common practice, no source';

/**
 * Why a sleeve does not fit: too tight by the thickest place beneath it, or too loose by the thinnest; `fits` where it
 * does, `unknown` where it does not state the figures by which that is known.
 */
export function fitOf(
  sleeve: Sleeve,
  beneath: Beneath,
  settings: SettingValues,
): Misfit | 'fits' | 'unknown' {
  switch (sleeve.sleeveType) {
    case 'pvc':
    case 'conduit':
      return stiffFit(sleeve, beneath, settings);
    case 'braided':
      return braidFit(sleeve, beneath);
    case 'heatShrink':
      return shrinkFit(sleeve, beneath);
    case 'spiral':
    case 'other':
      return 'unknown';
  }
}

function stiffFit({ boreMm }: Sleeve, beneath: Beneath, settings: SettingValues): ReturnType<typeof fitOf> {
  if (boreMm === undefined) return 'unknown';
  const needed = boreNeededMm(beneath.thickestMm, beneath.threadedMm, settings);
  if (boreMm < needed)
    return {
      how: 'tight',
      found: `a bore of ${boreMm} mm over ${mm(beneath.thickestMm)}`,
      limit: `a bore of at least ${mm(needed)}: with clearance to thread ${beneath.threadedMm} mm`,
      source: PRACTICE,
    };
  const most = toNanometre(beneath.thinnestMm * (1 + settings.sleeveLoosePercent / 100));
  if (boreMm > most)
    return {
      how: 'loose',
      found: `a bore of ${boreMm} mm over ${mm(beneath.thinnestMm)}`,
      limit: `a bore of at most ${mm(most)}: ${settings.sleeveLoosePercent} % wider`,
      source: PRACTICE,
    };
  return 'fits';
}

function braidFit(sleeve: Sleeve, { thickestMm, thinnestMm }: Beneath): ReturnType<typeof fitOf> {
  const { holdsMinMm, holdsMaxMm } = sleeve;
  const angled = braidWidestMm(sleeve);
  const most = holdsMaxMm ?? (angled === undefined ? undefined : toNanometre(angled));
  if (most !== undefined && thickestMm > most)
    return {
      how: 'tight',
      found: `a braid over ${mm(thickestMm)}`,
      limit: `at most ${mm(most)}, ${holdsMaxMm === undefined ? 'with its threads at a right angle to its length' : 'as the part states'}`,
      source: 'the part',
    };
  if (holdsMinMm !== undefined && thinnestMm < holdsMinMm)
    return {
      how: 'loose',
      found: `a braid over ${mm(thinnestMm)}`,
      limit: `at least ${holdsMinMm} mm, as the part states`,
      source: 'the part',
      slight: thinnestMm >= holdsMinMm * (1 - SLIGHT_PERCENT / 100),
    };
  return most === undefined && holdsMinMm === undefined ? 'unknown' : 'fits';
}

function shrinkFit(
  { boreMm, recoveredBoreMm }: Sleeve,
  { thickestMm, thinnestMm }: Beneath,
): ReturnType<typeof fitOf> {
  if (boreMm !== undefined && !passesOver(boreMm, thickestMm))
    return {
      how: 'tight',
      found: `heat-shrink of ${boreMm} mm as supplied, over ${mm(thickestMm)}`,
      limit: `more than ${mm(thickestMm)} as supplied`,
      source: SHRINK_SOURCE,
    };
  if (recoveredBoreMm !== undefined && !grips(recoveredBoreMm, thinnestMm))
    return {
      how: 'loose',
      found: `heat-shrink that shrinks to ${recoveredBoreMm} mm, over ${mm(thinnestMm)}`,
      limit: `under ${mm(thinnestMm)} when shrunk, or it does not grip`,
      source: SHRINK_SOURCE,
    };
  return boreMm === undefined || recoveredBoreMm === undefined ? 'unknown' : 'fits';
}

/** A diameter as it is read on a caliper. */
export const mm = (value: number) => `${Math.round(value * 100) / 100} mm`;
