import type { Scope, ShortContext } from './form.ts';
import { fieldsOf, listOf, textOf } from './untyped.ts';

/** The cable type of wires that state none, where nothing else is set. */
const usualCableType = (settings: unknown) => textOf(fieldsOf(settings)['usualCableType']);

/** In a supplier's own entry amounts are in its currency; one that states none sells in the club's. */
export const supplierScope: Scope = (value, context) => {
  const currency = textOf(value['currency']) ?? context.currency;
  return {
    value: value['currency'] === undefined && currency !== undefined ? { ...value, currency } : value,
    context: { ...context, currency },
  };
};

/** Prices of an offer are in the currency of its list, else in that of its supplier. */
export const offerScope: Scope = (value, context) => {
  const supplier = textOf(value['supplier']);
  const currency =
    context.offerCurrency ??
    (supplier === undefined ? undefined : context.currencyOf?.(supplier)) ??
    context.currency;
  return { value, context: { ...context, currency } };
};

/** A loom's letters, points and usual cable type; a wire that states no cable type is of that. */
export const loomScope: Scope = (value, context) => {
  const system = textOf(value['colourSystem']) as ShortContext['colourSystem'];
  const points = new Set(listOf(value['points']).flatMap((point) => textOf(fieldsOf(point)['id']) ?? []));
  const cableType = usualCableType(value['settings']) ?? context.cableType;
  return { value, context: { ...context, colourSystem: system, points, cableType } };
};

export const wireScope: Scope = (value, context) => ({
  value:
    value['cableType'] === undefined && context.cableType !== undefined
      ? { ...value, cableType: context.cableType }
      : value,
  context,
});
