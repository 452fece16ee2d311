import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { readConfig } from '../../worker/config.ts';
import {
  DEFAULT_SETTINGS,
  SETTING_NAMES,
  settingDescription,
  settingText,
} from '../../worker/engine/model/settings.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const pages = ['README.md', ...readdirSync(`${root}docs`).map((name) => `docs/${name}`)].filter((name) =>
  name.endsWith('.md'),
);
const textOf = (page: string) => readFileSync(`${root}${page}`, 'utf8');
/** A page without what the formatter pads its tables with. */
const unpadded = (page: string) =>
  textOf(page)
    .replaceAll(/ +\| ?/g, ' | ')
    .replaceAll(/ \| \n/g, ' |\n');
const readme = textOf('README.md');
const scripts = (
  JSON.parse(readFileSync(`${root}package.json`, 'utf8')) as { scripts: Record<string, string> }
).scripts;

/** Blocks that follow a comment naming the command that prints them. */
const printed = pages.flatMap((page) =>
  [...textOf(page).matchAll(/<!-- printed: npm run -s (\w+) -- ([^\n]*?) -->\n+```\n([\s\S]*?)```/g)].map(
    ([, script = '', args = '', block = '']) => ({ script, args, block }),
  ),
);

const outputs = new Map<string, string>();

/** What a script prints; each command is run once. */
function outputOf(script: string, args: string): string {
  const known = outputs.get(`${script} ${args}`);
  if (known !== undefined) return known;
  const [command = '', ...words] = (scripts[script] ?? '').split(' ');
  const output = execFileSync(command, [...words, ...args.split(' ')], { cwd: root, encoding: 'utf8' });
  outputs.set(`${script} ${args}`, output);
  return output;
}

describe('the README and its pages', () => {
  test('has printed results to check', () => expect(printed.length).toBeGreaterThanOrEqual(4));

  test.each(printed)(
    'shows what `npm run $script -- $args` prints, to the letter: $block',
    ({ script, args, block }) => {
      expect(outputOf(script, args)).toContain(block);
    },
  );

  test('is read in a quarter of an hour: 1,500 words at most', () => {
    expect(readme.split(/\s+/).length).toBeLessThanOrEqual(1500);
  });

  test('shows the tables of examples/first-loom', () => {
    const shown = [...readme.matchAll(/^\*\*([a-z]+\.csv)\*\*[^\n]*\n+```csv\n([\s\S]*?)```/gm)];
    expect(shown.map(([, name]) => name)).toEqual(['wires.csv', 'suppliers.csv', 'offers.csv']);
    for (const [, name = '', text] of shown) expect(text).toBe(textOf(`examples/first-loom/${name}`));
  });

  test('has every setting of the arithmetic with its default and its words', () => {
    const settings = unpadded('docs/settings.md');
    const rows = SETTING_NAMES.map(
      (name) => `| \`${name}\` | ${settingText(DEFAULT_SETTINGS[name])} | ${settingDescription(name)} |`,
    );
    for (const row of rows) expect(settings).toContain(row);
  });

  test('has every environment variable of the processes with its default', () => {
    const page = unpadded('docs/server.md');
    const source = readFileSync(`${root}worker/config.ts`, 'utf8');
    const variables = [...source.matchAll(/^ {4}([A-Z_]+):/gm)].map(([, name]) => name);
    expect(variables.length).toBeGreaterThan(10);
    for (const name of variables) expect(page).toMatch(new RegExp(`^\\| \`${name}\` \\|`, 'm'));
    const config = readConfig({});
    for (const [name, value] of [
      ['PORT', config.port],
      ['HOST', config.host],
      ['LOOMWRIGHT_BODY_BYTES', config.bodyBytes],
      ['LOOMWRIGHT_ARCHIVE_BYTES', config.archiveBytes],
      ['LOOMWRIGHT_LEASE_SECONDS', config.leaseMs / 1000],
      ['LOOMWRIGHT_STOP_SECONDS', config.stopMs / 1000],
      ['LOOMWRIGHT_THREADS', config.threads],
      ['LOOMWRIGHT_CURRENCY', config.firstClub.currency],
      ['LOOMWRIGHT_CLUB', config.firstClub.name],
      ['LOG_LEVEL', config.logLevel],
    ] as const)
      expect(page).toContain(`| \`${name}\` | \`${value}\` |`);
  });

  test.each([...pages, 'DEVELOPERS.md'])('%s names only scripts and files that are there', (page) => {
    const text = textOf(page);
    for (const [, script = ''] of text.matchAll(/npm run (?:-s )?([a-z:]+)/g))
      expect([script, scripts[script] !== undefined]).toEqual([script, true]);
    const folder = page.includes('/') ? page.replace(/[^/]*$/, '') : '';
    for (const [, path = ''] of text.matchAll(/\]\((?!https?:)([^)#]+)/g))
      expect([path, existsSync(`${root}${folder}${path}`)]).toEqual([path, true]);
  });
});
