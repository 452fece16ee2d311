import { fitsOf } from '../job/fits.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Bought } from './purchases.ts';

/** A warning for each part that is bought instead of another, and of which somebody reported that it cannot be. */
export function doubtedStandIns(
  job: Pick<Job, 'fits' | 'doubtedFits' | 'offers'>,
  bought: readonly Pick<Bought, 'offer' | 'standIns'>[],
): Finding[] {
  const fits = fitsOf(job.fits, job.doubtedFits);
  const at = new Map(job.offers.map(({ code }, index) => [code, index]));
  const said = new Map<string, Finding>();
  for (const { offer, standIns } of bought)
    for (const { part, insteadOf } of standIns) {
      // Codes hold no space.
      const pair = `${part} ${insteadOf}`;
      if (said.has(pair) || !fits.doubted(part, 'standsInFor', insteadOf)) continue;
      said.set(pair, {
        code: 'fit-doubted',
        severity: 'warning',
        at: pointer(['offers', at.get(offer.code) ?? 0]),
        where: `offer ${offer.code} of ${offer.supplier}`,
        found: `${part} is bought instead of ${insteadOf}: somebody reported that it does not fit`,
        source: 'the reports on the fits of the club',
        todo: 'Look at what was reported of this fit, then refute it or confirm it.',
      });
    }
  return [...said.values()];
}
