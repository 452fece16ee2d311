import type { Finding } from './finding.ts';

/** Thrown by the engine where findings of severity stop stand and the setting `stopsBlock` says that they block a quote. */
export class Stopped extends Error {
  /** Those that stop, the gravest first. */
  readonly findings: readonly Finding[];
  constructor(findings: readonly Finding[]) {
    super('faults stop this quote');
    this.name = 'Stopped';
    this.findings = findings;
  }
}
