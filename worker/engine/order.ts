import { marketOf } from './job/market.ts';
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
}

/** Rolls a normalised job up, whole and by order. Throws Cancelled; Stopped where the settings ask that stops be mended first. */
export function orderOf(job: Job, control: Control): Ordered {
  const market = marketOf(job);
  const settings = quoteSettings(job);
  const values = valuesOf(settings);
  const rolledUp = rollUp(job, control, market);
  const stops = rolledUp.findings.filter(({ severity }) => severity === 'stop');
  if (values.stopsBlock && stops.length > 0) throw new Stopped(stops);
  // What the first order, the first two … need; the last is all.
  const earlier = Array.from(
    { length: market.waves - 1 },
    (_, index) => rollUp(job, control, market, index + 1).requirements,
  );
  const { requirements, leftOut, vetting } = rolledUp;
  return { rolledUp, order: { requirements, leftOut, earlier, market, vetting }, settings, values };
}
