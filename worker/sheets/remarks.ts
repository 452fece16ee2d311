import { byGravity, type Finding } from '../engine/model/finding.ts';
import type { Result } from '../engine/model/result.ts';
import { SETTING_NAMES, settingDescription, settingText } from '../engine/model/settings.ts';
import { madeAs } from './options.ts';
import { list, table, text, type Block } from './block.ts';
import { counted } from './amounts.ts';
import { withRemedy } from './names.ts';
import { paragraph } from './textTable.ts';

const SEVERITIES: Record<Finding['severity'], string> = { stop: 'STOP', warning: 'Warning', note: 'Note' };

/** Faults that stop, those that a loom accepts as original left out: these are notes. */
export function stopsOf(found: readonly Finding[]): Finding[] {
  return found.filter(({ severity }) => severity === 'stop');
}

/** What none of the offers can meet. */
export function unsourcedIn(found: readonly Finding[]): Finding[] {
  return found.filter(({ code }) => code === 'unsourced');
}

/** All that was found, the gravest first. What is not sourced has a section of its own. */
export function findings({ findings: found }: Result): Block[] {
  return list(findingLines(found.filter(({ code }) => code !== 'unsourced')));
}

/** Faults as they stand on the error stream. */
export function findingsText(found: readonly Finding[]): string {
  return findingLines(found)
    .map((words) => paragraph(words, '- '))
    .join('\n');
}

/** Faults in sentences, the gravest first. */
function findingLines(found: readonly Finding[]): string[] {
  return [...found].sort(byGravity).map(findingWords);
}

/** One fault in about so many characters, without what would be right and its source; how to fix it stays. */
export function shortFinding({ severity, where, found, todo }: Finding, most: number): string {
  return withRemedy(`${SEVERITIES[severity]}: ${where}: ${found}.`, todo, most);
}

/** One fault in sentences, with its severity. */
function findingWords({ severity, where, found, limit, source, todo, accepted }: Finding): string {
  const right = [
    ...(limit === undefined ? [] : [`should be: ${limit}`]),
    ...(source === undefined ? [] : [`source: ${source}`]),
  ];
  const head = `${SEVERITIES[severity]}: ${where}: ${found}${right.length === 0 ? '' : ` (${right.join('; ')})`}.`;
  return accepted === undefined ? `${head} ${todo}` : `${head} Accepted as original: ${accepted}`;
}

/** Input that took no part in the quote. */
export function notYetUsed(result: Result): Block[] {
  return table(
    [{ head: 'Field' }, { head: 'Stated', align: 'right' }, { head: 'First at', wraps: true }],
    result.notYetUsed.map(({ field, count, first }) => [field, `${count} ×`, first]),
  );
}

/** The settings that somebody set, and who; a loom's own beneath those of the quote. How many others are at their default. */
export function settings(result: Result): Block[] {
  const isSet = (used: Result['settings'][string] | undefined) => used && used.origin !== 'default';
  const rows = SETTING_NAMES.flatMap((name) => {
    const used = result.settings[name];
    return used && isSet(used)
      ? [[name, settingDescription(name), settingText(used.value), used.origin]]
      : [];
  });
  const own = result.looms.flatMap((loom) =>
    SETTING_NAMES.flatMap((name) => {
      const used = loom.settings[name];
      return used?.origin === 'loom'
        ? [[name, settingDescription(name), settingText(used.value), `loom ${madeAs(loom)}`]]
        : [];
    }),
  );
  const left = SETTING_NAMES.filter((name) => !isSet(result.settings[name])).length;
  const others =
    rows.length === 0
      ? `All ${counted(left, 'setting')} of the quote are at their default.`
      : `The other ${counted(left, 'setting')} of the quote are at their default.`;
  return [
    ...table(
      [
        { head: 'Setting' },
        { head: 'What it does', wraps: true },
        { head: 'Value', wraps: true },
        { head: 'From' },
      ],
      [...rows, ...own],
    ),
    ...text(others),
  ];
}

/** What to take care of at the bench and at the vehicle. */
export function cautions(result: Pick<Result, 'cautions'>): Block[] {
  return list(result.cautions);
}
