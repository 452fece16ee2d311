/** What a fuse that is marked by the amps that blow it carries for good: about half. Common practice, no source. */
const CONTINUOUS_SHARE_OF_BLOW = 0.5;

export type FuseBasis = 'continuous' | 'blow';

/** What a fuse carries for good, A. */
export function continuousAmps(ratingAmps: number, basis: FuseBasis): number {
  return basis === 'blow' ? ratingAmps * CONTINUOUS_SHARE_OF_BLOW : ratingAmps;
}

/** "35 A by blowing, 17.5 A for good", "10 A" */
export function fuseWords(ratingAmps: number, basis: FuseBasis): string {
  return basis === 'blow'
    ? `${ratingAmps} A by blowing, about ${continuousAmps(ratingAmps, basis)} A for good`
    : `${ratingAmps} A`;
}
