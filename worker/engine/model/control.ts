/** How far a piece of engine work has come. */
export interface Progress {
  phase: 'loading' | 'rollUp' | 'sourcing' | 'beside' | 'buildOrBuy' | 'writing';
  percent?: number;
  message: string;
  /** Where a cheapest mix is looked for and one is known: never worse than those told before. */
  figures?: Figures;
}

/** What is known of a cheapest mix while it is looked for: amounts of whole minor units. */
export interface Figures {
  currency: string;
  /** The cheapest mix found comes to so much. */
  best: string;
  /** No mix costs less. */
  bound?: string;
  /** By how much of `best` the two are apart. */
  gapPercent?: number;
}

/** What every engine call that can exceed 50 ms takes: time left, whether to stop, where to report. No clock of its own. */
export interface Control {
  remainingMs(): number;
  cancelled(): boolean;
  report(progress: Progress): void;
}

/** The same control with so many milliseconds of its time at the most, from now on. */
export function within(control: Control, ms: number): Control {
  const left = control.remainingMs();
  const kept = Number.isFinite(left) ? Math.max(0, left - ms) : 0;
  return { ...control, remainingMs: () => Math.max(0, control.remainingMs() - kept) };
}

/** Thrown by the engine when its Control says that the work is no longer wanted. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}
