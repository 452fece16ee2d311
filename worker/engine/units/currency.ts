import codes from 'currency-codes';

/** Decimal places of a currency's minor unit by ISO 4217, or undefined for a code that ISO 4217 does not list. */
export function currencyExponent(code: string): number | undefined {
  return codes.code(code)?.digits;
}
