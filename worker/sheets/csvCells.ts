/**
 * A cell that a spreadsheet could take for a formula is disarmed by a leading apostrophe. A text that itself begins with
 * apostrophes before such a character gets one more, so that reading takes away exactly what was put there. Numbers are
 * left as they are.
 */
const DANGEROUS = /^'*[=+\-@\t\r＝＋－＠]/u;
const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/;

export function disarmed(text: string): string {
  return DANGEROUS.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;
}

/** What `disarmed` was given. */
export function rearmed(cell: string): string {
  return cell.startsWith("'") && DANGEROUS.test(cell) ? cell.slice(1) : cell;
}
