import type { Differing, Loaded, Way } from './loadJob.ts';

/** Most fields that are told of one entry. */
const MOST = 20;

/** What came of a load, in lines: each entry that is not as in the file, then how many came to what. */
export function loadedText({ added, same, updated, differing, refused }: Loaded, way: Way): string {
  const preview = way === 'preview';
  return [
    ...(preview ? added.map((entry) => `${entry} would be added.`) : []),
    ...updated.map((one) => told(one, `was updated${asRevision(one)}`, ['before', 'now'])),
    ...differing.map((one) =>
      told(one, preview ? `would be updated${asRevision(one)}` : 'differs, and was not changed', [
        'in the club',
        'in the file',
      ]),
    ),
    ...refused.map(({ entry, why }) => `${entry} was not loaded: ${why}`),
    preview
      ? `Nothing was written. With --update: added ${added.length}, updated ${differing.length}, the same ${same}, not loaded ${refused.length}.`
      : `Added ${added.length}, updated ${updated.length}, the same ${same}, different but not changed ${differing.length}, not loaded ${refused.length}.`,
    ...(way === 'add' && differing.length > 0
      ? ['To replace those that differ by those of the file, run this again with --update.']
      : []),
    '',
  ].join('\n');
}

function asRevision({ revision }: Differing): string {
  return revision === undefined ? '' : ` as its revision ${revision}`;
}

function told({ entry, differences }: Differing, what: string, [first, then]: [string, string]): string {
  const lines = differences
    .slice(0, MOST)
    .map(({ where, stored, given }) => `  ${where}: ${stored} ${first}, ${given} ${then}`);
  const more = differences.length - lines.length;
  return [`${entry} ${what}:`, ...lines, ...(more > 0 ? [`  … and ${more} more`] : [])].join('\n');
}
