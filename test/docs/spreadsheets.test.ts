import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { runCommand } from '../../worker/price/command.ts';
import { ABOUT_ENTRIES } from '../../worker/price/folder/about.ts';
import { starterCatalogue } from '../../worker/price/folder/starter.ts';
import { deliveryTable, movementsTable } from '../../worker/tables/ledgerTables.ts';
import { fileOf, TABLE_NAMES, tableOf } from '../../worker/tables/tables.ts';
import { foldersOn, type Disk } from '../price/folders.ts';

const page = readFileSync(new URL('../../docs/spreadsheets.md', import.meta.url), 'utf8');
const root = new URL('../../', import.meta.url);

/** The rows of the table under a heading, without the padding of the formatter. */
function rowsUnder(heading: string): string[] {
  const [, section = ''] = page.split(`### ${heading}\n`);
  const [own = ''] = section.split('\n### ');
  return own
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .slice(2)
    .map((line) => line.replaceAll(/ +(?=\|)|(?<=\|) +/g, ' ').replaceAll('|  |', '| |'));
}

const escaped = (text: string) => text.replaceAll('|', '\\|').replaceAll('*', '\\*');
const rowOf = (name: string, also: readonly string[], says: string) =>
  `| ${name} | ${escaped(also.join(', '))} | ${escaped(says)} |`.replaceAll('|  |', '| |');

describe('the page on spreadsheets', () => {
  const tables = [...TABLE_NAMES.map(tableOf), deliveryTable, movementsTable];
  test.each(tables.map((table) => [fileOf(table.name), table] as const))(
    'lists every column of %s, in order, with what it says',
    (file, { columns }) => {
      expect(rowsUnder(file)).toEqual(
        columns.map(({ name, also = [], says, needed }) =>
          rowOf(needed ? `**${escaped(name)}**` : escaped(name), also, says),
        ),
      );
    },
  );

  test('lists every entry of about.csv that is no setting', () => {
    expect(rowsUnder('about.csv')).toEqual(
      ABOUT_ENTRIES.filter(({ at }) => !(at as readonly string[]).includes('settings')).map(
        ({ name, also = [], says }) => rowOf(name, also, says),
      ),
    );
  });

  const files: Disk = new Map(
    [...page.matchAll(/\*\*(first-loom\/[a-z]+\.csv)\*\*\n+```csv\n([\s\S]*?)```/g)].map(
      ([, path = '', text = '']) => [path, text],
    ),
  );
  const folders = { ...foldersOn(files), starter: () => starterCatalogue('examples/starter') };

  async function run(command: string) {
    let [printed, warned] = ['', ''];
    const code = await runCommand(
      command.split(' '),
      {
        readFile: async (path) => readFileSync(new URL(path, root), 'utf8'),
        writeFile: async (folder, name, text) =>
          void files.set(`${folder}/${name}`, Buffer.from(text).toString()),
        print: (text) => (printed += text),
        warn: (text) => (warned += text),
        progress: () => undefined,
        now: () => performance.now(),
      },
      folders,
    );
    return { code, printed, warned };
  }

  const blocks = [...page.matchAll(/```\n((?:npm run price .*\n)+)```(?:\n+```text\n([\s\S]*?)```)?/g)].map(
    ([, commands = '', output]) => ({ commands: commands.trim().split('\n'), output }),
  );

  test('has commands to run', () => expect(blocks.length).toBe(3));

  test.each(blocks)('runs $commands, which say what it shows', async ({ commands, output }) => {
    for (const command of commands) {
      const { code, printed, warned } = await run(command.replace(/^npm run price -- /, ''));
      expect([command, code, code === 0 ? '' : warned]).toEqual([command, 0, '']);
      if (output !== undefined) expect(printed).toBe(output);
    }
  });

  test('shows a fault as it is told', async () => {
    const [, shown = ''] = /```text\n(Fix these first[\s\S]*?)\n```/.exec(page) ?? [];
    const whole = files.get('first-loom/wires.csv') ?? '';
    files.set('first-loom/wires.csv', whole.replace('620 mm', '"1,200"').replace('green/white', 'gren'));
    const { code, warned } = await run('first-loom');
    files.set('first-loom/wires.csv', whole);
    expect(code).toBe(2);
    expect(warned.startsWith(shown)).toBe(true);
  });
});
