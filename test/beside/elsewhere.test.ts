import { describe, expect, it } from 'vitest';
import type { Beside } from '../../worker/engine/model/beside.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { priced } from '../engine/fixtures.ts';
import {
  deliveredPence,
  everyWay,
  jobOfPacks,
  meets,
  packJob,
  type PackJob,
  type Units,
} from './packJobs.ts';

const pence = ({ amount }: { amount: string }) => Math.round(Number(amount) * 100);
const MOST_PACKS = 12;

/** By how much the whole rises where a line's part comes from the others of the mix, by trying every number of packs. */
function moreByTrying(job: PackJob, bought: Units, line: string): number | 'minimumOrder' | 'nobodyElse' {
  const offer = job.offers.find(({ code }) => code === line);
  if (!offer) throw new Error(`no offer ${line}`);
  const mix = new Set(
    job.offers.flatMap(({ code, supplier }) => ((bought[code] ?? 0) > 0 ? [supplier] : [])),
  );
  const free = job.offers
    .filter(({ part, supplier }) => part === offer.part && supplier !== offer.supplier && mix.has(supplier))
    .map(({ code }) => code);
  if (free.length === 0) return 'nobodyElse';
  const rest = { ...bought, [line]: 0 };
  const left = Object.fromEntries(
    job.offers.flatMap(({ code, supplier }) =>
      supplier === offer.supplier ? [[code, rest[code] ?? 0]] : [],
    ),
  );
  if (deliveredPence(job, left) === undefined) return 'minimumOrder';
  let least = Infinity;
  for (const way of everyWay(free, MOST_PACKS)) {
    const units = { ...rest, ...way };
    if (meets(job, units)) least = Math.min(least, deliveredPence(job, units) ?? Infinity);
  }
  return least - (deliveredPence(job, bought) ?? 0);
}

const boughtIn = ({ purchases }: Result): Units =>
  Object.fromEntries(
    purchases.map(({ offer, bought }) => [offer, bought.form === 'pack' ? bought.packs : 0]),
  );

const answer = ({ more, why }: Beside['elsewhere'][number]) => (more ? pence(more) : why);

describe('what a line would cost elsewhere in the mix', () => {
  it('is the least of all ways to buy it from the other suppliers, with the thresholds of both', async () => {
    const counts = { moved: 0, threshold: 0, nobodyElse: 0, minimumOrder: 0 };
    for (const seed of [3, 5, 6, 7, 8, 9, 14, 16, 23]) {
      const job = packJob(seed);
      const result = await priced(jobOfPacks(job));
      const bought = boughtIn(result);
      const lines = result.beside?.elsewhere ?? [];
      expect(lines.map(({ offer }) => offer)).toEqual(result.purchases.map(({ offer }) => offer));
      for (const line of lines) {
        const tried = moreByTrying(job, bought, line.offer);
        expect([seed, line.offer, answer(line)]).toEqual([seed, line.offer, tried]);
        if (tried === 'nobodyElse' || tried === 'minimumOrder') counts[tried]++;
        else counts.moved++;
        // A move never comes from the line's own supplier, and its total is the quote's with what it costs more.
        expect(line.from.every(({ supplier }) => supplier !== line.supplier)).toBe(true);
        if (line.total && line.more)
          expect(pence(line.total) - pence(line.more)).toBe(pence(result.costs.total));
        // More than any line costs alone: postage or a minimum order moved with it.
        if (line.more && pence(line.more) > 150) counts.threshold++;
      }
    }
    expect(counts.moved).toBeGreaterThan(6);
    expect(counts.threshold).toBeGreaterThan(2);
    expect(counts.nobodyElse).toBeGreaterThan(0);
    expect(counts.minimumOrder).toBeGreaterThan(0);
  });
});
