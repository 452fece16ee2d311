import { parsed } from '../../worker/engine/model/parsed.ts';
import { ENTRY_SCHEMAS, lineOf, type Entry } from './entries.ts';

/** Whether what is stored is what an archive brings. What was stored by an older version is read as it is read today. */
export function isSame(stored: Entry, given: Entry): boolean {
  const line = lineOf(given);
  if (lineOf(stored) === line) return true;
  const today = parsed(ENTRY_SCHEMAS[stored.type], stored);
  return today.success && lineOf(today.data) === line;
}
