/** No word that is kept or asked for is longer: the rest of it is left out. */
export const LONGEST_WORD = 40;

/** Lower case, without accents, and with signs such as ² and ½ in plain letters and digits. */
function folded(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
}

/** Only the letters and digits of a text: how numbers are compared, whatever stands between their figures. */
export function lettersAndDigits(text: string): string {
  return cut(folded(text).replace(/[^\p{L}\p{N}]/gu, ''));
}

/** The words of a text: its runs of letters and digits. */
export function plainWords(text: string): string[] {
  return (folded(text).match(/[\p{L}\p{N}]+/gu) ?? []).map(cut);
}

/** The runs of letters and the runs of digits of a number: "AB12-33" has three. */
export function groupsOf(number: string): string[] {
  return folded(number).match(/\p{L}+|\p{N}+/gu) ?? [];
}

/** A decimal number as it is kept: "4,70" and "4.7" are one. */
export function decimalWord(text: string): string | undefined {
  return /^\d{1,6}[.,]\d{1,6}$/.test(text) ? String(Number(text.replace(',', '.'))) : undefined;
}

export const isLetters = (word: string) => /^\p{L}+$/u.test(word);

export const cut = (word: string) => [...word].slice(0, LONGEST_WORD).join('');

/** Every text that a word becomes when one of its letters is left out. */
export function withoutOne(word: string): string[] {
  const letters = [...word];
  return [...new Set(letters.map((_, at) => [...letters.slice(0, at), ...letters.slice(at + 1)].join('')))];
}

/** Whether one slip of the pen leads from one word to the other: a letter too many, too few, another, or two exchanged. */
export function isOneSlip(a: string, b: string): boolean {
  const [short, long] = [[...a], [...b]].sort((one, other) => one.length - other.length) as [
    string[],
    string[],
  ];
  let at = 0;
  while (at < short.length && short[at] === long[at]) at++;
  const rest = (letters: readonly string[], from: number) => letters.slice(from).join('');
  if (long.length === short.length + 1) return rest(short, at) === rest(long, at + 1);
  if (long.length !== short.length || at === short.length) return false;
  return (
    rest(short, at + 1) === rest(long, at + 1) ||
    (short[at] === long[at + 1] && short[at + 1] === long[at] && rest(short, at + 2) === rest(long, at + 2))
  );
}
