/** How far a piece of engine work has come. `bound` and `best` are money amounts, as strings, where the solver knows them. */
export interface Progress {
  phase: 'loading' | 'rollUp' | 'sourcing' | 'writing';
  percent?: number;
  message: string;
}

/** What every engine call that can exceed 50 ms takes: time left, whether to stop, where to report. No clock of its own. */
export interface Control {
  remainingMs(): number;
  cancelled(): boolean;
  report(progress: Progress): void;
}

/** Thrown by the engine when its Control says that the work is no longer wanted. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}
