import { wrong, type Reading, type ShortForm } from './form.ts';

const EXAMPLE = 'Wrenfield 20 41 77-33; Osterby 8-113';

/** A number under which somebody else has a part. */
interface OthersNumber {
  whose: string;
  number: string;
}

/**
 * Others' numbers of a part: whose, then the number, with semicolons between them. The number begins at the first word that
 * has a digit; where it begins elsewhere, a colon stands before it ("Wrenfield: AB 12").
 */
export const numbersForm: ShortForm = { examples: [EXAMPLE, 'Wrenfield: AB 12'], read: readNumbers };

function readNumbers(given: string): Reading {
  const numbers: OthersNumber[] = [];
  for (const entry of given.split(';').map((each) => each.trim().replace(/\s+/g, ' '))) {
    if (entry === '') continue;
    const number = withColon(entry) ?? withDigit(entry);
    if (!number)
      return wrong(
        `Others' numbers are written as in "${EXAMPLE}": whose, then the number, with a colon between them where the number begins with letters; "${entry}" does not say both`,
      );
    numbers.push(number);
  }
  return { value: numbers };
}

function withColon(entry: string): OthersNumber | undefined {
  const match = /^([^:]*\S) ?: ?(\S.*)$/.exec(entry);
  return match ? { whose: match[1] ?? '', number: match[2] ?? '' } : undefined;
}

function withDigit(entry: string): OthersNumber | undefined {
  const words = entry.split(' ');
  const at = words.findIndex((word) => /\d/.test(word));
  return at < 1 ? undefined : { whose: words.slice(0, at).join(' '), number: words.slice(at).join(' ') };
}

/** The same in one text. */
export function numbersShort(numbers: readonly OthersNumber[]): string {
  return numbers
    .map(({ whose, number }) => {
      const plain = `${whose} ${number}`;
      const read = plain.includes(':') ? undefined : withDigit(plain);
      return read?.whose === whose && read.number === number ? plain : `${whose}: ${number}`;
    })
    .join('; ');
}
