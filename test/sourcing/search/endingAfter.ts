import type { Control } from '../../../worker/engine/model/control.ts';

/** A control whose time is over when it has been asked so often. */
export function endingAfter(asked: number): Control {
  let left = asked;
  return {
    remainingMs: () => (left-- > 0 ? 1e9 : 0),
    cancelled: () => false,
    report: () => undefined,
  };
}
