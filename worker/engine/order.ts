import { withMadeUpLooms, type MadeUpLoom } from './buildOrBuy/madeUpLooms.ts';
import { marketOf, type Market } from './job/market.ts';
import { quoteSettings, valuesOf } from './job/settings.ts';
import { rollUp, type RollUp } from './loom/rollUp.ts';
import type { Control } from './model/control.ts';
import type { Job } from './model/job.ts';
import type { EffectiveSettings, SettingValues } from './model/settings.ts';
import { Stopped } from './model/stopped.ts';
import type { Order } from './sourcing/compile/compile.ts';

/** What a normalised job asks to be bought. */
export interface Ordered {
  rolledUp: RollUp;
  order: Order;
  settings: EffectiveSettings;
  values: SettingValues;
  /** The looms that are bought made. */
  bought: readonly MadeUpLoom[];
}

/** Rolls a normalised job up, whole and by order. Throws Cancelled; Stopped where the settings ask that stops be mended first. */
export function orderOf(job: Job, control: Control): Ordered {
  const ordered = orderWith(job, control, []);
  const stops = ordered.rolledUp.findings.filter(({ severity }) => severity === 'stop');
  if (ordered.values.stopsBlock && stops.length > 0) throw new Stopped(stops);
  return ordered;
}

/** The same with these made-up looms bought instead of those that they are for, whatever must be mended. Throws Cancelled. */
export function orderWith(
  job: Job,
  control: Control,
  bought: readonly MadeUpLoom[],
  market: Market = marketOf(job),
): Ordered {
  const settings = quoteSettings(job);
  const values = valuesOf(settings);
  const names = new Set(bought.flatMap(({ looms }) => looms));
  const own = rollUp(job, control, market, undefined, names);
  // What the first order, the first two … need; the last is all.
  const earlier = Array.from({ length: market.waves - 1 }, (_, index) =>
    withMadeUpLooms(rollUp(job, control, market, index + 1, names).requirements, bought, index),
  );
  const requirements = withMadeUpLooms(own.requirements, bought, market.waves - 1);
  const { leftOut, vetting } = own;
  return {
    rolledUp: { ...own, requirements },
    order: { requirements, leftOut, earlier, market, vetting },
    settings,
    values,
    bought,
  };
}
