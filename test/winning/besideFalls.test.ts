import { expect, test } from 'vitest';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import { priced, unhurried } from '../engine/fixtures.ts';
import { tinyJob } from './instances.ts';

test('no losing offer wins at a price above the one that a quote says it must come down to at least', async () => {
  const wrong: string[] = [];
  let compared = 0;
  for (let seed = 201; seed <= 260; seed++) {
    const tiny = tinyJob(seed);
    const job = { ...tiny, request: { ...tiny.request, settings: { besideSeconds: 60 } } };
    const falls = (await priced(job)).beside?.falls ?? [];
    for (const { offer, priceAtMost, never } of falls) {
      const { outcome, at, without } = await winningPrice(job, offer, unhurried);
      // A quote speaks of mixes that cost less than it, not of those that cost the same.
      if (outcome !== 'wins' || !at || Number(at.cost.amount) >= Number(without.cost.amount)) continue;
      compared++;
      if (never || Number(at.prices.first.amount) > Number(priceAtMost.amount))
        wrong.push(`${seed} ${offer}`);
    }
  }
  expect(wrong).toEqual([]);
  expect(compared).toBeGreaterThanOrEqual(12);
}, 120_000);
