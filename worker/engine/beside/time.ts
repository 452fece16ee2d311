import { within, type Control } from '../model/control.ts';

export function isOver(control: Control): boolean {
  return control.remainingMs() <= 0;
}

/** The most parts that what is left is cut into: where one solve ends early, the next has more. */
const MOST_PARTS = 4;

/** The time for one of so many solves that are still to be done. */
export function sliceOf(control: Control, toDo: number): Control {
  return within(control, control.remainingMs() / Math.min(Math.max(1, toDo), MOST_PARTS));
}
