import type { Finding } from './finding.ts';

/** Thrown by the engine where it is asked for the price at which an offer wins that cannot be bought at any price. */
export class OfferNotUsable extends Error {
  /** Why, and how to mend it. */
  readonly findings: readonly Finding[];
  constructor(findings: readonly Finding[]) {
    super('the offer cannot be bought');
    this.name = 'OfferNotUsable';
    this.findings = findings;
  }
}
