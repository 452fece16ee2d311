import { guarded as guardedCell, unguarded } from '../csv/guard.ts';

/**
 * What else would not come back from a cell exactly: what would be trimmed, what begins with a comment's mark, and an empty
 * text, which has no cell of its own.
 */
function isLost(bare: string): boolean {
  return bare === '' || bare !== bare.trim() || bare.startsWith('#');
}

/** A text as the cell that `bare` reads back. */
export function guarded(text: string): string {
  return guardedCell(text, isLost);
}

/** What a cell says: without the white space around it, or exactly what `guarded` was given. */
export function bare(cell: string): string {
  return unguarded(cell, isLost) ?? cell.trim();
}

/** A word of the model as people write it: "tip to tip" for tipToTip. */
export function spaced(word: string): string {
  return word.replace(/(?<=[a-z0-9])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** The word of the model that is meant: tipToTip for "Tip-to-tip". */
export function unspaced(text: string): string {
  const words = spaced(text)
    .split(/[\s_-]+/)
    .filter((word) => word !== '')
    .map((word) =>
      word === word.toUpperCase() ? word.toLowerCase() : word.charAt(0).toLowerCase() + word.slice(1),
    );
  return words
    .map((word, index) => (index === 0 ? word : word.charAt(0).toUpperCase() + word.slice(1)))
    .join('');
}

/** Why a cell cannot be read. */
export interface Misread {
  code: string;
  limit: string;
  todo: string;
}

export type Read<T> = { value: T } | { wrong: Misread };

const wrong = (code: string, limit: string, todo: string) => ({ wrong: { code, limit, todo } });

/** What to do where all numbers have decimal commas. */
export const DECIMAL_COMMA =
  'If all your tables have decimal commas, write the row “decimal comma,yes” in about.csv.';

const NUMBER = /^[+-]?\d+(\.\d+)?(e[+-]?\d+)?$/i;

export interface NumberForm {
  unit?: string | undefined;
  decimalComma: boolean;
}

/**
 * The digits of a number with a dot, from a cell with or without its unit. With a decimal comma, 1,5 is one and a half and a
 * dot is refused; without, a comma is refused. Separators between thousands are refused, with the readings that they leave.
 */
export function digitsIn(text: string, { unit, decimalComma }: NumberForm): Read<string> {
  const number = withoutUnit(text, unit).trim();
  const [mark, other] = decimalComma ? [',', '.'] : ['.', ','];
  const plain = number.replaceAll(mark, '.');
  const marks = number.split(mark).length - 1;
  if (!number.includes(other) && marks <= 1 && NUMBER.test(plain)) return { value: plain.replace(/^\+/, '') };
  const grouped = /^[+-]?\d{1,3}([.,\s'’]\d{3})+([.,]\d+)?$/u.test(number);
  const onlyOther = /^[+-]?\d+[.,]\d+$/.test(number);
  if (!grouped && !onlyOther)
    return wrong('not-a-number', 'a number', `Write a number, such as ${example(unit)}.`);
  const digits = number.replace(/[^\d.,+-]/gu, '');
  const whole = digits.replaceAll(/[.,]/g, '');
  const at = Math.max(digits.lastIndexOf('.'), digits.lastIndexOf(','));
  const fraction = `${digits.slice(0, at).replaceAll(/[.,]/g, '')}${mark}${digits.slice(at + 1)}`;
  const readings = at < 0 ? whole : grouped ? `${whole} or ${fraction}` : fraction;
  return wrong(
    'number-in-doubt',
    `digits with a decimal ${decimalComma ? 'comma' : 'point'} and nothing between thousands`,
    readings.includes(' or ')
      ? `This can be ${readings}. Write the one that you mean.`
      : `Write ${readings}.${at >= 0 && !grouped && !decimalComma ? ` ${DECIMAL_COMMA}` : ''}`,
  );
}

function withoutUnit(text: string, unit: string | undefined): string {
  const end = text.length - (unit?.length ?? 0);
  return unit !== undefined && text.slice(end).toLowerCase() === unit.toLowerCase()
    ? text.slice(0, end)
    : text;
}

const example = (unit: string | undefined) => (unit === undefined ? '12' : `12 or 12 ${unit}`);

/** Units in which a length may be written too, in mm. */
const IN_MM: Readonly<Record<string, number>> = { cm: 10, m: 1000 };

/** A number, as `digitsIn` reads its digits; of millimetres also as "1.2 m". */
export function numberIn(text: string, form: NumberForm): Read<number> {
  const [, number = '', unit = ''] = /^([\d.,]+)\s?(cm|m)$/i.exec(text) ?? [];
  const times = form.unit === 'mm' ? IN_MM[unit.toLowerCase()] : undefined;
  const digits = digitsIn(times === undefined ? text : number, form);
  if ('wrong' in digits) return digits;
  // Millionths of a mm are noise of the multiplication.
  return {
    value: times === undefined ? Number(digits.value) : Math.round(Number(digits.value) * times * 1e6) / 1e6,
  };
}

const YES = ['yes', 'y', 'true', 'x', '1'];
const NO = ['no', 'n', 'false', '0'];

export function yesNoIn(text: string): Read<boolean> {
  const word = text.toLowerCase();
  if (YES.includes(word)) return { value: true };
  if (NO.includes(word)) return { value: false };
  return wrong('not-yes-or-no', 'yes or no', 'Write yes or no.');
}

/**
 * A day as YYYY-MM-DD. Days with dots are read, as only one order is in use; with strokes two are, so one is read where it has
 * only one reading: a day over 12, or the same number twice.
 */
export function dayIn(text: string): Read<string> {
  const two = (digits: string) => digits.padStart(2, '0');
  const [, day, month, year] = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$/.exec(text) ?? [];
  if (day && month && year) return { value: `${year}-${two(month)}-${two(day)}` };
  const [, first, second, its] = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4})$/.exec(text) ?? [];
  if (!first || !second || !its) return { value: text };
  const readings = [
    ...(Number(second) <= 12 ? [`${its}-${two(second)}-${two(first)}`] : []),
    ...(Number(first) <= 12 && first !== second ? [`${its}-${two(first)}-${two(second)}`] : []),
  ];
  const [only] = readings;
  if (only !== undefined && readings.length === 1) return { value: only };
  return wrong(
    'day-in-doubt',
    'year-month-day',
    only === undefined
      ? 'Write the day as 2026-11-02.'
      : `This can be ${readings.join(' or ')}. Write the one that you mean.`,
  );
}
