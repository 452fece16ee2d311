import { html as tagged, raw } from 'hono/html';
import { printable } from './textTable.ts';

/** HTML in which all text is escaped. It is made by `markup` alone, so that no text that people typed becomes markup. */
export interface Html {
  readonly isEscaped: true;
  toString(): string;
}

type Value = string | number | undefined | Html | readonly (string | Html)[];

// The name is not html: prettier would close the tags that a template leaves open for the next one.
/** A template of HTML. Texts put into it are escaped, in quoted attributes too; HTML stays; undefined is nothing. */
export function markup(strings: TemplateStringsArray, ...values: readonly Value[]): Html {
  // Only promises and callbacks make it a promise, and the types let none in.
  return tagged(strings, ...values.map(cleaned)) as Html;
}

/** Pieces of HTML one after the other, each on a line of its own. */
export function lined(pieces: readonly Html[]): Html {
  return raw(pieces.map(String).join('\n'));
}

/** Text of this program's own, such as a style sheet, that stands as it is. Never what people typed. */
export function ours(text: string): Html {
  return raw(text);
}

const isHtml = (value: Value): value is Html => typeof value === 'object' && 'isEscaped' in value;

function cleaned(value: Value): unknown {
  if (typeof value === 'string') return printable(value);
  if (typeof value !== 'object' || isHtml(value)) return value;
  return value.map((each) => (typeof each === 'string' ? printable(each) : each));
}
