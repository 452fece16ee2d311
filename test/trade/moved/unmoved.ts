import type { Unmoved } from './judge.ts';

/** Values that rest on no constant that two percent could show at. */
export const UNMOVED: readonly Unmoved[] = [
  {
    naming: 'ranges that braids are sold for',
    why: 'a choice among ranges that stand in the check, and no bundle lies within two percent of an end of one',
  },
  {
    naming: '6,271 circular mils in SAE gauge',
    why: 'a choice among gauges, the nearest of which is seven percent off',
  },
  {
    naming: 'green and yellow, which stand the other way round',
    why: 'an order of two letters, no figure; the values beside it notice when the table is moved',
  },
  {
    naming: 'over a wire of 2.3 mm',
    why: 'a choice among sizes that stand in the check; whether a bore is larger than a wire rests on no constant',
  },
];
