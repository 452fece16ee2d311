import type { Job } from '../../../worker/engine/model/job.ts';
import { randomFrom } from '../random.ts';
import { jobOf, partOf, type LoomWants, type OfferInput } from './jobOf.ts';

type Unsold<T> = T extends unknown ? Omit<T, 'code' | 'supplier'> : never;
/** An offer but for who sells it. */
type Sold = Unsold<OfferInput>;

const pounds = (amount: number) => ({ amount: String(amount), currency: 'GBP' });

/**
 * A small job in which many purchases cost the same: wire, sleeve or tape in fixed lengths of few sizes at few prices, at
 * times by the metre too, and often a part in packs beside it; postage often free from some value on.
 */
export function tiedJob(seed: number): Job {
  const random = randomFrom(seed);
  const kind = random.pick(['red', 'sleeve', 'sleeve', 'tape'] as const);
  const suppliers = ['north', 'south'].slice(0, random.whole(1, 2));
  const pieces = Array.from({ length: random.whole(1, 3) }, () => random.pick([1000, 1500, 2000, 3000]));
  const wants: LoomWants =
    kind === 'red'
      ? { wires: pieces.map((mm) => ({ colour: kind, mm })) }
      : { coverings: pieces.map((mm) => ({ kind: kind === 'tape' ? kind : 'pvc', part: kind, mm })) };
  const offers = Array.from({ length: random.whole(2, 3) }).flatMap((_, index): OfferInput[] => {
    const sold: Sold = random.percent(20)
      ? { form: 'metre', part: kind, pricePerMetre: pounds(1), stepMm: 1000 }
      : {
          form: 'length',
          part: kind,
          nominalMm: random.pick([2000, 3000, 4000, 5000, 8000]),
          packPrice: pounds(random.pick([2, 4, 4])),
        };
    const sellers = random.percent(50) ? suppliers : [random.pick(suppliers)];
    return sellers.map((supplier) => ({ ...sold, code: `${supplier}-${index}`, supplier }));
  });
  const withClips = random.percent(60);
  if (withClips)
    for (const supplier of suppliers)
      offers.push({
        form: 'pack',
        code: `clip-${supplier}`,
        supplier,
        part: 'clip',
        packCount: random.pick([4, 4, 5]),
        packPrice: pounds(random.pick([1, 2, 2])),
      });
  return jobOf(
    {
      looms: { l: { ...wants, ...(withClips && { counted: [{ part: 'clip', quantity: 4 }] }) } },
      lines: [{ loom: 'l', quantity: 1 }],
    },
    {
      parts: [partOf(kind, kind), partOf('clip', 'clip')],
      suppliers: suppliers.map((code) => ({
        code,
        name: code,
        currency: 'GBP',
        ...(random.percent(30) && {
          postage: {
            by: 'value' as const,
            bands: [
              { fromValue: pounds(0), charge: pounds(2) },
              { fromValue: pounds(random.pick([4, 6, 8])), charge: pounds(0) },
            ],
          },
        }),
      })),
      offers,
    },
  );
}
