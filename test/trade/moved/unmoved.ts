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
];
