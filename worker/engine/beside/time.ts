import type { Control } from '../model/control.ts';

/** The same control with so many milliseconds of its time at the most, from now on. */
export function within(control: Control, ms: number): Control {
  const left = control.remainingMs();
  const kept = Number.isFinite(left) ? Math.max(0, left - ms) : 0;
  return { ...control, remainingMs: () => Math.max(0, control.remainingMs() - kept) };
}

export function isOver(control: Control): boolean {
  return control.remainingMs() <= 0;
}

/** The most parts that what is left is cut into: where one solve ends early, the next has more. */
const MOST_PARTS = 4;

/** The time for one of so many solves that are still to be done. */
export function sliceOf(control: Control, toDo: number): Control {
  return within(control, control.remainingMs() / Math.min(Math.max(1, toDo), MOST_PARTS));
}
