import { printable } from './textTable.ts';

const ENTITIES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it stands between tags or in a quoted attribute of HTML. */
export function escaped(text: string): string {
  return printable(text).replaceAll(/[&<>"']/g, (character) => ENTITIES[character] ?? '');
}
