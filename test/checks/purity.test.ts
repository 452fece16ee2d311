import { ESLint } from 'eslint';
import tseslint from 'typescript-eslint';
import { beforeAll, expect, test } from 'vitest';
import { HOUSE } from './tool.ts';

let eslint: ESLint;
beforeAll(() => {
  // The rules in question read the text alone; those that ask for types would ask for the file on disk.
  eslint = new ESLint({ cwd: HOUSE, overrideConfig: tseslint.configs.disableTypeChecked });
});

async function refusals(code: string, file: string): Promise<string[]> {
  const [result] = await eslint.lintText(`${code}\n`, { filePath: `${HOUSE}/${file}` });
  return result?.messages.map(({ ruleId, message }) => ruleId ?? message) ?? ['nothing was read'];
}

const impure: [string, string][] = [
  ['export const today = Date.now();', 'no-restricted-properties'],
  ["export const today = Date['now']();", 'no-restricted-properties'],
  ['const { now } = Date; export const today = now();', 'no-restricted-properties'],
  ['export const today = new Date();', 'no-restricted-syntax'],
  ['export const today = Date();', 'no-restricted-syntax'],
  ['export const luck = Math.random();', 'no-restricted-properties'],
  ["import { randomUUID } from 'node:crypto'; export const luck = randomUUID();", 'no-restricted-imports'],
  ["import * as all from 'node:crypto'; export const luck = all;", 'no-restricted-imports'],
  ['export const luck = crypto.randomUUID();', 'no-restricted-globals'],
  ['export const setting = process.env.SETTING;', 'no-restricted-globals'],
  ['export const setting = globalThis.process.env.SETTING;', 'no-restricted-globals'],
  ['export const later = (work: () => void) => setTimeout(work, 1);', 'no-restricted-globals'],
  ["export const answer = fetch('https://parts.example');", 'no-restricted-globals'],
  ["console.log('so far');", 'no-restricted-globals'],
];

const pure = `import { createHash } from 'node:crypto';
export const hash = (text: string) => createHash('sha256').update(text).digest('hex');
export const day = (asOf: string) => new Date(asOf).getUTCDay();`;

test.each(impure)('the engine and the sheets may not say: %s', async (code, rule) => {
  expect(await refusals(code, 'worker/engine/loom/planted.ts')).toContain(rule);
  expect(await refusals(code, 'worker/sheets/planted.ts')).toContain(rule);
});

test('arithmetic, hashing and days that are given are no fault in the engine', async () => {
  expect(await refusals(pure, 'worker/engine/loom/planted.ts')).toEqual([]);
});

test('outside the engine the clock may be read', async () => {
  expect(await refusals('export const today = Date.now();', 'worker/tasks/planted.ts')).toEqual([]);
});
