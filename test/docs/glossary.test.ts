import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createApp } from '../../api/app.ts';
import type { Deps } from '../../api/http/deps.ts';
import { SETTING_NAMES, settingDescription } from '../../worker/engine/model/settings.ts';
import { finderOf, firstCells, read, sourcesIn, textsIn, textsOf } from './plainWords.ts';

/** Folders whose messages are read. */
const FOLDERS = [
  'worker/engine',
  'worker/command',
  'worker/tasks',
  'worker/tables',
  'worker/sheets',
  'worker/price',
  'db',
  'api',
];
const PAGES = [
  'README.md',
  ...readdirSync(new URL('../../docs/', import.meta.url))
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`),
];

const [words = '', notUsed = ''] = read('docs/glossary.md').split('\n## Words that are not used\n');
const ruledOut = firstCells(notUsed);
const find = finderOf(ruledOut);

/** The texts in which a word stands that the glossary rules out, after that word. */
function riddles(texts: readonly string[]): string[] {
  return texts.flatMap((text) => {
    const word = find(text);
    return word === undefined ? [] : [`${word}: ${text}`];
  });
}

describe('the glossary', () => {
  test('says in one plain sentence what a word means, each word once and in order', () => {
    const listed = firstCells(words);
    expect(listed.length).toBeGreaterThan(60);
    const inOrder = [...new Set(listed)].sort((a, b) => a.localeCompare(b, 'en'));
    expect(listed).toEqual(inOrder);
    for (const [, meaning = ''] of words.matchAll(/^\| [^|]*\| ([^|]*?) *\|$/gm))
      if (!/^(-+|what it means)$/.test(meaning)) expect(meaning).toMatch(/^[A-Z].*[^.]\.$/);
  });

  test('rules words out, in any of their endings, and finds them in what a template says', () => {
    expect(ruledOut).toEqual(expect.arrayContaining(['mend', 're-do', 'at the least', 'beside', 'reckon']));
    const texts = textsIn("import 'mend it'; const a = `Mended ${mend} there`; const b = { mend: 'mend' };");
    expect(riddles(texts)).toEqual(['Mended: Mended ']);
    expect(riddles(['Recommend `mend` to a shopkeeper.'])).toEqual([]);
  });
});

describe('no word that it rules out stands', () => {
  test.each(FOLDERS)('in a message of %s', (folder) => {
    const texts = sourcesIn(folder).flatMap((file) => textsIn(read(file)));
    expect(texts.length).toBeGreaterThan(10);
    expect(riddles(texts)).toEqual([]);
  });

  test.each(PAGES)('on the page %s', (page) => {
    const text = page === 'docs/glossary.md' ? words : read(page);
    expect(riddles(text.split('\n'))).toEqual([]);
  });

  test('in what a setting is for, or in the API’s document', async () => {
    const app = createApp({ log: { info: () => undefined }, newId: () => 'x' } as unknown as Deps);
    const document: unknown = await (await app.request('/openapi.json')).json();
    const texts = [...textsOf(document), ...SETTING_NAMES.map(settingDescription)];
    expect(texts.length).toBeGreaterThan(1000);
    expect(riddles(texts)).toEqual([]);
  });
});
