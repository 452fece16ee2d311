/** What a spreadsheet takes for the start of a formula. Tab and carriage return may hide one behind them. */
const FORMULA = /^[=+\-@\t\r＝＋－＠]/u;
const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/;

/** Whether a text needs guarding for another reason, by the text without the apostrophes that it begins with. */
type Also = (bare: string) => boolean;

function isGuarded(text: string, also: Also): boolean {
  if (PLAIN_NUMBER.test(text)) return false;
  const bare = text.replace(/^'+/, '');
  return FORMULA.test(bare) || also(bare);
}

const nothingElse: Also = () => false;

/**
 * A text as it stands in a cell: what a spreadsheet could take for a formula gets a leading apostrophe. A text that itself
 * begins with apostrophes before such a thing gets one more: reading takes away one, only where writing put one. Numbers
 * are left as they are.
 */
export function guarded(text: string, also: Also = nothingElse): string {
  return isGuarded(text, also) ? `'${text}` : text;
}

/** What `guarded` was given, with the same `also`; undefined where it put no apostrophe before this cell. */
export function unguarded(cell: string, also: Also = nothingElse): string | undefined {
  return cell.startsWith("'") && isGuarded(cell.slice(1), also) ? cell.slice(1) : undefined;
}
