import { middleCut } from '../labels/fit.ts';
import type { Ink, Sized } from './ink.ts';

/** Widths are sums in floating point: words as wide as their column fit it. */
const ROUNDING = 0.01;

/** Splits words into lines of at most that width, points; a word that is wider by itself is broken where it must be. */
export function wrapped(ink: Ink, words: string, given: number, font: Sized): string[] {
  const width = given + ROUNDING;
  const space = ink.widthOf(' ', font);
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of words.split(' ')) {
    const own = ink.widthOf(word, font);
    if (line !== '' && used + space + own <= width) {
      line += ` ${word}`;
      used += space + own;
      continue;
    }
    if (line !== '') lines.push(line);
    const pieces = own <= width ? [word] : broken(ink, word, width, font);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? '';
    used = ink.widthOf(line, font);
  }
  return line === '' && lines.length > 0 ? lines : [...lines, line];
}

/** A word in pieces, after a hyphen or slash where that fills at least half of the line. */
function broken(ink: Ink, word: string, width: number, font: Sized): string[] {
  const pieces: string[] = [];
  let piece = '';
  let used = 0;
  for (const character of word) {
    const own = ink.widthOf(character, font);
    if (piece !== '' && used + own > width) {
      const at = Math.max(piece.lastIndexOf('-'), piece.lastIndexOf('/')) + 1;
      const cut = at > piece.length / 2 ? at : piece.length;
      pieces.push(piece.slice(0, cut));
      piece = piece.slice(cut);
      used = ink.widthOf(piece, font);
    }
    piece += character;
    used += own;
  }
  return [...pieces, piece];
}

/** Words made to fit one line: shortened in the middle, where one sees it. */
export function inOneLine(ink: Ink, words: string, width: number, font: Sized): string {
  if (ink.widthOf(words, font) <= width) return words;
  const characters = Array.from(words);
  let low = 0;
  let high = characters.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (ink.widthOf(middleCut(characters, middle), font) <= width) low = middle;
    else high = middle - 1;
  }
  return middleCut(characters, low);
}
