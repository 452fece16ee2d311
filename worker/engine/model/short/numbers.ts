import type { ShortContext } from './form.ts';

/**
 * A decimal of a text: "3.95", and "3,95" where the comma is the decimal sign. Several: the ways in which a grouped number
 * ("1,234") could be meant. Undefined where it is no number.
 */
export function decimalOf(
  text: string,
  { decimalComma = false }: ShortContext,
): string | { several: string[] } | undefined {
  const given = text.trim();
  if (/^\d+$/.test(given)) return plain(given);
  const [decimal, group] = decimalComma ? [',', '.'] : ['.', ','];
  const sign = given.split(decimal);
  if (!given.includes(group)) {
    if (sign.length !== 2 || !/^\d*$/.test(sign[0] ?? '') || !/^\d+$/.test(sign[1] ?? '')) return undefined;
    return plain(`${sign[0] === '' ? '0' : (sign[0] ?? '')}.${sign[1] ?? ''}`);
  }
  if (!/^\d+([.,]\d+)+$/.test(given)) return undefined;
  const groups = given.split(group);
  const asDecimal = groups.length === 2 && !given.includes(decimal) ? [groups.join('.')] : [];
  const grouped = /^\d{1,3}([.,]\d{3})+([.,]\d+)?$/.test(given)
    ? [given.replaceAll(group, '').replace(decimal, '.')]
    : [];
  const readings = [...asDecimal, ...grouped].map(plain);
  return readings.length === 0 ? undefined : { several: readings };
}

/** Without zeros in front. */
function plain(digits: string): string {
  return digits.replace(/^0+(?=\d)/, '');
}

/** A number as it is written back in a text: with the decimal sign of the context. */
export function decimalText(value: string | number, { decimalComma = false }: ShortContext): string {
  return decimalComma ? `${value}`.replace('.', ',') : `${value}`;
}

/** The entries of a list: parted by commas, or by semicolons; where the comma is the decimal sign, by semicolons alone. */
export function entriesOf(text: string, { decimalComma = false }: ShortContext): string[] {
  const by = decimalComma || text.includes(';') ? ';' : ',';
  return text.split(by).map((entry) => entry.trim());
}

/** What entries are joined with, so that they are read back. */
export const joined = (entries: readonly string[], { decimalComma = false }: ShortContext) =>
  entries.join(decimalComma ? '; ' : ', ');
