/** How a fuse that is marked by what it carries is held against a wire. */
export const AVIATION_RULE =
  'a fuse must open before the rating of its wire is exceeded: FAA AC 43.13-1B, 11-48';

/** How one that is marked by what blows it is: it does not meet the rule above, and what it is good for is said. */
export const BLOW_RULE =
  'that such a fuse carries about half of its blow rating continuously is old trade practice, not a published rule; it may blow only at twice the wire’s rating, so it protects the wire against a short circuit, not against an overload';

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
    ? `${ratingAmps} A blow rating, about ${continuousAmps(ratingAmps, basis)} A continuously`
    : `${ratingAmps} A`;
}
