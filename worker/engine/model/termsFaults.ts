import type { Lane } from './lane.ts';
import type { Rate } from './rate.ts';

interface Terms {
  club: { currency: string };
  rates: readonly Rate[];
  lanes: readonly Lane[];
}

interface Fault {
  code: string;
  path: PropertyKey[];
  message: string;
}

/** What is wrong between the rates and lanes of a job: two that say the same thing otherwise, or one that says nothing. */
export function termsFaults({ club, rates, lanes }: Terms): Fault[] {
  const faults: Fault[] = [];
  const twice = <T>(list: readonly T[], field: string, keyOf: (item: T) => unknown[], words: string) => {
    const seen = new Map<string, number>();
    list.forEach((item, index) => {
      const names = keyOf(item);
      // What has no names to be told apart by is a fault of its own, already told.
      if (names.some((name) => typeof name !== 'string')) return;
      const key = names.join(' ');
      const first = seen.get(key);
      if (first === undefined) seen.set(key, index);
      else
        faults.push({
          code: `duplicate-${field === 'rates' ? 'rate' : 'lane'}`,
          path: [field, index],
          message: `${words} is already at ${field}/${first}; keep only the right one`,
        });
    });
  };
  twice(rates, 'rates', ({ currency, on }) => [currency, on], 'a rate of this currency for this day');
  twice(lanes, 'lanes', ({ from, to }) => [from, to], 'a lane between these countries');
  rates.forEach(({ currency }, index) => {
    if (typeof currency === 'string' && currency === club.currency)
      faults.push({
        code: 'rate-of-own-currency',
        path: ['rates', index, 'currency'],
        message: `${currency} is the club’s own currency and needs no rate; remove this rate`,
      });
  });
  return faults;
}
