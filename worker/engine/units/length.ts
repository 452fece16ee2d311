import { D } from './decimal.ts';

/** Millimetres as a bare number of metres: 12345 → "12.345". */
export function metresNumber(mm: number): string {
  return new D(mm).div(1000).toFixed();
}

/** Millimetres as metres, in words of the trade: 12345 → "12.345 m", 5000 → "5 m". */
export function metres(mm: number): string {
  return `${metresNumber(mm)} m`;
}
