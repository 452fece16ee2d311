import { joinOf, type End } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';

/** What an end adds to its wire, mm. */
export interface EndAllowance {
  tailMm: number;
  stripMm: number;
  redoMm: number;
}

type Allowance = keyof EndAllowance;

/**
 * Tail, strip and re-do of an end: each as the end states it; else as its terminal does; else by the first rule for its
 * kind of join and the wire's size; else by the settings.
 */
export function endAllowance(
  end: End,
  terminal: Part | undefined,
  sizeMm2: number | undefined,
  settings: SettingValues,
): EndAllowance {
  const stated: Partial<Record<Allowance, number | undefined>> = { tailMm: end.tailMm, stripMm: end.stripMm };
  const ofTerminal = terminal?.kind === 'terminal' ? terminal : undefined;
  const rules = settings.byJoin.filter(
    ({ join, overMm2 }) =>
      join === joinOf(end) && (overMm2 === undefined || (sizeMm2 !== undefined && sizeMm2 > overMm2)),
  );
  const pick = (what: Allowance) =>
    stated[what] ??
    ofTerminal?.[what] ??
    rules.find((rule) => rule[what] !== undefined)?.[what] ??
    settings[what];
  return { tailMm: pick('tailMm'), stripMm: pick('stripMm'), redoMm: pick('redoMm') };
}
