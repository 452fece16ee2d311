import type { Control } from '../../worker/engine/model/control.ts';

/** So many seconds on the wall from now on, with nobody to stop it or to tell. */
export function untilSeconds(seconds: number): Control {
  const start = performance.now();
  return {
    remainingMs: () => Math.max(0, seconds * 1000 - (performance.now() - start)),
    cancelled: () => false,
    report: () => undefined,
  };
}
