import { byGravity, type Finding } from '../engine/model/finding.ts';
import type { Result } from '../engine/model/result.ts';
import { SETTING_NAMES, settingDescription, settingText } from '../engine/model/settings.ts';
import { madeAs } from './options.ts';
import { paragraph, textTable } from './textTable.ts';

const SEVERITIES: Record<Finding['severity'], string> = { stop: 'STOP', warning: 'Warning', note: 'Note' };

/** What must be mended before anything is bought. */
export function mendFirst({ findings: found }: Result): string {
  return findingsText(stopsOf(found));
}

/** Findings that stop, those that a loom accepts as original left out: these are notes. */
export function stopsOf(found: readonly Finding[]): Finding[] {
  return found.filter(({ severity }) => severity === 'stop');
}

/** What none of the offers can meet. A printed quote has a table of its own for it. */
export function notSourced({ findings: found }: Result): string {
  return findingsText(found.filter(({ code }) => code === 'unsourced'));
}

/** What else was found in the input, the gravest first. What is not sourced has a section of its own. */
export function findings({ findings: found }: Result): string {
  return findingsText(found.filter(({ severity, code }) => severity !== 'stop' && code !== 'unsourced'));
}

/** Findings as they stand on paper and on the error stream alike, the gravest first. */
export function findingsText(found: readonly Finding[]): string {
  return [...found]
    .sort(byGravity)
    .map((finding) => paragraph(line(finding), '- '))
    .join('\n');
}

function line({ severity, where, found, limit, source, todo, accepted }: Finding): string {
  const right = [
    ...(limit === undefined ? [] : [`should be: ${limit}`]),
    ...(source === undefined ? [] : [`source: ${source}`]),
  ];
  const head = `${SEVERITIES[severity]}: ${where}: ${found}${right.length === 0 ? '' : ` (${right.join('; ')})`}.`;
  return accepted === undefined ? `${head} ${todo}` : `${head} Accepted as original: ${accepted}`;
}

/** Input that took no part in the quote. */
export function notYetUsed(result: Result): string {
  return textTable(
    [{ head: 'Field' }, { head: 'Stated', align: 'right' }, { head: 'First at', wraps: true }],
    result.notYetUsed.map(({ field, count, first }) => [field, `${count} ×`, first]),
  );
}

/** The settings that were used and where each came from; a loom's own beneath those of the quote. */
export function settings(result: Result): string {
  const rows = SETTING_NAMES.map((name) => {
    const used = result.settings[name];
    return [settingDescription(name), used === undefined ? '' : settingText(used.value), used?.origin ?? ''];
  });
  const own = result.looms.flatMap((loom) =>
    SETTING_NAMES.flatMap((name) => {
      const used = loom.settings[name];
      return used?.origin === 'loom'
        ? [[settingDescription(name), settingText(used.value), `loom ${madeAs(loom)}`]]
        : [];
    }),
  );
  return textTable(
    [{ head: 'Setting', wraps: true }, { head: 'Value', align: 'right' }, { head: 'From' }],
    [...rows, ...own],
  );
}

export function cautions(result: Result): string {
  return result.cautions.map((caution) => paragraph(caution, '- ')).join('\n');
}
