/** A range of a part's figures; what is not stated has no limit. */
export interface Range {
  min: number | undefined;
  max: number | undefined;
}

/** Whether any limit is stated. */
export function isRange({ min, max }: Range): boolean {
  return min !== undefined || max !== undefined;
}

/** Whether a value lies outside: on a limit is within. */
export function sideOf(value: number, { min, max }: Range): 'below' | 'above' | undefined {
  if (min !== undefined && value < min) return 'below';
  if (max !== undefined && value > max) return 'above';
  return undefined;
}

/** "1 to 2.5 mm²", "at least 1 mm²", "at most 2.5 mm²" */
export function rangeText({ min, max }: Range, unit: string): string {
  if (min === undefined) return `at most ${max ?? 0} ${unit}`;
  return max === undefined ? `at least ${min} ${unit}` : `${min} to ${max} ${unit}`;
}

/** Millimetres to the hundredth, for print. */
export function mmText(mm: number): string {
  return `${Math.round(mm * 100) / 100} mm`;
}

/** Where a part's own figure is read. */
export function figuresOf(part: { code: string }): string {
  return `the catalogue’s figures of ${part.code}`;
}

const NAMED = 6;

/** The first few of a list in words. */
export function someOf(names: readonly string[]): string {
  const shown = names.slice(0, NAMED).join(', ');
  return names.length > NAMED ? `${shown} and ${names.length - NAMED} more` : shown;
}
