import { spawnSync } from 'node:child_process';
import { mkdtempSync, existsSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Figure } from '../support/figures.ts';

// What the service stands, in figures: npm run measure -- [--long] [FILES]. Runs the fault tests and the
// generated requests, and prints what they noted.

const GIVEN = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'loomwright-figures-'));
const file = join(folder, 'figures.jsonl');
const vitest = fileURLToPath(new URL('../../node_modules/vitest/vitest.mjs', import.meta.url));

try {
  const files = GIVEN.filter((word) => word !== '--long');
  const run = spawnSync(
    process.execPath,
    [vitest, 'run', ...(files.length > 0 ? files : ['test/faults', 'test/api/malformed'])],
    {
      stdio: 'inherit',
      env: {
        ...process.env,
        LOOMWRIGHT_FIGURES: file,
        ...(GIVEN.includes('--long') ? { LOOMWRIGHT_LONG: '1' } : {}),
      },
    },
  );
  const figures = existsSync(file)
    ? readFileSync(file, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line) as Figure)
    : [];
  const processor = cpus()[0]?.model.trim() ?? 'unknown';
  console.log(
    `\nMeasured on ${new Date().toISOString().slice(0, 10)}: ${cpus().length} cores (${processor}), ` +
      `${Math.round(totalmem() / 1024 ** 3)} GiB of memory, Node ${process.version}.\n`,
  );
  console.log('| what was measured | figure |\n| --- | --- |');
  for (const { what, value, unit } of figures)
    console.log(`| ${what} | ${value.toLocaleString('en')} ${unit} |`);
  process.exitCode = run.status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
