import { D } from '../units/decimal.ts';

/**
 * What is cut of heat-shrink to cover a length, mm, exact. Lengthwise change C = 100·(L1 − L0)/L0 (ASTM D2671, as makers
 * quote it): with −10 % a cut of 100 covers 90. What grows is still cut to cover the length as it goes on.
 */
export function shrinkCut(finishedMm: D | number, changePercent: number): D {
  const finished = new D(finishedMm);
  return changePercent < 0 ? finished.div(new D(1).add(new D(changePercent).div(100))) : finished;
}

/** Where the two rules of heat-shrink below were read. */
export const SHRINK_SOURCE = 'NASA-STD-8739.4 §9.8.1';

/** Whether heat-shrink goes over something: its least bore as supplied is larger than that. */
export function passesOver(suppliedBoreMm: number, thickestMm: number): boolean {
  return suppliedBoreMm > thickestMm;
}

/** Whether heat-shrink holds on to something: its greatest bore when recovered is under that. */
export function grips(recoveredBoreMm: number, thinnestMm: number): boolean {
  return recoveredBoreMm < thinnestMm;
}
