import { currencyExponent } from '../../units/currency.ts';
import type { Money } from '../money.ts';
import { isWrong, several, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { decimalOf, decimalText } from './numbers.ts';

/** Signs that belong to one currency. A dollar sign is that of the context's currency, where that is a dollar. */
const SIGNS: Readonly<Record<string, string>> = { '£': 'GBP', '€': 'EUR' };
const DOLLARS = ['USD', 'CAD', 'AUD', 'NZD'];

/** An amount: "0.42" in the currency of the club or supplier, "0.42 EUR", "£0.42". */
export const moneyForm: ShortForm = { examples: ['0.42', '0.42 EUR'], read: readMoney };

function readMoney(given: string, context: ShortContext): Reading {
  if (/^([£€$]?\s*[-−]|[-−]\s*[£€$]?)\s*[\d.,]+/.test(given.trim()))
    return wrong(`An amount is not negative here; "${given}" is. Give 0 or more`);
  const match = /^([£€$]?)\s*([\d.,]+)\s*([£€$]|[A-Za-z]{3})?$/.exec(given.trim());
  const [, before = '', digits = '', after = ''] = match ?? [];
  if (!match || (before !== '' && after !== ''))
    return wrong(
      `An amount is written as in "${inside(given) ?? '0.42'}" or "${inside(given) ?? '0.42'} EUR"; "${given}" is none`,
    );
  const amount = decimalOf(digits, context);
  const named = before + after;
  if (amount === undefined) return wrong(`An amount is written as in "0.42"; "${given}" is none`);
  if (typeof amount !== 'string')
    return several(
      given,
      amount.several.map((each) => [decimalText(each, context), after].filter(Boolean).join(' ')),
    );
  const currency = currencyOf(named, context);
  if (currency === '$')
    return several(
      given,
      DOLLARS.map((each) => `${decimalText(amount, context)} ${each}`),
    );
  if (currency === undefined)
    return wrong(
      named === ''
        ? `Nothing says which currency "${given}" is in. Write it with its code, as in "${given.trim()} GBP"`
        : `${named} is no currency of ISO 4217. Write its three letters, as in "${decimalText(amount, context)} GBP"`,
    );
  return { value: { amount, currency } satisfies Money };
}

/** The figure in a text that is no amount as a whole: "3.95 each". */
const inside = (text: string) => /\d+(\.\d+)?/.exec(text)?.[0];

function currencyOf(named: string, { currency }: ShortContext): string | undefined {
  if (named === '') return currency;
  if (named === '$') return currency !== undefined && DOLLARS.includes(currency) ? currency : '$';
  const code = SIGNS[named] ?? named.toUpperCase();
  return currencyExponent(code) === undefined ? undefined : code;
}

/** The money of a text; or what is wrong with it. */
export function moneyOf(text: string, context: ShortContext): Money | Exclude<Reading, { value: unknown }> {
  const reading = readMoney(text, context);
  return isWrong(reading) ? reading : (reading.value as Money);
}

/** An amount as its short form: without the currency that the context says. */
export function moneyShort({ amount, currency }: Money, context: ShortContext): string {
  const digits = decimalText(amount, context);
  return currency === context.currency ? digits : `${digits} ${currency}`;
}
