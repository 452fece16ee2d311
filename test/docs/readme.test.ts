import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
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
// Tables are padded by the formatter.
const readme = readFileSync(`${root}README.md`, 'utf8')
  .replaceAll(/ +\| ?/g, ' | ')
  .replaceAll(/ \| \n/g, ' |\n');
const developers = readFileSync(`${root}DEVELOPERS.md`, 'utf8');
const scripts = (
  JSON.parse(readFileSync(`${root}package.json`, 'utf8')) as { scripts: Record<string, string> }
).scripts;

/** Blocks that follow a comment naming the command that prints them. */
const printed = [
  ...readme.matchAll(/<!-- printed: npm run -s (\w+) -- ([^\n]*?) -->\n+```\n([\s\S]*?)```/g),
].map(([, script = '', args = '', block = '']) => ({ script, args, block }));

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

describe('the README', () => {
  test('has printed results to check', () => expect(printed.length).toBeGreaterThanOrEqual(4));

  test.each(printed)(
    'shows what `npm run $script -- $args` prints, to the letter: $block',
    ({ script, args, block }) => {
      expect(outputOf(script, args)).toContain(block);
    },
  );

  test('tells the truth of a first page of 40 lines', () => {
    const [page = ''] = outputOf('price', 'examples/van/job.json').split('\n\n\n');
    expect(page).toMatch(/^Quote as of /);
    expect(page.split('\n').length).toBeLessThanOrEqual(40);
  });

  test('has every setting of the arithmetic with its default and its words', () => {
    const rows = SETTING_NAMES.map(
      (name) => `| \`${name}\` | ${settingText(DEFAULT_SETTINGS[name])} | ${settingDescription(name)} |`,
    );
    for (const row of rows) expect(readme).toContain(row);
  });

  test('has every environment variable of the processes with its default', () => {
    const source = readFileSync(`${root}worker/config.ts`, 'utf8');
    const variables = [...source.matchAll(/^ {4}([A-Z_]+):/gm)].map(([, name]) => name);
    expect(variables.length).toBeGreaterThan(10);
    for (const name of variables) expect(readme).toMatch(new RegExp(`^\\| \`${name}\` \\|`, 'm'));
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
      expect(readme).toContain(`| \`${name}\` | \`${value}\` |`);
  });

  test('and DEVELOPERS.md name only scripts and files that are there', () => {
    const named = [...`${readme}\n${developers}`.matchAll(/npm run (?:-s )?([a-z:]+)/g)].map(
      ([, script = '']) => script,
    );
    for (const script of named) expect([script, scripts[script] !== undefined]).toEqual([script, true]);
    const links = [...`${readme}\n${developers}`.matchAll(/\]\(([^)#]+)\)/g)].map(([, path = '']) => path);
    for (const path of links) expect([path, existsSync(`${root}${path}`)]).toEqual([path, true]);
  });
});
