import type { Job, JobInput } from '../../worker/engine/model/job.ts';
import { needing } from '../engine/fixtures.ts';
import { randomFrom } from '../sourcing/random.ts';

const money = (pence: number) => ({ amount: (pence / 100).toFixed(2), currency: 'GBP' });

/** A tiny job from a seed: up to 2 needs, 3 suppliers and 4 offers of packs with a stock, prices of a few pence. */
export function tinyJob(seed: number): Job {
  const random = randomFrom(seed);
  const parts = ['clip', 'tie'].slice(0, random.pick([1, 2, 2]));
  const suppliers = ['ash', 'elm', 'oak'].slice(0, random.pick([2, 3]));
  const count = random.pick([2, 3, 4, 4]);
  const offers = Array.from({ length: count }, (_, index): JobInput['offers'][number] => {
    const price = random.whole(4, 40);
    const stock = random.whole(1, 5);
    const breakFrom = random.whole(2, 3);
    return {
      form: 'pack',
      code: `o${index}`,
      supplier: random.pick(suppliers),
      part: parts[index % parts.length] ?? 'clip',
      packCount: random.pick([1, 1, 2, 3]),
      packPrice: money(price),
      stockPacks: stock,
      ...(random.pick([true, false, false]) && stock >= 2 ? { minimumPacks: 2 } : {}),
      ...(random.pick([true, false]) && stock > breakFrom
        ? { breaks: [{ fromPacks: breakFrom + 1, packPrice: money(Math.ceil(price * 0.7)) }] }
        : {}),
    };
  });
  return needing(
    Object.fromEntries(parts.map((part) => [part, random.whole(1, 5)])),
    suppliers.map((code) => {
      const kind = random.pick(['plain', 'postage', 'free', 'minimum']);
      const bands = [
        { fromValue: money(0), charge: money(random.whole(1, 30)) },
        ...(kind === 'free' ? [{ fromValue: money(random.whole(10, 60)), charge: money(0) }] : []),
      ];
      return {
        code,
        name: `Supplier ${code}`,
        currency: 'GBP',
        ...(kind === 'plain' ? {} : { postage: { by: 'value' as const, bands } }),
        ...(kind === 'minimum' ? { minimumOrder: money(random.whole(5, 40)) } : {}),
      };
    }),
    offers,
  );
}
