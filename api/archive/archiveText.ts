import { ENTRY_TYPES, type EntryType } from '../../db/archive/entries.ts';
import type { Report, Share } from '../../db/archive/report.ts';
import { printable, textTable } from '../../worker/sheets/textTable.ts';
import type { Counts, Header } from './frame.ts';

const WORDS: Record<EntryType, string> = {
  club: 'the club’s terms',
  member: 'members',
  synonyms: 'synonyms',
  part: 'parts',
  supplier: 'suppliers',
  offerPrice: 'prices of offers',
  offer: 'offers',
  fit: 'fits',
  fitReport: 'reports of fits',
  rate: 'rates',
  lane: 'lanes',
  stock: 'stock items',
  loom: 'looms',
  revision: 'revisions',
  quote: 'quotes',
  winningPrice: 'winning prices',
  order: 'orders',
  receipt: 'deliveries',
  orderEntry: 'returns, refunds and charges',
  movement: 'movements of stock',
  reservation: 'things kept for quotes',
  audit: 'rows of the history',
};

/** What was exported, once it was read back. */
export function summaryText(
  file: string,
  where: string,
  { header, counts }: { header: Header; counts: Counts },
): string {
  const rows = ENTRY_TYPES.map((type) => [WORDS[type], String(counts[type])]);
  return [
    printable(`Wrote the club “${header.club}” from ${where} to ${file}, and read it back: it is whole.`),
    '',
    textTable([{ head: 'Exported' }, { head: 'Entries', align: 'right' }], rows).trimEnd(),
    '',
  ].join('\n');
}

/** What came of an import, or would. */
export function importText(
  { types, differing }: Report,
  { preview, club, where }: { preview: boolean; club: string; where: string },
): string {
  const cells = ({ type, new: added, equal, differs }: Share) => [
    WORDS[type],
    ...[added, equal, differs].map(String),
  ];
  const heads = ['New', 'The same', 'Differs'].map((head) => ({ head, align: 'right' as const }));
  const sum = (how: 'new' | 'differs') => types.reduce((all, share) => all + share[how], 0);
  const more = sum('differs') - differing.length;
  return [
    ...differing.map(({ line, entry }) =>
      printable(`Line ${line}: ${entry} is in the club with another content.`),
    ),
    ...(more > 0 ? [`… and ${more} more.`] : []),
    ...(differing.length > 0 ? [''] : []),
    textTable([{ head: 'In the archive' }, ...heads], types.map(cells)).trimEnd(),
    '',
    printable(`${conclusion(sum('new'), sum('differs'), preview)} (club “${club}”, ${where})`),
    '',
  ].join('\n');
}

function conclusion(added: number, differs: number, preview: boolean): string {
  if (differs > 0) return 'Nothing was written: an import is refused while anything differs.';
  if (added === 0) return 'The club has all of it already; nothing was written.';
  return preview ? `Nothing was written. The import would add ${added}.` : `Added ${added}.`;
}
