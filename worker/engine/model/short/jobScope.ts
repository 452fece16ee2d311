import type { z } from 'zod';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { expanded } from './expand.ts';
import type { Fields, ShortContext } from './form.ts';
import { fieldsOf, listOf, textOf } from './untyped.ts';
import { WireParts } from './wireParts.ts';

/**
 * What a job says once for all that is in it: the club's currency, its suppliers' currencies, its usual cable type, the one
 * colour system of its looms; `offerDefaults`: what every offer has that does not state its own. `parts` is the schema of
 * the list of parts.
 */
export function jobScope(parts: z.ZodType) {
  return (given: Fields, around: ShortContext): { value: Fields; context: ShortContext } => {
    const club = fieldsOf(given['club']);
    const currency = textOf(club['currency']) ?? around.currency;
    const currencies = new Map(
      listOf(given['suppliers']).map((each) => {
        const { code, currency: own } = fieldsOf(each);
        return [code, textOf(own) ?? currency];
      }),
    );
    const settings = { ...fieldsOf(club['settings']), ...fieldsOf(fieldsOf(given['request'])['settings']) };
    const systems = new Set(
      listOf(given['looms']).map((loom) => textOf(fieldsOf(loom)['colourSystem']) ?? 'words'),
    );
    const context: ShortContext = {
      ...around,
      currency,
      cableType: textOf(settings['usualCableType']) ?? around.cableType ?? DEFAULT_SETTINGS.usualCableType,
      colourSystem: systems.size === 1 ? ([...systems][0] as ShortContext['colourSystem']) : 'words',
      offerCurrency: textOf(fieldsOf(given['offerDefaults'])['currency']) ?? around.offerCurrency,
      currencyOf: (supplier) => currencies.get(supplier),
    };
    const wires = new WireParts(listOf(expanded(parts, given['parts'], context).document));
    return {
      value: withOfferDefaults(given),
      context: { ...context, wirePart: (text, inner) => wires.read(text, inner), made: () => wires.made() },
    };
  };
}

/** `offerDefaults` put into each offer that does not state its own; the job as stored knows no such field. */
function withOfferDefaults(job: Fields): Fields {
  const { offerDefaults, ...rest } = job;
  if (offerDefaults === undefined) return job;
  const { currency: _currency, ...defaults } = fieldsOf(offerDefaults);
  return {
    ...rest,
    offers: Array.isArray(job['offers'])
      ? (job['offers'] as unknown[]).map((offer) => ({ ...defaults, ...fieldsOf(offer) }))
      : job['offers'],
  };
}

/** The job with the wire parts that came into being from its offers. */
export const withMadeParts = (job: Fields, { made }: ShortContext): Fields => {
  const parts = made?.() ?? [];
  return parts.length === 0 ? job : { ...job, parts: [...listOf(job['parts']), ...parts] };
};
