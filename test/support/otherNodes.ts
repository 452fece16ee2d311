import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

// The tests that stand on Node itself (HTTP, threads, processes, both databases) by other releases of it:
// npm run test:nodes [-- 22 24]. The npm registry has each release as a package.

const RELEASES = ['22', '24'];
/** The engine's own tests are arithmetic, which no release changes; its threads and the examples are in these. */
const BOTH = ['contract', 'looms', 'quotes', 'requests', 'sheets', 'streams', 'tables'].map(
  (name) => `test/api/${name}`,
);
const TESTS = [
  ['--project', 'embedded', ...BOTH, 'test/db', 'test/worker', 'test/faults/folder.embedded'],
  [
    '--project',
    'service',
    ...BOTH,
    'test/worker',
    ...['start', 'workers', 'redisAway', 'npmStop', 'hangUp'].map((name) => `test/faults/${name}`),
  ],
];
const COUNT = /^(\d+) passed, (\d+) failed, (\d+) skipped$/gm;

const root = fileURLToPath(new URL('../../', import.meta.url));
const vitest = join(root, 'node_modules/vitest/vitest.mjs');
const sum = [0, 0, 0];
const add = (counts: number[]) => counts.forEach((count, at) => (sum[at] = (sum[at] ?? 0) + count));

const given = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'loomwright-nodes-'));
try {
  for (const release of given.length > 0 ? given : RELEASES) testBy(release);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${sum[0]} passed, ${sum[1]} failed, ${sum[2]} skipped`);
process.exitCode = sum[1] === 0 ? 0 : 1;

function testBy(release: string): void {
  const name = `node-${process.platform}-${process.arch}`;
  const prefix = join(folder, release);
  const install = [
    'install',
    '--prefix',
    prefix,
    '--no-save',
    '--no-audit',
    '--no-fund',
    `${name}@${release}`,
  ];
  if (spawnSync('npm', install, { cwd: folder, stdio: 'inherit' }).status !== 0) {
    console.log(`1 skipped: the npm registry gave no Node ${release} for ${name}`);
    return add([0, 0, 1]);
  }
  const bin = join(prefix, 'node_modules', name, 'bin');
  const node = join(bin, 'node');
  console.log(`Node ${spawnSync(node, ['--version'], { encoding: 'utf8' }).stdout.trim()}:`);
  for (const tests of TESTS) {
    const run = spawnSync(node, [vitest, 'run', ...tests], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      env: { ...process.env, PATH: `${bin}:${process.env['PATH'] ?? ''}` },
    });
    const said = `${run.stdout}${run.stderr}`;
    const [, ...counts] = [...said.matchAll(COUNT)].at(-1) ?? ['', '0', '1', '0'];
    add(counts.map(Number));
    console.log(said.replaceAll(COUNT, 'by this release: $&'));
  }
}
