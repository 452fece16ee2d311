/** A row of a club's record, as far as it is replayed. */
export interface Row {
  action: string;
  thing: string;
  subject: string;
  after?: unknown;
}

/** Kinds of things whose rows hold them whole, by the word that stands first in their name. */
const KEPT = ['part', 'supplier', 'offer', 'fit', 'rate', 'lane', 'stock-item', 'loom'];
/** What is written of a thing without its body: who may see it, what was said of it. */
const BODIES = ['create', 'replace', 'revise', 'remove', 'merge'];

/**
 * What a club has by its record, oldest row first: what each thing was after the last row that changed it. A thing that was
 * removed, or merged into another, is not among them.
 */
export function replayed(rows: readonly Row[]): Map<string, unknown> {
  const state = new Map<string, unknown>();
  for (const { action, thing, after } of rows) {
    const [word = '', verb = ''] = action.split('.');
    if (!KEPT.includes(word) || !BODIES.includes(verb)) continue;
    if (verb === 'remove' || verb === 'merge') state.delete(thing);
    else state.set(thing, after);
  }
  return state;
}
