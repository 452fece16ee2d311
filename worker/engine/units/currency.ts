import codes from 'currency-codes';

/** Codes of ISO 4217 that are no money to pay with: metals, units of account, for tests, for none. */
const NO_MONEY = new Set('XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX'.split(' '));

/** Decimal places of a currency's minor unit by ISO 4217, or undefined for a code that is no currency there. */
export function currencyExponent(code: string): number | undefined {
  if (NO_MONEY.has(code)) return undefined;
  return codes.code(code)?.digits;
}
