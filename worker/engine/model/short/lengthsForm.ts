import { wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { decimalOf, entriesOf, joined } from './numbers.ts';

const EXAMPLE = '3200, 1800';

/** One length of a text, with or without its unit. */
const LENGTH = /^([\d.,]+)\s*(mm|cm|m)?$/i;
const IN_MM: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000 };

/** What could be thousands or two lengths: "1 800"; and with a comma a decimal too: "3,2 m". */
const GAP = /(?<![\d.,])\d{1,3}\s+\d{3}(?![\d.,])/;
const GAP_OR_COMMA = /(?<![\d.])\d{1,3}(?:,\d+|\s+\d{3}(?![\d.,]))/;

/**
 * Lengths in mm, parted by commas, semicolons or spaces: "3200, 1800", "3200 1800", "3.2 m, 1.8 m". What could be
 * one length or two is refused.
 */
export const lengthsForm: ShortForm = { examples: [EXAMPLE, '3.2 m; 1.8 m'], read: readLengths };

function readLengths(given: string, context: ShortContext): Reading {
  const two = (context.decimalComma ? GAP : GAP_OR_COMMA).exec(given)?.[0];
  if (two !== undefined)
    return wrong(
      `"${two}" can be one length or two. Write one length as digits with a decimal point, without a gap, and put a semicolon between two: "${two.replace(/[,\s]+/, '; ')}"`,
    );
  const lengths: number[] = [];
  for (const text of entriesOf(given, context).flatMap(partedBySpaces)) {
    const [, digits = '', unit = 'mm'] = LENGTH.exec(text) ?? [];
    const decimal = decimalOf(digits, context);
    if (typeof decimal !== 'string')
      return wrong(`Lengths are written as in "${EXAMPLE}", in mm; "${text}" is no length`);
    // Millionths of a mm are noise of the multiplication.
    lengths.push(Math.round(Number(decimal) * (IN_MM[unit.toLowerCase()] ?? 1) * 1e6) / 1e6);
  }
  return { value: lengths };
}

/** "3200 1800" and "3.2 m 1.8 m" are two each. */
const partedBySpaces = (entry: string): string[] => entry.split(/(?<=[\da-z])\s+(?=\d)/i);

/** Lengths as their short form. */
export const lengthsShort = (lengthsMm: readonly number[], context: ShortContext): string =>
  joined(lengthsMm.map(String), context);
