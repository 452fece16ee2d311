import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const rows = readFileSync(`${root}docs/security.md`, 'utf8')
  .split('\n')
  .filter((line) => line.startsWith('| API'));

/** The names in the OWASP API Security Top 10, edition 2023. */
const RISKS = [
  'API1 Broken object level authorization',
  'API2 Broken authentication',
  'API3 Broken object property level authorization',
  'API4 Unrestricted resource consumption',
  'API5 Broken function level authorization',
  'API6 Unrestricted access to sensitive business flows',
  'API7 Server side request forgery',
  'API8 Security misconfiguration',
  'API9 Improper inventory management',
  'API10 Unsafe consumption of APIs',
];

test('docs/security.md has every row of the OWASP API Security Top 10 of 2023, each with tests that are there', () => {
  expect(rows.map((row) => row.split('|')[1]?.trim())).toEqual(RISKS);
  for (const row of rows) {
    const shown = [...row.matchAll(/`(test\/[^`]+)` “([^”]+)”/g)];
    expect(shown.length, row).toBeGreaterThan(0);
    for (const [, file = '', title = ''] of shown) {
      expect(existsSync(root + file), file).toBe(true);
      expect(readFileSync(root + file, 'utf8'), file).toContain(title);
    }
  }
});

/** The commands that a person runs, which go to the server that this person names. */
const COMMANDS = ['api/client.ts', 'api/archive/store.ts'];
/** Serves the metrics. */
const SERVING = ['worker/metrics/serve.ts'];

test('the server and the worker call nobody by HTTP', () => {
  const sources = ['api', 'worker', 'db'].flatMap((folder) =>
    (readdirSync(root + folder, { recursive: true }) as string[])
      .filter((name) => name.endsWith('.ts'))
      .map((name) => `${folder}/${name}`),
  );
  expect(sources.length).toBeGreaterThan(200);
  const calling = sources.filter((file) =>
    /(?<![.\w])fetch\(|from '(node:https?|node:tls|undici)'/.test(readFileSync(root + file, 'utf8')),
  );
  expect(calling.sort()).toEqual([...COMMANDS, ...SERVING].sort());
});
