import { afterAll, beforeAll, expect, test } from 'vitest';
import { plantHouse } from './planted.ts';
import { reportOf } from './tool.ts';

interface Issue {
  file: string;
  files: { name: string }[];
  exports: { name: string }[];
  dependencies: { name: string }[];
}

let house: ReturnType<typeof plantHouse> | undefined;
let issues: Issue[] = [];

beforeAll(async () => {
  house = plantHouse({
    'api/main.ts': "import { used } from './parts.ts';\nimport pino from 'pino';\npino().info(used);\n",
    'api/parts.ts': [
      'export interface Shape { name: string }',
      'export const used = 1;',
      'export const usedInTest = (shape: Shape) => shape;',
      'export const forgotten = 2;',
    ].join('\n'),
    'api/nobodys.ts': 'export const value = 1;\n',
    'test/api/parts.test.ts':
      "import { usedInTest } from '../../api/parts.ts';\nusedInTest({ name: 'ring' });\n",
  });
  const report = await reportOf(house.folder, 'knip/bin/knip.js', ['--reporter', 'json']);
  ({ issues } = report as { issues: Issue[] });
}, 60_000);
afterAll(() => house?.remove());

test('a file that nothing imports is found', () => {
  expect(issues.flatMap(({ files }) => files)).toContainEqual({ name: 'api/nobodys.ts' });
});

test('an export that nothing uses is found, and no export that a test uses, nor a type that its file uses', () => {
  const unused = issues.filter(({ file }) => file === 'api/parts.ts').flatMap((issue) => issue.exports);
  expect(unused.map(({ name }) => name)).toEqual(['forgotten']);
});

test('a library that nothing imports is found, and none that something imports', () => {
  const unused = issues.flatMap(({ dependencies }) => dependencies).map(({ name }) => name);
  expect(unused).toContain('hono');
  expect(unused).not.toContain('pino');
});
